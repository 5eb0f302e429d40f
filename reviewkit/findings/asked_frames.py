"""Parse what a cue asks for; what it only supposes, sees or describes is left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from reviewkit.findings.cue_meeting import meet
from reviewkit.frames.grammar import Frame, FrameBook, are_opposite, parse_frames
from reviewkit.language.wordsets import word_set

# Words of the line before, when it runs on, in which the part may be named.
_LEAD_WORDS = 6
# What stands for the height of another part: who comes up on the toes lifts the heels.
_STANDS_FOR = {"weight:toes": ("heel", "height:up"), "sole:toes": ("heel", "height:up")}
# Heights that are known by another name for some parts.
_HEIGHT_OF = (("hipheight", word_set("hips glutes")), ("gaze", word_set("eyes face chin")))

# Words of place that ask for a height only right beside the part.
_LOOSE = word_set("up down")
# Fixed, and not at any height.
_STUCK = word_set("glued stuck planted nailed rooted pinned heavy welded")
_SUPPOSED_REACH = 6
_WHEN_IT_IS = frozenset(
    (when, it) for when in ("when", "once") for it in ("it's", "they're", "you're", "that's")
)
_ARE = word_set("they're it's you're he's she's are is")
_GONE = word_set("gone went")


def asked_frames(
    words: Sequence[str], book: FrameBook, *, lead: Sequence[str] = (), is_coarse: bool = False
) -> tuple[Frame, ...]:
    """Parse a cue into the frames that it asks for.

    Args:
        words: Lower-case words of the cue.
        book: The word lists.
        lead: Words of the line that runs on into the cue, which may name its part.
        is_coarse: Whether the words may hold two cues, each with a pole of its own.
    """
    before = list(lead[-_LEAD_WORDS:])
    found = (
        replace(frame, at=frame.at - len(before))
        for frame in parse_frames([*before, *words], book)
        if len(before) <= frame.at
    )
    frames = _renamed(_meant(tuple(found), words), words)
    return frames if is_coarse else _steady(frames)


def _meant(frames: Sequence[Frame], words: Sequence[str]) -> tuple[Frame, ...]:
    """Leave out what a cue only supposes, sees, or says too loosely to ask for it."""
    return tuple(
        frame
        for frame in frames
        if not (words[frame.at] in _LOOSE and frame.length == 1 and frame.gap > 1)
        and not _is_supposed(words, frame.at)
        and (frame.is_turned or not _is_seen(words, frame.at))
    )


def _is_supposed(words: Sequence[str], at: int) -> bool:
    """Tell whether "if" or "when it's" stands not far before a place, or "if" opens it all."""
    if words[0] == "if":
        return True
    before = words[max(0, at - _SUPPOSED_REACH) : at]
    return "if" in before or any(pair in _WHEN_IT_IS for pair in pairwise(before))


def _is_seen(words: Sequence[str], at: int) -> bool:
    """Tell whether a place is seen and not asked for: "they're flying out", "it's gone slack"."""
    before = words[max(0, at - 1) : at]
    is_doing = words[at].endswith("ing") and not _ARE.isdisjoint(before)
    return is_doing or not _GONE.isdisjoint(before)


def _renamed(frames: Sequence[Frame], words: Sequence[str]) -> tuple[Frame, ...]:
    """Add the axis that a height has by name where the part gives it one."""
    named = (
        replace(frame, pole=f"{axis}:{frame.pole.partition(':')[2]}")
        for frame in frames
        for axis, parts in _HEIGHT_OF
        if frame.axis == "height" and frame.close & parts and words[frame.at] not in _STUCK
    )
    implied = (
        replace(frame, pole=pole, parts=frozenset({part}), close=frozenset({part}))
        for frame in frames
        if (stands := _STANDS_FOR.get(frame.pole))
        for part, pole in [stands]
    )
    return (*frames, *named, *implied)


def _steady(frames: Sequence[Frame]) -> tuple[Frame, ...]:
    """Leave out what a cue names both ways without a "not": it describes a movement."""
    plain = [frame for frame in frames if not frame.is_turned]
    return tuple(
        frame
        for frame in frames
        if frame.is_turned
        or not any(
            are_opposite(frame, other) and (meeting := meet(frame, other)) and meeting.is_close
            for other in plain
        )
    )
