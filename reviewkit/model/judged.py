"""What follows: every judgement, and the review that holds them all.

``by_coach`` marks what a coach has put right, ``set_aside`` holds the coach's reason for
not taking a finding up; such a finding stays to be seen and counts for nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from reviewkit.model.corrected import Correction
from reviewkit.model.heard import HeardClass, Label
from reviewkit.model.lexicon import PointKind
from reviewkit.model.talk import Transcript

PointVerdict = Literal["said", "late", "missing"]
CallVerdict = Literal["right", "wrong", "unclear"]
PromiseVerdict = Literal["kept", "broken", "unclear"]


@dataclass(frozen=True, slots=True)
class Evidence:
    """Words behind a verdict and when they were said."""

    at_ms: int
    text: str


@dataclass(frozen=True, slots=True)
class PointFinding:
    """Whether one point of a move was given in time."""

    point: str
    kind: PointKind
    asked_by: Literal["plan", "lexicon"]
    verdict: PointVerdict
    evidence: tuple[Evidence, ...] = ()
    point_id: str = ""
    why: str = ""
    line: str = ""
    by_coach: bool = False
    set_aside: str = ""


@dataclass(frozen=True, slots=True)
class PromptFinding:
    """Whether prompts of one kind (breath, easier and harder ways) were given for a move.

    A move that was never done lacks nothing: its verdict is ``not done``.
    """

    verdict: Literal["said", "missing", "not done"]
    evidence: tuple[Evidence, ...] = ()


@dataclass(frozen=True, slots=True)
class MoveFinding:
    """All that was said about one planned move."""

    move: str
    points: tuple[PointFinding, ...]
    breathing: PromptFinding
    options: PromptFinding


@dataclass(frozen=True, slots=True)
class TimeCall:
    """A claim about time left and its truth; ``interval`` is an interval's id."""

    at_ms: int
    text: str
    interval: str | None
    claimed_left_ms: int | None
    actual_left_ms: int | None
    verdict: CallVerdict
    set_aside: str = ""


# What is promised in seconds, where it is promised as a number.
PROMISED_IN_SECONDS = ("work", "rest", "warm_up", "cool_down")


@dataclass(frozen=True, slots=True)
class Promise:
    """What the coach said the class would be, against what it was."""

    what: str
    at_ms: int
    text: str
    said: float | str | None
    found: float | str | None
    verdict: PromiseVerdict
    why: str = ""
    set_aside: str = ""


@dataclass(frozen=True, slots=True)
class Flag:
    """Something else worth a look, with its words."""

    kind: str
    at_ms: int
    move: str
    round: int | None
    text: str
    why: str
    interval: str | None = None
    other_at_ms: int | None = None
    other_text: str = ""
    instead: str = ""
    set_aside: str = ""


@dataclass(frozen=True, slots=True)
class Score:
    """0 to 100, or None when there was nothing to judge; ``parts`` are what it is made of."""

    value: float | None
    parts: tuple[tuple[str, float | None], ...]


@dataclass(frozen=True, slots=True)
class Fix:
    """Something to do about the class, rank 1 first."""

    rank: int
    what: str
    how: str
    at_ms: int | None
    interval: str | None


@dataclass(frozen=True, slots=True)
class IntervalTalk:
    """How much was said in one interval, counted by label; rates are per minute."""

    words: int
    cues: int
    cues_per_min: float | None
    longest_silence_ms: int
    labels: tuple[tuple[Label, int], ...]


@dataclass(frozen=True, slots=True)
class Findings:
    """Every judgement on a class; ``talk`` has one entry per interval, same order."""

    talk: tuple[IntervalTalk | None, ...]
    moves: tuple[MoveFinding, ...]
    time_calls: tuple[TimeCall, ...]
    promises: tuple[Promise, ...]
    flags: tuple[Flag, ...]
    scores: tuple[tuple[str, Score], ...]
    fixes: tuple[Fix, ...]
    profile: tuple[tuple[str, float | None], ...] = ()


@dataclass(frozen=True, slots=True)
class Review:
    """The whole review: what was heard, what follows, and what it cannot tell.

    ``tolerance_ms`` and ``corrections`` are what it was made with, besides the transcript
    and the plan.
    """

    transcript: Transcript
    heard: HeardClass
    findings: Findings
    cautions: tuple[str, ...]
    tolerance_ms: int | None = None
    corrections: tuple[Correction, ...] = ()
