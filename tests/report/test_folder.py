from __future__ import annotations

from pathlib import Path

import pytest

from reviewkit.errors import InputError
from reviewkit.files import write_folder
from reviewkit.report.folder import report_files
from tests.report.sample import sample_review

NAMES = {"review.html", "review.md", "review.json", "intervals.csv", "moves.csv"}


def test_a_folder_holds_every_form(tmp_path: Path) -> None:
    write_folder(tmp_path / "report", report_files(sample_review()))
    assert {path.name for path in (tmp_path / "report").iterdir()} == NAMES


def test_a_folder_that_cannot_be_written_stays_as_it_was(tmp_path: Path) -> None:
    (tmp_path / "moves.csv").mkdir()
    with pytest.raises(InputError, match="is a folder"):
        write_folder(tmp_path, report_files(sample_review()), overwrite=True)
    assert [path.name for path in tmp_path.iterdir()] == ["moves.csv"]
