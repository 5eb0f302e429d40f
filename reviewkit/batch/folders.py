"""The folders of a batch: classes to review on one side, their documents on the other."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Iterator
from pathlib import Path, PurePosixPath
from typing import Any

from reviewkit.batch.jobs import Given, Job, Settings, holds_speech
from reviewkit.batch.pairing import Pair, Pairing, pair_files
from reviewkit.errors import InputError, ReviewkitError
from reviewkit.files import write_folder, write_whole
from reviewkit.read import read_bytes
from reviewkit.read.plan import MAX_BYTES as MAX_PLAN_BYTES
from reviewkit.read.transcript import MAX_BYTES as MAX_TRANSCRIPT_BYTES

FORMAT = "reviewkit.batch/1"
MARKER = "reviewkit-batch.json"
CLASSES = "classes"


def pair_folder(folder: Path, besides: Iterable[Path] = ()) -> Pairing:
    """Pair the transcripts and plans in a folder and the folders in it, hidden ones left out.

    Args:
        folder: Where the classes are.
        besides: Folders in it that hold results and no classes.

    Raises:
        InputError: It is no folder, cannot be read, or holds no transcript.
    """
    if not folder.is_dir():
        raise InputError(str(folder), None, "is no folder; name the folder that holds the classes")

    def has_speech(path: PurePosixPath) -> bool:
        try:
            return holds_speech(_given(folder, path, MAX_TRANSCRIPT_BYTES))
        except ReviewkitError:
            return False

    pairing = pair_files(_paths(folder, {one.resolve() for one in besides}), has_speech)
    if not pairing.pairs and not pairing.refused:
        raise InputError(str(folder), None, "holds no timed transcript; name another folder")
    return pairing


def _paths(folder: Path, besides: set[Path]) -> Iterator[PurePosixPath]:
    def refuse(error: OSError) -> None:
        raise InputError(str(error.filename), None, f"cannot be read: {error.strerror or error}")

    for inside, folders, names in os.walk(folder, onerror=refuse):
        here = Path(inside)
        folders[:] = [
            name
            for name in folders
            if not name.startswith(".") and (here / name).resolve() not in besides
        ]
        for name in names:
            if not name.startswith("."):
                yield PurePosixPath((here / name).relative_to(folder).as_posix())


def read_job(folder: Path, pair: Pair, settings: Settings) -> Job:
    """Read the files of a class.

    Raises:
        InputError: One of them cannot be read.
    """
    return Job(
        pair.name,
        _given(folder, pair.transcript, MAX_TRANSCRIPT_BYTES),
        _given(folder, pair.plan, MAX_PLAN_BYTES) if pair.plan else None,
        settings,
    )


def _given(folder: Path, path: PurePosixPath, max_bytes: int) -> Given:
    return Given(path.name, read_bytes(folder.joinpath(*path.parts), max_bytes))


class Library:
    """The folder that a batch writes: a document for each class, and the summary of all.

    Attributes:
        folder: Where it is.
    """

    def __init__(self, folder: Path) -> None:
        """Take a folder that is missing, empty, or that an earlier batch has written.

        Raises:
            InputError: It holds something else, or cannot be written.
        """
        self.folder = folder
        if folder.exists() and not folder.is_dir():
            raise InputError(str(folder), None, "is a file; name a folder")
        if folder.is_dir() and any(folder.iterdir()) and not (folder / MARKER).is_file():
            raise InputError(
                str(folder), None, "holds files that no batch has written; name a new folder"
            )
        try:
            (folder / CLASSES).mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise InputError(
                str(folder), None, f"cannot be written: {error.strerror or error}"
            ) from None
        write_whole(folder / MARKER, json.dumps({"format": FORMAT}) + "\n", overwrite=True)

    def path_of(self, name: str) -> Path:
        """Give the place of a class's document."""
        return self.folder.joinpath(CLASSES, *PurePosixPath(f"{name}.json").parts)

    def has(self, name: str, digest: str) -> bool:
        """Tell whether a class was reviewed before from the very same things."""
        try:
            return bool(self.read(name)["batch"]["digest"] == digest)
        except (OSError, ValueError, KeyError, TypeError):
            return False

    def read(self, name: str) -> dict[str, Any]:
        """Read the document of a class.

        Raises:
            OSError: There is none, or it cannot be read.
            ValueError: It is no JSON.
        """
        document: dict[str, Any] = json.loads(self.path_of(name).read_text("utf-8"))
        return document

    def write(self, name: str, text: str) -> None:
        """Write the document of a class, whole or not at all."""
        path = self.path_of(name)
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, text, overwrite=True)

    def drop(self, name: str) -> None:
        """Delete the document of a class that cannot be reviewed any more, if there is one."""
        self.path_of(name).unlink(missing_ok=True)

    def write_summary(self, files: dict[str, str]) -> None:
        """Write the summary's files by name, all of them or none."""
        write_folder(self.folder, dict(files), overwrite=True)
