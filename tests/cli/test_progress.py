from __future__ import annotations

import json
from pathlib import Path

import pandas as pd
import pytest

from reviewkit.cli.app import main
from reviewkit.store import open_data, open_store
from tests.progress.build import a_document, to_keep


@pytest.fixture
def data(tmp_path: Path) -> Path:
    with open_store(tmp_path / "data") as store:
        for number in range(1, 4):
            store.add_review(to_keep(number, a_document(timing=10 * number)))
    return tmp_path / "data"


def run(*arguments: str) -> int:
    with pytest.raises(SystemExit) as left:
        main(["progress", *arguments])
    return int(left.value.code or 0)


def test_progress_is_printed(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("--data", str(data)) == 0
    assert "3 classes so far" in capsys.readouterr().out


def test_all_files_are_written_and_written_again(data: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    kinds = ("json", "csv", "parquet", "html")
    wanted = [part for kind in kinds for part in (f"--{kind}", str(out / f"year.{kind}"))]
    for _ in range(2):
        assert run("--data", str(data), *wanted) == 0
    assert sorted(path.name for path in out.iterdir()) == [
        "year-points.csv", "year-points.parquet", "year.csv", "year.html", "year.json",
        "year.parquet",
    ]  # fmt: skip
    assert len(pd.read_parquet(out / "year.parquet")) == 3


def test_classes_on_a_server_are_looked_at_too(
    database: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with open_data(database) as store:
        for number in range(1, 4):
            store.add_review(to_keep(number, a_document(timing=10 * number)))
    assert run("--data", database) == 0
    assert "3 classes so far" in capsys.readouterr().out


def test_json_is_printed_alone(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("--data", str(data), "--json", "-") == 0
    assert len(json.loads(capsys.readouterr().out)["classes"]) == 3


def test_two_classes_are_compared(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("--data", str(data), "--compare", "1", "class 3") == 0
    assert "+20" in capsys.readouterr().out


def test_a_comparison_is_written_as_a_page(data: Path, tmp_path: Path) -> None:
    page = tmp_path / "two.html"
    assert run("--data", str(data), "--compare", "1", "3", "--html", str(page)) == 0
    assert "Side by side" in page.read_text("utf-8")


def test_a_comparison_is_no_table(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("--data", str(data), "--compare", "1", "3", "--csv", "two.csv") == 2
    assert "--compare is printed, or written with --html" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "problem"),
    [
        (["--compare", "1", "nobody"], "nobody: is neither the number nor the title"),
        (["--html", "nowhere/at/all.html"], "there is no folder"),
    ],
)
def test_bad_options_are_one_line(
    data: Path, arguments: list[str], problem: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("--data", str(data), *arguments) == 2
    error = capsys.readouterr().err
    assert problem in error
    assert len(error.splitlines()) == 1


def test_a_folder_without_reviews_is_not_made(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("--data", str(tmp_path / "none")) == 2
    assert "keeps no reviews yet" in capsys.readouterr().err
    assert not (tmp_path / "none").exists()
