from __future__ import annotations

from pathlib import Path

import pytest

from reviewkit.batch.folders import Library, pair_folder, read_job
from reviewkit.batch.jobs import Settings
from reviewkit.errors import InputError
from tests.batch.classes import write_classes


def test_hidden_and_result_folders_are_no_classes(tmp_path: Path) -> None:
    write_classes(tmp_path, "a")
    write_classes(tmp_path / ".hidden", "b")
    write_classes(tmp_path / "out", "c")
    write_classes(tmp_path / "deep" / "er", "d")
    found = pair_folder(tmp_path, [tmp_path / "out"])
    assert [one.name for one in found.pairs] == ["a", "deep/er/d"]
    read = read_job(tmp_path, found.pairs[1], Settings())
    assert read.name == "deep/er/d"
    assert read.plan is not None
    assert read.plan.name == "plan.csv"


def test_a_folder_without_classes_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="holds no timed transcript"):
        pair_folder(tmp_path)
    with pytest.raises(InputError, match="is no folder"):
        pair_folder(tmp_path / "nowhere")


def test_a_folder_with_other_files_is_never_written(tmp_path: Path) -> None:
    (tmp_path / "own.txt").write_text("mine")
    with pytest.raises(InputError, match="holds files that no batch has written"):
        Library(tmp_path)
    assert [one.name for one in tmp_path.iterdir()] == ["own.txt"]
    with pytest.raises(InputError, match="is a file"):
        Library(tmp_path / "own.txt")


def test_a_document_is_known_by_its_digest(tmp_path: Path) -> None:
    library = Library(tmp_path / "out")
    library.write("spring/a", '{"batch": {"digest": "one"}}')
    again = Library(tmp_path / "out")
    assert again.has("spring/a", "one")
    assert not again.has("spring/a", "two")
    assert not again.has("b", "one")
    library.path_of("spring/a").write_text("{")
    assert not again.has("spring/a", "one")
    again.drop("spring/a")
    again.drop("spring/a")
    assert not library.path_of("spring/a").exists()
