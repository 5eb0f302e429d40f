"""What a whole catalogue of reviews says, added up one document after the other.

Memory grows with the number of different moves and points, not with that of classes:
of broken promises and risky lines only so many examples are kept, and all are counted.
Findings that the coach set aside are not counted. Moves and points are the same where
their names are, upper and lower case apart.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from statistics import median
from typing import Any

from reviewkit.cautions import CAUTIONS

FORMAT = "reviewkit.summary/1"
MOST_EXAMPLES = 200
# Lengths kept of a move for its median; enough for any catalogue that a coach has.
MOST_LENGTHS = 10_000

Document = dict[str, Any]


@dataclass(frozen=True, slots=True)
class PointCount:
    """How often one point of a move was given, each class counted once.

    Attributes:
        asked_by: "plan" or "lexicon"; what the lexicon asks for is a suggestion.
        classes: Classes in which it was asked for; ``said``, ``late`` and ``missing`` add
            up to it.
    """

    move: str
    point: str
    kind: str
    asked_by: str
    classes: int
    said: int
    late: int
    missing: int


@dataclass(frozen=True, slots=True)
class LengthCount:
    """How the intervals of one move in one kind of block came out.

    Attributes:
        classes: Classes that planned it; ``done`` and ``skipped`` are intervals.
        on_time: Of those done, with ``long``, ``short`` and ``unclear``.
        typical_drift_s: Median of length less plan where both are known, in seconds.
    """

    move: str
    kind: str
    classes: int
    done: int
    skipped: int
    on_time: int
    long: int
    short: int
    unclear: int
    typical_drift_s: float | None


@dataclass(frozen=True, slots=True)
class PromiseCount:
    """How promises of one kind came out, in how many classes they were made and broken."""

    what: str
    classes: int
    classes_broken: int
    kept: int
    broken: int
    unclear: int


@dataclass(frozen=True, slots=True)
class Example:
    """One broken promise or risky line; ``at_s`` is in seconds of its class."""

    name: str
    at_s: float
    text: str
    why: str


@dataclass(frozen=True, slots=True)
class ScoreCount:
    """A score over the classes that have it: the middle one, and the lowest and highest."""

    score: str
    classes: int
    median: float
    lowest: float
    highest: float


@dataclass(frozen=True, slots=True)
class Summary:
    """The catalogue at a glance; lists have what matters most first.

    Attributes:
        classes: Classes counted.
        drafted: Of them, those whose plan was drafted from the talk.
        clocks: Classes by how exact their transcript's clock is.
        risky_classes: Classes with a risky line; ``risky_lines`` counts the lines.
    """

    classes: int
    drafted: int
    clocks: dict[str, int]
    points: tuple[PointCount, ...]
    lengths: tuple[LengthCount, ...]
    promises: tuple[PromiseCount, ...]
    broken: tuple[Example, ...]
    risky_classes: int
    risky_lines: int
    risky: tuple[Example, ...]
    scores: tuple[ScoreCount, ...]

    @property
    def safety(self) -> tuple[PointCount, ...]:
        """Safety points that were late or missing in some class, by moves that lack most."""
        return tuple(one for one in self.points if one.kind == "safety" and one.said < one.classes)


def summarise(documents: Iterable[tuple[str, Document]]) -> Summary:
    """Add up review documents, each with the name of its class; each is let go at once."""
    tally = _Tally()
    for name, document in documents:
        tally.add(name, document)
    return tally.summary()


def summary_document(
    summary: Summary, failed: Sequence[tuple[str, str]], unused: Sequence[tuple[str, str]]
) -> Document:
    """Give the summary as plain values, ready for JSON, with what was left out and why."""
    return {
        "format": FORMAT,
        **asdict(summary),
        "failed": [{"name": name, "reason": reason} for name, reason in failed],
        "unused": [{"name": name, "reason": reason} for name, reason in unused],
        "cautions": list(CAUTIONS),
    }


class _Tally:
    """Counts that grow document by document."""

    def __init__(self) -> None:
        self.facts: Counter[str] = Counter()
        self.clocks: Counter[str] = Counter()
        self.names: dict[str, str] = {}
        self.points: dict[tuple[str, ...], Counter[str]] = defaultdict(Counter)
        self.lengths: dict[tuple[str, str], Counter[str]] = defaultdict(Counter)
        self.drifts: dict[tuple[str, str], list[float]] = defaultdict(list)
        self.promises: dict[str, Counter[str]] = defaultdict(Counter)
        self.broken: list[Example] = []
        self.risky: list[Example] = []
        self.scores: dict[str, list[float]] = defaultdict(list)

    def add(self, name: str, document: Document) -> None:
        self.facts["classes"] += 1
        self.facts["drafted"] += bool(document["plan"]["is_drafted"])
        self.clocks[document["class"]["timing"]["kind"]] += 1
        self._add_points(document["moves"])
        self._add_intervals(document["intervals"])
        self._add_promises(name, document["promises"])
        self._add_risky(name, document["flags"])
        for score, one in document["scores"].items():
            if one["value"] is not None:
                self.scores[score].append(one["value"])

    def _key(self, text: str) -> str:
        """Make names equal that differ in case alone; the first spelling is the one shown."""
        key = " ".join(text.casefold().split())
        self.names.setdefault(key, text)
        return key

    def _add_points(self, moves: Sequence[Document]) -> None:
        found: dict[tuple[str, ...], str] = {}
        for move in moves:
            for one in move["points"]:
                if not one["set_aside"]:
                    key = (self._key(move["move"]), self._key(one["point"]))
                    found[(*key, one["kind"], one["asked_by"])] = one["verdict"]
        for whole, verdict in found.items():
            self.points[whole][verdict] += 1

    def _add_intervals(self, intervals: Sequence[Document]) -> None:
        seen = set()
        for one in intervals:
            if one["plan_row"] is None or one["set_aside"]:
                continue
            key = (self._key(one["move"]), one["kind"])
            seen.add(key)
            is_done = one["status"] == "done"
            self.lengths[key][(one["timing"] or "unclear") if is_done else one["status"]] += 1
            if is_done and one["drift_s"] is not None and len(self.drifts[key]) < MOST_LENGTHS:
                self.drifts[key].append(one["drift_s"])
        for key in seen:
            self.lengths[key]["classes"] += 1

    def _add_promises(self, name: str, promises: Sequence[Document]) -> None:
        counted = [one for one in promises if not one["set_aside"]]
        for one in counted:
            self.promises[one["what"]][one["verdict"]] += 1
            if one["verdict"] == "broken":
                self._keep(self.broken, name, one)
        for what in {one["what"] for one in counted}:
            self.promises[what]["classes"] += 1
        for what in {one["what"] for one in counted if one["verdict"] == "broken"}:
            self.promises[what]["classes_broken"] += 1

    def _add_risky(self, name: str, flags: Sequence[Document]) -> None:
        risky = [one for one in flags if one["kind"] == "risky_talk" and not one["set_aside"]]
        self.facts["risky_classes"] += bool(risky)
        self.facts["risky_lines"] += len(risky)
        for one in risky:
            self._keep(self.risky, name, one)

    def _keep(self, examples: list[Example], name: str, one: Document) -> None:
        if len(examples) < MOST_EXAMPLES:
            examples.append(Example(name, one["at_s"], one["text"], one["why"]))

    def summary(self) -> Summary:
        points = [self._point(key, found) for key, found in self.points.items()]
        points.sort(key=lambda one: (-one.missing, -one.late, one.move, one.point, one.asked_by))
        lengths = [self._length(key, found) for key, found in self.lengths.items()]
        lengths.sort(key=lambda one: (-one.long - one.short, -one.skipped, one.move, one.kind))
        return Summary(
            classes=self.facts["classes"],
            drafted=self.facts["drafted"],
            clocks=dict(sorted(self.clocks.items())),
            points=tuple(points),
            lengths=tuple(lengths),
            promises=tuple(_promise(what, one) for what, one in sorted(self.promises.items())),
            broken=tuple(self.broken),
            risky_classes=self.facts["risky_classes"],
            risky_lines=self.facts["risky_lines"],
            risky=tuple(self.risky),
            scores=tuple(_score(name, values) for name, values in self.scores.items()),
        )

    def _point(self, key: tuple[str, ...], found: Counter[str]) -> PointCount:
        move, point, kind, asked_by = key
        return PointCount(
            self.names[move], self.names[point], kind, asked_by, found.total(),
            found["said"], found["late"], found["missing"],
        )  # fmt: skip

    def _length(self, key: tuple[str, str], found: Counter[str]) -> LengthCount:
        drifts = self.drifts.get(key)
        done = sum(found[one] for one in ("on time", "long", "short", "unclear"))
        return LengthCount(
            self.names[key[0]], key[1], found["classes"], done, found["skipped"],
            found["on time"], found["long"], found["short"], found["unclear"],
            round(median(drifts), 2) if drifts else None,
        )  # fmt: skip


def _promise(what: str, found: Counter[str]) -> PromiseCount:
    counts = (found["classes"], found["classes_broken"])
    return PromiseCount(what, *counts, found["kept"], found["broken"], found["unclear"])


def _score(name: str, values: Sequence[float]) -> ScoreCount:
    return ScoreCount(name, len(values), round(median(values), 1), min(values), max(values))
