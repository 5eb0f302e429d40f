"""Cut talk into the stretches in which one thing is said: lines, and lines that run on."""

from __future__ import annotations

from dataclasses import dataclass

from reviewkit.lines import split_lines
from reviewkit.model import Line, Talk

# A line runs on into the next one when no more than this lies between them.
_RUNS_ON_MS = 350


@dataclass(frozen=True, slots=True)
class Utterance:
    """A line, or two lines without a pause between them (``is_joined``)."""

    line: Line
    words: tuple[str, ...]
    is_joined: bool = False


def split_utterances(talk: Talk) -> tuple[Utterance, ...]:
    """Give every line of a talk, and every pair of lines that run on, in order."""
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


def _utterance(talk: Talk, line: Line, *, is_joined: bool = False) -> Utterance:
    words = tuple(word.norm for word in talk.words[line.first : line.last + 1])
    return Utterance(line, words, is_joined)
