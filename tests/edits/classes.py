"""Classes by hand to be edited: intervals, words with their pauses, and what was found."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from reviewkit.model import (
    Clock,
    Findings,
    Interval,
    Mark,
    MoveFinding,
    Piece,
    PointFinding,
    PromptFinding,
    Review,
    TimeCall,
    Transcript,
    Word,
)
from reviewkit.model import Cue as SpokenCue
from tests.findings.classes import Row, heard_class

NO_PROMPT = PromptFinding("missing")


def review(
    rows: list[Row],
    *,
    words: tuple[Word, ...] = (),
    marks: tuple[Mark, ...] = (),
    clock: Clock = "words",
    moves: tuple[MoveFinding, ...] = (),
    calls: tuple[TimeCall, ...] = (),
    profile: tuple[tuple[str, float | None], ...] = (),
    unsure_s: float = 0.0,
) -> Review:
    heard = heard_class(rows, words=words, marks=marks, clock=clock, unsure_s=unsure_s)
    heard = replace(heard, intervals=_rested(heard.intervals))
    transcript = Transcript("class.vtt", "webvtt", (SpokenCue(0, None, (Piece("hello"),)),))
    found = Findings((), moves, calls, (), (), (), (), profile)
    return Review(transcript, heard, found, ())


def _rested(intervals: tuple[Interval, ...]) -> tuple[Interval, ...]:
    """Measure the rests between intervals that happened one after the other."""
    rests = {
        one.id: max(0, after.start.at_ms - one.end.at_ms)
        for one, after in pairwise(intervals)
        if one.end and after.start
    }
    return tuple(replace(one, rest_after_ms=rests.get(one.id)) for one in intervals)


def said(text: str, at_s: float, *, step_ms: int = 400, spread_ms: int = 0) -> tuple[Word, ...]:
    """Say words at an even pace; each takes all but a twentieth of a second of its step."""
    at_ms = round(1000 * at_s)
    return tuple(
        Word(
            part, part.strip(".,!?").lower(), at_ms + place * step_ms,
            at_ms + (place + 1) * step_ms - 50, spread_ms,
        )
        for place, part in enumerate(text.split())
    )  # fmt: skip


def mark(kind: str, words: tuple[Word, ...], first: int, last: int, ref: str = "") -> Mark:
    text = " ".join(word.text for word in words[first : last + 1])
    value = 1.0 if kind == "move" else None
    return Mark(kind, first, last, words[first].start_ms, words[last].end_ms, text, ref, value, 0.8)


def move(name: str, *points: PointFinding) -> MoveFinding:
    return MoveFinding(name, points, NO_PROMPT, NO_PROMPT)
