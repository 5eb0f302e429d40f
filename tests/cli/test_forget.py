from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from typer.testing import CliRunner

from reviewkit.cli.app import app
from reviewkit.store import open_data, open_store
from tests.store.build import A_CORRECTION, A_REVIEW, titled

WORD = "xylophonically"
MINE = replace(
    A_REVIEW,
    title=f"Class {WORD}",
    # Long enough for pages of its own, which are freed whole.
    transcript=f"WEBVTT\n\n00:01.000 --> 00:02.000\n{WORD}\n".encode() * 2000,
    plan_text=f"Main: 40s work\n- {WORD}\n",
    document=f'{{"text": "{WORD}"}}' * 500,
)


@pytest.fixture
def data(tmp_path: Path) -> Path:
    with open_store(tmp_path) as store:
        store.add_review(titled("kept"))
        review_id = store.add_review(MINE)
        store.add_correction(review_id, replace(A_CORRECTION, interval=WORD))
        store.save_plan(WORD, MINE.plan_text)
    return tmp_path


def run(data: Path, *arguments: str, answers: str = "") -> tuple[int, str]:
    given = ["forget", *arguments, "--data", str(data)]
    done = CliRunner().invoke(app, given, input=answers)
    return done.exit_code, done.output


def is_word_on_disk(data: Path) -> bool:
    return any(WORD.encode() in path.read_bytes() for path in data.iterdir())


def test_no_byte_of_a_forgotten_class_is_left(data: Path) -> None:
    assert is_word_on_disk(data)
    status, said = run(data, f"class {WORD}", "--yes", "--with-plan")
    assert status == 0
    assert "Deleted and overwritten: review 2" in said
    assert "1 correction, and 1 saved plan." in said
    assert "cannot reach" in said
    assert not is_word_on_disk(data)
    with open_store(data) as store:
        assert [one.title for one in store.list_reviews()] == ["kept"]


def test_nothing_is_deleted_unless_the_coach_says_so(data: Path) -> None:
    status, said = run(data, "2", answers="n\nn\n")
    assert (status, is_word_on_disk(data)) == (1, True)
    assert "Nothing was deleted." in said


def test_the_saved_plan_is_asked_for(data: Path) -> None:
    _, said = run(data, "2", answers="n\ny\n")
    assert "Its saved plan stays." in said
    with open_store(data) as store:
        assert [one.title for one in store.list_plans()] == [WORD]
        assert len(store.list_reviews()) == 1


def test_a_program_that_reads_meanwhile_is_told_of(
    data: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("reviewkit.store.connecting.BUSY_TIMEOUT_S", 0.2)
    with closing(sqlite3.connect(data / "reviewkit.sqlite3", isolation_level=None)) as other:
        other.execute("BEGIN")
        other.execute("SELECT count(*) FROM reviews").fetchone()
        status, said = run(data, "2", "--yes", "--with-plan")
        other.execute("ROLLBACK")
    assert status == 0
    assert "another program has the file open" in said
    assert not is_word_on_disk(data)


def test_a_class_is_forgotten_on_a_server_too(database: str) -> None:
    with open_data(database) as store:
        store.add_review(titled("kept"))
        store.add_review(MINE)
        store.save_plan(WORD, MINE.plan_text)
    given = ["forget", f"class {WORD}", "--yes", "--with-plan", "--data", database]
    done = CliRunner().invoke(app, given)
    assert done.exit_code == 0
    assert "Deleted: review 2" in done.output
    assert "in the hands of whoever runs it" in done.output
    with open_data(database) as store:
        assert [one.title for one in store.list_reviews()] == ["kept"]
        assert not store.list_plans()


@pytest.mark.parametrize("which", ["77", "Nobody", "", "-1"])
def test_an_unknown_class_is_named(
    data: Path, which: str, capsys: pytest.CaptureFixture[str]
) -> None:
    from reviewkit.cli.app import main

    with pytest.raises(SystemExit) as left:
        main(["forget", "--data", str(data), "--", which])
    assert left.value.code == 2
    assert len(capsys.readouterr().err.splitlines()) == 1


def test_a_folder_without_a_store_stays_as_it_is(tmp_path: Path) -> None:
    from reviewkit.cli.app import main

    with pytest.raises(SystemExit) as left:
        main(["forget", "1", "--data", str(tmp_path / "none")])
    assert left.value.code == 2
    assert not (tmp_path / "none").exists()
