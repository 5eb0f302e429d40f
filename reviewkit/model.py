"""Every record that passes between stages, in the order the stages make them.

transcript -> words -> marks -> intervals -> findings -> report. All records are
frozen; a change makes a new record. Times are whole milliseconds (``_ms``) from the
start of the recording; positions of words are indexes into ``Talk.words``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Clock = Literal["words", "captions", "blocks"]
PlanKind = Literal["warm-up", "work", "cool-down"]
Side = Literal["", "left", "right", "each"]
PointKind = Literal["form", "safety"]
Label = Literal[
    "form", "safety", "breathing", "option", "motivation", "time_call", "announcement", "rest"
]
Status = Literal["done", "skipped", "swapped", "added"]
Timing = Literal["on time", "long", "short", "unclear"]
PointVerdict = Literal["said", "late", "missing"]
CallVerdict = Literal["right", "wrong", "unclear"]
PromiseVerdict = Literal["kept", "broken", "unclear"]

# --- transcript ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Piece:
    """A run of text inside a cue; its own times are given where the file gave them."""

    text: str
    start_ms: int | None = None
    end_ms: int | None = None


@dataclass(frozen=True, slots=True)
class Cue:
    """One caption, segment or stamped block; ``end_ms`` is None when the file gave none."""

    start_ms: int
    end_ms: int | None
    pieces: tuple[Piece, ...]
    line: int = 0

    @property
    def text(self) -> str:
        """The text of all pieces, as read."""
        return "".join(piece.text for piece in self.pieces)


@dataclass(frozen=True, slots=True)
class Transcript:
    """A transcript as read, cues in time order.

    ``stamp_step_ms`` is the grain of its stamps: 1 for milliseconds, 1000 when stamps
    were cut to the second.
    """

    source: str
    format: str
    cues: tuple[Cue, ...]
    warnings: tuple[str, ...] = ()
    stamp_step_ms: int = 1


# --- words ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Word:
    """One spoken word.

    ``norm`` is lower case without outer punctuation. ``spread_ms`` is the half-width of
    the range that holds the true start in nine cases of ten. ``is_sound`` marks breath
    sounds written in brackets, which are heard but are not speech.
    """

    text: str
    norm: str
    start_ms: int
    end_ms: int
    spread_ms: int
    is_sound: bool = False


@dataclass(frozen=True, slots=True)
class Talk:
    """All words of a class in time order, and how exact their clock is."""

    words: tuple[Word, ...]
    clock: Clock
    typical_error_ms: int
    length_ms: int


@dataclass(frozen=True, slots=True)
class Line:
    """An utterance as heard: words ``first`` to ``last`` (inclusive) that belong together."""

    first: int
    last: int
    start_ms: int
    end_ms: int
    text: str


# --- plan ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One planned interval."""

    move: str
    work_ms: int
    block: str = "Main"
    kind: PlanKind = "work"
    round: int = 1
    side: Side = ""
    rest_ms: int | None = None
    must_say: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """A class as planned, rows in order; ``is_drafted`` when it was made from the talk."""

    source: str
    rows: tuple[PlanRow, ...]
    title: str = ""
    minutes: float | None = None
    is_drafted: bool = False


# --- lexicon -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Point:
    """A form or safety point: what it is, why it matters and how coaches say it.

    ``frames`` are written as in ``points.toml``; ``patterns`` and ``loads`` name the
    kinds of move it belongs to when the move itself is unknown.
    """

    id: str
    kind: PointKind
    say: str
    why: str
    line: str
    frames: tuple[str, ...] = ()
    phrases: tuple[str, ...] = ()
    images: tuple[str, ...] = ()
    patterns: tuple[str, ...] = ()
    loads: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LexiconMove:
    """A move as coaches know it. ``effort`` is the phase on which breath goes out."""

    name: str
    aliases: tuple[str, ...]
    pattern: str
    load: str
    is_sided: bool
    points: tuple[str, ...]
    effort: str = ""


@dataclass(frozen=True, slots=True)
class Pattern:
    """A kind of movement that many moves share.

    ``nouns`` name it in a move's name ("squat"); ``body_parts`` and ``verbs`` are what
    coaches mention while it is done, so that it can be known from its cues alone.
    """

    id: str
    meaning: str
    nouns: tuple[str, ...] = ()
    body_parts: tuple[str, ...] = ()
    verbs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Phrase:
    """A line of a flat word list: words that stand for a label."""

    phrase: str
    label: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Weights:
    """What a fitted model gives each feature: one number per output, by feature name."""

    outputs: tuple[str, ...]
    rows: dict[str, tuple[float, ...]]


