"""The records that the screen of a review is filled with."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from reviewkit.report.script import Kind, Stretch

Tone = Literal["", "off", "open"]


@dataclass(frozen=True, slots=True)
class Moment:
    """A moment of the class and the line of the talk it falls into."""

    at_ms: int
    clock: str
    line: int


@dataclass(frozen=True, slots=True)
class Said:
    """Someone's words, in quotation marks, and when they were said."""

    words: str
    at: Moment


@dataclass(frozen=True, slots=True)
class Verdict:
    """A verdict in a word or two, and in ``note`` what the coach did to it, if anything."""

    word: str
    tone: Tone = ""
    note: str = ""
    is_aside: bool = False


@dataclass(frozen=True, slots=True)
class FixView:
    """Something to do, with the moment and the interval it is about."""

    what: str
    how: str
    at: Moment | None
    item: str
    number: int | None


@dataclass(frozen=True, slots=True)
class ScoreView:
    """A score with the parts it is made from: name, figure, what it counts."""

    name: str
    figure: str
    is_none: bool
    parts: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class IntervalView:
    """One line of the table of intervals."""

    item: str
    number: int
    move: str
    round: int
    begins: Moment | None
    ends: Moment | None
    planned: str
    actual: str
    verdict: Verdict
    rest: str
    cues_per_min: str
    silence: str


@dataclass(frozen=True, slots=True)
class BlockView:
    """The intervals that follow each other in one block."""

    name: str
    intervals: tuple[IntervalView, ...]


@dataclass(frozen=True, slots=True)
class PointView:
    """One point of a move with its words; ``say`` and ``why`` are for missing ones."""

    item: str
    point: str
    kind: str
    verdict: Verdict
    said: tuple[Said, ...]
    say: str
    why: str


@dataclass(frozen=True, slots=True)
class MoveView:
    """The points of one move that one side asks for."""

    move: str
    points: tuple[PointView, ...]


@dataclass(frozen=True, slots=True)
class PromptView:
    """Whether a move had its breathing prompt, and an easier or harder way."""

    move: str
    breathing: Verdict
    breathing_said: tuple[Said, ...]
    options: Verdict
    options_said: tuple[Said, ...]


@dataclass(frozen=True, slots=True)
class CallView:
    """A claim about time left."""

    item: str
    said: Said
    interval_item: str
    number: int | None
    claimed: str
    left: str
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class PromiseView:
    """A promise and what the class was."""

    item: str
    said: Said
    about: str
    promised: str
    found: str
    verdict: Verdict
    why: str


@dataclass(frozen=True, slots=True)
class FlagView:
    """Something else worth a look."""

    item: str
    name: str
    at: Moment
    place: str
    words: str
    other: Said | None
    why: str
    instead: str
    note: str


@dataclass(frozen=True, slots=True)
class LineView:
    """A line of the talk; ``kinds`` are all kinds of things heard in it."""

    number: int
    at: Moment
    stretches: tuple[Stretch, ...]
    kinds: tuple[Kind, ...]


@dataclass(frozen=True, slots=True)
class PassageView:
    """The lines of one interval, or those between two, and all kinds heard in them."""

    title: str
    number: int | None
    item: str
    begins: Moment | None
    lines: tuple[LineView, ...]
    kinds: tuple[Kind, ...]


@dataclass(frozen=True, slots=True)
class ReviewView:
    """The whole screen of a review, apart from the drawing and the corrections."""

    facts: tuple[tuple[str, str], ...]
    warnings: tuple[str, ...]
    verdict: str
    fixes: tuple[FixView, ...]
    scores: tuple[ScoreView, ...]
    blocks: tuple[BlockView, ...]
    asked_points: tuple[MoveView, ...]
    suggested_points: tuple[MoveView, ...]
    prompts: tuple[PromptView, ...]
    calls: tuple[CallView, ...]
    promises: tuple[PromiseView, ...]
    flags: tuple[FlagView, ...]
    passages: tuple[PassageView, ...]
    kinds: tuple[Kind, ...]
    heard_kinds: frozenset[Kind]
