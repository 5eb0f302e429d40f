"""Tell transcripts from plans in a folder, and which plan is whose, by their names.

A transcript and a plan in the same folder belong together when their names are the same
once suffixes and words that only say what a file is ("-plan", ".captions", a language)
are left out; upper and lower case are one. A plan whose name is nothing else ("plan.csv")
holds for every transcript of its folder that has none of its own. Where two files could
be meant, none is taken.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import PurePosixPath
from typing import Literal

Kind = Literal["transcript", "plan", "either"]

_BY_SUFFIX: dict[str, Kind] = {
    ".vtt": "transcript",
    ".srt": "transcript",
    ".ttml": "transcript",
    ".xml": "transcript",
    ".json": "transcript",
    ".xlsx": "plan",
    ".csv": "either",
    ".tsv": "either",
    ".txt": "either",
}
_IS_PLAN = re.compile(r"(^|[ ._-])plan$", re.IGNORECASE)
_WHAT_IT_IS = re.compile(
    r"(^|[ ._-])(plan|captions?|subtitles?|transcript|words)$|\.[a-z]{2}(-[a-z]{2})?$",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Pair:
    """A class to review; paths are relative to the folder, its plan None where it has none."""

    transcript: PurePosixPath
    plan: PurePosixPath | None

    @property
    def name(self) -> str:
        """The transcript's path without its suffix; no other pair of a folder has it."""
        return self.transcript.with_suffix("").as_posix()


@dataclass(frozen=True, slots=True)
class Unpaired:
    """A file that was left out, and why: one clause without a full stop."""

    path: PurePosixPath
    reason: str


@dataclass(frozen=True, slots=True)
class Pairing:
    """What a folder holds, each part by name.

    Attributes:
        pairs: The classes.
        refused: Transcripts of which nobody can tell what they belong to.
        unused: Plans that are of no transcript's name.
    """

    pairs: tuple[Pair, ...]
    refused: tuple[Unpaired, ...]
    unused: tuple[Unpaired, ...]


def kind_by_name(path: PurePosixPath) -> Kind | None:
    """Tell what a file is as far as its name does; None when it is of no use here."""
    kind = _BY_SUFFIX.get(path.suffix.lower())
    return "plan" if kind == "either" and _IS_PLAN.search(path.stem) else kind


def key_of(path: PurePosixPath) -> str:
    """Give what a file shares with the others of its class.

    >>> key_of(PurePosixPath("spring/Monday.en.vtt")), key_of(PurePosixPath("monday-plan.csv"))
    ('monday', 'monday')
    """
    key, longer = path.stem.casefold(), ""
    while key != longer:
        key, longer = _WHAT_IT_IS.sub("", key), key
    return key


def pair_files(
    paths: Iterable[PurePosixPath], is_transcript: Callable[[PurePosixPath], bool]
) -> Pairing:
    """Pair the files of a folder and of those in it.

    Args:
        paths: Relative to the folder, in any order; files of other kinds are left alone.
        is_transcript: Tells by content, asked only of tables and texts whose names leave
            it open and that stand beside no transcript of their own name.
    """
    folders: dict[PurePosixPath, list[PurePosixPath]] = defaultdict(list)
    for path in sorted(paths):
        if kind_by_name(path):
            folders[path.parent].append(path)
    parts = [_pair_folder(inside, is_transcript) for inside in folders.values()]
    return Pairing(
        tuple(sorted((one for part in parts for one in part.pairs), key=lambda one: one.name)),
        tuple(one for part in parts for one in part.refused),
        tuple(one for part in parts for one in part.unused),
    )


def _pair_folder(
    paths: Sequence[PurePosixPath], is_transcript: Callable[[PurePosixPath], bool]
) -> Pairing:
    transcripts = {path for path in paths if kind_by_name(path) == "transcript"}
    taken = {key_of(path) for path in transcripts}
    transcripts |= {
        path
        for path in paths
        if kind_by_name(path) == "either" and key_of(path) not in taken and is_transcript(path)
    }
    by_key = _by_key(path for path in paths if path in transcripts)
    plans = _by_key(path for path in paths if path not in transcripts)
    pairs, refused = [], []
    for key, same in by_key.items():
        fitting = plans.get(key) or plans.get("", [])
        if len(same) > 1:
            refused += [Unpaired(one, _too_many("transcript", same, one)) for one in same]
        elif len(fitting) > 1:
            refused.append(Unpaired(same[0], _too_many("plan", fitting)))
        else:
            pairs.append(Pair(same[0], fitting[0] if fitting else None))
    used = {*by_key, ""} if any(key not in plans for key in by_key) else set(by_key)
    unused = [
        Unpaired(path, "is a plan, and no transcript beside it has its name")
        for key, same in plans.items()
        if key not in used
        for path in same
    ]
    return Pairing(tuple(pairs), tuple(refused), tuple(unused))


def _by_key(paths: Iterable[PurePosixPath]) -> dict[str, list[PurePosixPath]]:
    found: dict[str, list[PurePosixPath]] = defaultdict(list)
    for path in paths:
        found[key_of(path)].append(path)
    return found


def _too_many(
    what: str, same: Sequence[PurePosixPath], besides: PurePosixPath | None = None
) -> str:
    names = " and ".join(one.name for one in same if one != besides)
    if besides:
        return f"has the name of another {what}, {names}; keep one, or rename them"
    return f"has more than one {what}: {names}; keep one, or rename them"
