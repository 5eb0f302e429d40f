"""Cut talk into the stretches in which one thing is said.

With a fine clock these are lines, and lines that run on. A coarse clock knows no pauses,
so that a line may begin in the middle of a cue: there, windows of words that overlap
make sure that some stretch holds each cue and not much else.
"""

from __future__ import annotations

from dataclasses import dataclass

from reviewkit.language.lines import split_lines
from reviewkit.model import Line, Talk
from reviewkit.once import once_for

# A line runs on into the next one when no more than this lies between them.
_RUNS_ON_MS = 350
_WINDOW_WORDS = 11
_WINDOW_STEP = 4


@dataclass(frozen=True, slots=True)
class Utterance:
    """A line, or two lines without a pause between them (``is_joined``)."""

    line: Line
    words: tuple[str, ...]
    is_joined: bool = False


@once_for(4)
def split_utterances(talk: Talk) -> tuple[Utterance, ...]:
    """Give lines, pairs of lines that run on, and windows of longer runs.

    Returns:
        The windows first, then the lines and pairs, each in the order of the talk; where
        the clock knows no pauses, the windows alone.
    """
    windows = tuple(window for run in _runs(talk) for window in _windows(talk, *run))
    return windows if talk.clock == "blocks" else (*windows, *_lines(talk))


@once_for(4)
def split_cues(talk: Talk) -> tuple[Utterance, ...]:
    """Give each stretch once: the lines, or the windows where the clock is coarse."""
    if talk.clock == "blocks":
        return split_utterances(talk)
    return tuple(one for one in _lines(talk) if not one.is_joined)


def windows_of(talk: Talk, words: int) -> tuple[Utterance, ...]:
    """Give overlapping windows of so many words over the whole talk."""
    last = len(talk.words) - 1
    return _windows(talk, 0, last, words) if talk.words else ()


@once_for(4)
def _lines(talk: Talk) -> tuple[Utterance, ...]:
    """Give every line of a talk, and every pair of lines that run on."""
    lines = split_lines(talk)
    found = []
    for place, line in enumerate(lines):
        found.append(_utterance(talk, line))
        if place + 1 < len(lines) and lines[place + 1].start_ms - line.end_ms < _RUNS_ON_MS:
            after = lines[place + 1]
            text = f"{line.text} {after.text}"
            joined = Line(line.first, after.last, line.start_ms, after.end_ms, text)
            found.append(_utterance(talk, joined, is_joined=True))
    return tuple(found)


def _runs(talk: Talk) -> tuple[tuple[int, int], ...]:
    """Give the first and last word of each run of words without a pause."""
    words = talk.words
    if not words:
        return ()
    starts = [
        at
        for at in range(len(words))
        if at == 0
        or (talk.clock != "blocks" and words[at].start_ms - words[at - 1].end_ms >= _RUNS_ON_MS)
    ]
    return tuple(zip(starts, [*(at - 1 for at in starts[1:]), len(words) - 1], strict=True))


def _windows(
    talk: Talk, first: int, last: int, words: int = _WINDOW_WORDS
) -> tuple[Utterance, ...]:
    """Give overlapping windows of a run; a run that fits into one window only where it must."""
    if last - first < words and talk.clock != "blocks":
        return ()
    found = []
    for start in range(first, max(first, last - words + _WINDOW_STEP) + 1, _WINDOW_STEP):
        inside = talk.words[start : min(start + words, last + 1)]
        text = " ".join(word.text for word in inside)
        end = start + len(inside) - 1
        line = Line(start, end, inside[0].start_ms, inside[-1].end_ms, text)
        found.append(_utterance(talk, line))
    return tuple(found)


def _utterance(talk: Talk, line: Line, *, is_joined: bool = False) -> Utterance:
    words = tuple(word.norm for word in talk.words[line.first : line.last + 1])
    return Utterance(line, words, is_joined)
