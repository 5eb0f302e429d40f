"""Files are written whole or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from reviewkit.errors import InputError
from reviewkit.files import write_folder, write_whole


def names(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))


def fail_on_move(monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    """Make moving the staged file of this name into place fail, as a full disk would."""
    real = Path.replace

    def replace(self: Path, target: Path) -> Path:
        if Path(target).name == name and "old" not in Path(target).parts:
            raise OSError(28, "No space left on device")
        return real(self, target)

    monkeypatch.setattr(Path, "replace", replace)


def test_a_file_is_written_as_given(tmp_path: Path) -> None:
    write_whole(tmp_path / "a.txt", "Pli\u00e9\n")
    write_whole(tmp_path / "b.bin", b"\x00\r\n")
    assert (tmp_path / "a.txt").read_bytes() == "Pli\u00e9\n".encode()
    assert (tmp_path / "b.bin").read_bytes() == b"\x00\r\n"
    assert names(tmp_path) == ["a.txt", "b.bin"]


def test_a_file_is_replaced_only_when_asked(tmp_path: Path) -> None:
    path = tmp_path / "a.txt"
    write_whole(path, "old")
    with pytest.raises(InputError, match="exists already; give --force to replace it"):
        write_whole(path, "new")
    assert path.read_text() == "old"
    write_whole(path, "new", overwrite=True)
    assert path.read_text() == "new"


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "real.txt").write_text("old")
    (tmp_path / "link.txt").symlink_to(tmp_path / "real.txt")
    write_whole(tmp_path / "link.txt", "new", overwrite=True)
    assert (tmp_path / "link.txt").is_symlink()
    assert (tmp_path / "real.txt").read_text() == "new"


def test_what_cannot_be_written_leaves_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "a.txt").write_text("old")
    fail_on_move(monkeypatch, "a.txt")
    with pytest.raises(InputError, match="cannot be written: No space left"):
        write_whole(tmp_path / "a.txt", "new", overwrite=True)
    assert names(tmp_path) == ["a.txt"]
    assert (tmp_path / "a.txt").read_text() == "old"


def test_places_where_no_file_can_be(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="there is no folder"):
        write_whole(tmp_path / "none" / "a.txt", "x")
    with pytest.raises(InputError, match="is a folder"):
        write_whole(tmp_path, "x")
    with pytest.raises(InputError, match="no regular file"):
        write_whole(Path("/dev/null"), "x")


def test_a_folder_is_made_with_all_its_files(tmp_path: Path) -> None:
    write_folder(tmp_path / "new" / "out", {"a.txt": "A", "sub/b.txt": b"B"})
    assert names(tmp_path) == [
        "new",
        "new/out",
        "new/out/a.txt",
        "new/out/sub",
        "new/out/sub/b.txt",
    ]


def test_other_files_of_a_folder_stay(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("mine")
    (tmp_path / "a.txt").write_text("old")
    with pytest.raises(InputError, match=r"a\.txt: exists already"):
        write_folder(tmp_path, {"b.txt": "B", "a.txt": "A"})
    assert names(tmp_path) == ["a.txt", "mine.txt"]
    write_folder(tmp_path, {"b.txt": "B", "a.txt": "A"}, overwrite=True)
    assert names(tmp_path) == ["a.txt", "b.txt", "mine.txt"]
    assert (tmp_path / "a.txt").read_text() == "A"


def test_when_one_file_fails_all_are_as_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "a.txt").write_text("old")
    fail_on_move(monkeypatch, "c.txt")
    with pytest.raises(InputError, match="cannot be written"):
        write_folder(tmp_path, {"a.txt": "A", "b.txt": "B", "c.txt": "C"}, overwrite=True)
    assert names(tmp_path) == ["a.txt"]
    assert (tmp_path / "a.txt").read_text() == "old"


@pytest.mark.parametrize("name", ["../a.txt", "/a.txt", "", "sub/../../a", "a\\b"])
def test_names_that_lead_out_of_the_folder_are_a_mistake(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match="no name of a file inside a folder"):
        write_folder(tmp_path, {name: "x"})


def test_a_file_in_the_place_of_the_folder(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("x")
    with pytest.raises(InputError, match="is a file; name a folder"):
        write_folder(tmp_path / "out", {"a.txt": "A"})
