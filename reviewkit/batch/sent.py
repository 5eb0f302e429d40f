"""Classes whose files are in memory, as a page is sent them, in place of a folder."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import PurePosixPath
from typing import Protocol

from reviewkit.batch.jobs import Given, Job, Settings, holds_speech
from reviewkit.batch.pairing import Pair, Pairing, Unpaired, kind_by_name, pair_files
from reviewkit.errors import InputError

NAMED_TWICE = "was sent twice, each time with another content; keep one, or rename them"
OF_NO_USE = "is neither a transcript nor a plan by the end of its name"


class Sent(Protocol):
    """A file as it was sent; its name is without folders."""

    @property
    def name(self) -> str:
        """The name."""

    def checked(self) -> bytes:
        """Give the bytes.

        Raises:
            InputError: There were too many of them.
        """


def _by_path(files: Iterable[Sent]) -> tuple[dict[PurePosixPath, Sent], tuple[Unpaired, ...]]:
    """Put files under their names; where several have one name and differ, all are refused."""
    same: dict[str, list[Sent]] = defaultdict(list)
    for one in files:
        same[one.name].append(one)
    by_path, refused = {}, []
    for name, sent in same.items():
        path = PurePosixPath(name)
        if any(_bytes(one) != _bytes(sent[0]) for one in sent):
            refused.append(Unpaired(path, NAMED_TWICE))
        elif name.startswith(".") or kind_by_name(path) is None:
            refused.append(Unpaired(path, OF_NO_USE))
        else:
            by_path[path] = sent[0]
    return by_path, tuple(refused)


def _bytes(sent: Sent) -> bytes | None:
    try:
        return sent.checked()
    except InputError:
        return None


def pair_sent(files: Iterable[Sent]) -> tuple[Pairing, dict[PurePosixPath, Sent]]:
    """Pair transcripts and plans by their names as those of one folder.

    Returns:
        The pairs with all that was refused, and the files by the paths in it.
    """
    by_path, refused = _by_path(files)

    def is_transcript(path: PurePosixPath) -> bool:
        data = _bytes(by_path[path])
        return data is not None and holds_speech(Given(path.name, data))

    pairing = pair_files(by_path, is_transcript)
    return replace(pairing, refused=(*pairing.refused, *refused)), by_path


def read_sent(files: Mapping[PurePosixPath, Sent], pair: Pair, settings: Settings) -> Job:
    """Read the files of a class.

    Raises:
        InputError: One of them is too large.
    """
    transcript = Given(pair.transcript.name, files[pair.transcript].checked())
    plan = Given(pair.plan.name, files[pair.plan].checked()) if pair.plan else None
    return Job(pair.name, transcript, plan, settings)
