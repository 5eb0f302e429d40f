from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path, PurePosixPath

import pytest

from reviewkit.batch.folders import pair_folder, read_job
from reviewkit.batch.jobs import Settings
from reviewkit.batch.sent import NAMED_TWICE, OF_NO_USE, Sent, pair_sent, read_sent
from reviewkit.errors import InputError
from tests.batch.classes import PLAN, captions, write_classes


@dataclass(frozen=True)
class File:
    name: str
    data: bytes
    is_too_large: bool = False

    def checked(self) -> bytes:
        if self.is_too_large:
            raise InputError(self.name, None, "is larger than 20 MB")
        return self.data


TALK = captions()


def refused(*files: Sent) -> dict[str, str]:
    pairing, _ = pair_sent(files)
    return {one.path.as_posix(): one.reason for one in pairing.refused}


def test_files_that_were_sent_are_reviewed_as_those_of_a_folder(tmp_path: Path) -> None:
    folder = write_classes(tmp_path / "in", "a", "b")
    (folder / "a-plan.txt").write_text("Main: 40s work, 20s rest\n- Squat\n")
    (folder / "c.txt").write_text("[0:40] and press up\n[1:20] and rest\n")
    (folder / "d-plan.csv").write_text(PLAN)
    sent = [File(one.name, one.read_bytes()) for one in folder.iterdir()]
    pairing, files = pair_sent(sent)
    assert pairing == pair_folder(folder)
    settings = Settings()
    for pair in pairing.pairs:
        assert read_sent(files, pair, settings) == read_job(folder, pair, settings)


def test_the_same_file_twice_is_one_and_two_of_one_name_are_none() -> None:
    pairing, _ = pair_sent([File("a.vtt", TALK), File("a.vtt", TALK)])
    assert [one.name for one in pairing.pairs] == ["a"]
    assert refused(File("a.vtt", TALK), File("a.vtt", TALK + b"\n")) == {"a.vtt": NAMED_TWICE}


@pytest.mark.parametrize("name", ["film.mp4", "file", ".vtt", "..vtt", ".."])
def test_a_file_of_another_kind_is_named(name: str) -> None:
    assert refused(File(name, b"x"), File("a.vtt", TALK)) == {name: OF_NO_USE}


def test_a_file_too_large_leaves_out_its_class_alone() -> None:
    large = File("b.vtt", TALK, is_too_large=True)
    unknown = File("c.txt", b"", is_too_large=True)
    pairing, files = pair_sent([File("a.vtt", TALK), large, unknown])
    assert [one.name for one in pairing.pairs] == ["a", "b"]
    assert [one.path for one in pairing.unused] == [PurePosixPath("c.txt")]
    assert read_sent(files, pairing.pairs[0], Settings()).transcript.data == TALK
    with pytest.raises(InputError, match="is larger than 20 MB"):
        read_sent(files, pairing.pairs[1], Settings())