@dataclass(frozen=True, slots=True)
class Lexicon:
    """Everything the coach can edit; ``lists`` maps a file's stem to its lines.

    ``weights`` are fitted models by name; they travel with the language, not the coach.
    """

    moves: tuple[LexiconMove, ...]
    points: tuple[Point, ...]
    lists: dict[str, tuple[Phrase, ...]]
    patterns: tuple[Pattern, ...] = ()
    weights: dict[str, Weights] = field(default_factory=dict)


# --- marks ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Mark:
    """Something heard: words ``first`` to ``last`` (inclusive) and what they stand for.

    ``kind`` names the detector ("move", "count", "time_call", "breathing", ...),
    ``ref`` what exactly was heard (a move's name, a point's id, "halfway", ...),
    ``value`` a number that goes with it (seconds left, the count reached), ``weight`` how
    sure it is, 0 to 1.
    """

    kind: str
    first: int
    last: int
    start_ms: int
    end_ms: int
    text: str
    ref: str = ""
    value: float | None = None
    weight: float = 1.0


@dataclass(frozen=True, slots=True)
class Moment:
    """A moment that may be an edge: before word ``word`` or in the silence before it.

    ``start`` and ``end`` are the log-odds that an interval starts or ends here;
    ``spread_ms`` is how far off the moment may be, in nine cases of ten.
    """

    at_ms: int
    word: int
    spread_ms: int
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class EdgeEvidence:
    """What the talk says of edges: moments in time order, and how much each word sounds
    like talk during work rather than between intervals (log-odds, one per word)."""

    moments: tuple[Moment, ...]
    work: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class MoveEvidence:
    """How much each word speaks for each planned move against the others.

    ``named`` are log-odds from names, ``cued`` from words that belong to a move (its
    points, body parts, verbs); both have one row per move of ``moves`` and one entry per
    word. ``sides`` are +1 for words that say left, -1 for right, else 0.
    """

    moves: tuple[str, ...]
    named: tuple[tuple[float, ...], ...]
    cued: tuple[tuple[float, ...], ...]
    sides: tuple[int, ...]


# --- intervals -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Edge:
    """A start or end: the best guess and the range that holds the truth 9 times in 10."""

    at_ms: int
    low_ms: int
    high_ms: int

    def __post_init__(self) -> None:
        if not self.low_ms <= self.at_ms <= self.high_ms:
            raise ValueError(f"edge {self.at_ms} outside {self.low_ms} to {self.high_ms} ms")


@dataclass(frozen=True, slots=True)
class Interval:
    """A planned interval as it happened, or one that nobody planned.

    ``plan_row`` is the 1-based plan row, None when added; ``start`` and ``end`` are None
    when skipped; ``certainty`` is the chance that ``status`` is right, 0 to 1.
    """

    id: str
    plan_row: int | None
    block: str
    kind: PlanKind
    round: int
    move: str
    side: Side
    planned_ms: int | None
    status: Status
    start: Edge | None
    end: Edge | None
    length_low_ms: int | None
    length_high_ms: int | None
    timing: Timing | None
    planned_rest_ms: int | None
    rest_after_ms: int | None
    done_instead: str = ""
    certainty: float = 1.0

    @property
    def length_ms(self) -> int | None:
        """Length as done, None when skipped."""
        return None if self.start is None or self.end is None else self.end.at_ms - self.start.at_ms

    @property
    def move_done(self) -> str:
        """The move that was really done: the other one in a swapped slot."""
        return self.done_instead or self.move


@dataclass(frozen=True, slots=True)
class HeardClass:
    """What the findings are made from: plan, talk, marks and intervals of one class."""

    plan: Plan
    talk: Talk
    marks: tuple[Mark, ...]
    intervals: tuple[Interval, ...]
    lexicon: Lexicon


# --- findings ------------------------------------------------------------------------


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


@dataclass(frozen=True, slots=True)
class PromptFinding:
    """Whether prompts of one kind (breath, easier and harder ways) were given for a move."""

    verdict: Literal["said", "missing"]
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
    """The whole review: what was heard, what follows, and what it cannot tell."""

    transcript: Transcript
    heard: HeardClass
    findings: Findings
    cautions: tuple[str, ...]
