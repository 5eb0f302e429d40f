from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Generator, Iterable
from pathlib import Path

import pytest

import reviewkit.batch.pool
from reviewkit.batch.jobs import Job, Outcome, review_job
from reviewkit.cli.app import main
from reviewkit.store import open_store
from tests.batch.classes import captions, write_classes


@pytest.fixture(autouse=True)
def _in_one_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """Review in this process: what other processes do is tested elsewhere."""

    def here(jobs: Iterable[Job], _cores: int) -> Generator[Outcome, None, None]:
        yield from map(review_job, jobs)

    monkeypatch.setattr(reviewkit.batch.pool, "review_on_cores", here)


def run(*arguments: str | Path) -> int:
    with pytest.raises(SystemExit) as left:
        main(["batch", *map(str, arguments)])
    return int(left.value.code or 0)


def test_a_folder_is_reviewed_and_summed_up(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder, out = write_classes(tmp_path / "in", "a", "b"), tmp_path / "out"
    (folder / "bad.vtt").write_text("nothing")
    assert run(folder, "--out", out) == 0
    said = capsys.readouterr()
    assert "2 reviewed, 0 done before, 1 left out." in said.out
    assert "bad: bad.vtt: no timed speech" in said.err
    summary = json.loads((out / "summary.json").read_text("utf-8"))
    assert summary["classes"] == 2
    assert [one["name"] for one in summary["failed"]] == ["bad"]
    assert (out / "classes" / "a.json").is_file()
    assert run(folder, "--out", out) == 0
    assert "0 reviewed, 2 done before, 1 left out." in capsys.readouterr().out


def test_reviews_are_kept_once_as_the_page_keeps_them(tmp_path: Path) -> None:
    folder, out, data = write_classes(tmp_path / "in", "a"), tmp_path / "out", tmp_path / "data"
    for _ in range(2):
        assert run(folder, "--out", out, "--data", data) == 0
    with open_store(data) as store:
        (kept,) = store.list_reviews()
        assert kept.title == "a"
        document = store.get_document(kept.id)
        assert document is not None
        assert "batch" not in json.loads(document)
        store.forget(kept.id)
    assert run(folder, "--out", out, "--data", data) == 0
    with open_store(data) as store:
        assert len(store.list_reviews()) == 1


def test_own_words_on_the_page_are_listened_for(tmp_path: Path) -> None:
    folder, data = write_classes(tmp_path / "in", "a"), tmp_path / "data"
    (folder / "a.vtt").write_bytes(captions("and flumox"))
    with open_store(data) as store:
        store.add_lexicon_line("moves.csv", "Flumoxing,flumox,squat,,,,")
    assert run(folder, "--out", tmp_path / "out", "--data", data) == 0
    with open_store(data) as store:
        store.add_lexicon_line("moves.csv", "Wumbling,wumble,squat,,,,")
    assert run(folder, "--out", tmp_path / "out", "--data", data) == 0
    with open_store(data) as store:
        assert len(store.list_reviews()) == 2


def test_no_class_at_all_is_an_error(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "bad.vtt").write_text("nothing")
    assert run(tmp_path, "--out", tmp_path / "out") == 2
    assert "bad.vtt" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "problem"),
    [
        (["--tolerance", "some"], "is no length of time"),
        (["--lexicon", "nowhere"], "is no folder"),
        (["--lexicon", "nowhere", "--data", "data"], "does not go with --data"),
        (["--scheduler", "host"], "is no address of a Dask scheduler"),
        (["--scheduler", "host:1", "--cores", "2"], "does not go with --scheduler"),
        (["--data", "http://host"], "is neither a folder nor the address of a database"),
    ],
)
def test_bad_options_are_one_line_and_write_nothing(
    arguments: list[str], problem: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder, out = write_classes(tmp_path / "in", "a"), tmp_path / "out"
    assert run(folder, "--out", out, *arguments) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert problem in line
    assert not out.exists()


def test_a_missing_extra_is_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    monkeypatch.delitem(sys.modules, "reviewkit.batch.cluster", raising=False)
    folder, out = write_classes(tmp_path / "in", "a"), tmp_path / "out"
    assert run(folder, "--out", out, "--scheduler", "host:8786") == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert "pip install 'reviewkit[cluster]'" in line
    assert not out.exists()


def test_stopping_leaves_whole_documents_and_no_process(tmp_path: Path) -> None:
    folder, out = write_classes(tmp_path / "in", *map(str, range(300))), tmp_path / "out"
    command = [
        *(sys.executable, "-m", "reviewkit", "batch"),
        *(str(folder), "--out", str(out), "--cores", "1"),
    ]
    program = subprocess.Popen(command, stderr=subprocess.PIPE, text=True, start_new_session=True)
    while not list(out.glob("classes/*.json")):
        assert program.poll() is None
        time.sleep(0.05)
    program.send_signal(signal.SIGINT)
    _, said = program.communicate(timeout=60)
    assert program.returncode == 130
    assert "the same command goes on from there" in said
    assert "Traceback" not in said
    written = list((out / "classes").iterdir())
    assert 1 <= len(written) < 300
    for path in written:
        assert json.loads(path.read_text("utf-8"))["batch"]["name"] == path.stem
    assert _is_gone(program.pid)


def _is_gone(group: int) -> bool:
    """Tell whether every process of a group ends; Python's own helper takes a moment."""
    for _ in range(200):
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.05)
    return False
