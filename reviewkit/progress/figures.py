"""The figures of one class, taken out of its review document."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from statistics import median
from typing import Any, Literal

Document = dict[str, Any]
Unit = Literal["score", "share", "seconds", "per_min", "count"]
Better = Literal["higher", "lower", "neither"]


@dataclass(frozen=True, slots=True)
class Figure:
    """Something that is followed from class to class.

    Attributes:
        key: Its name in tables and in JSON.
        name: Its name for people.
        unit: 0 to 100 for scores, 0 to 1 for shares, seconds, a minute of work, or a count.
        better: Which way a coach would want it to go; "neither" where that depends.
    """

    key: str
    name: str
    unit: Unit
    better: Better


FIGURES: tuple[Figure, ...] = (
    Figure("timing", "Timing", "score", "higher"),
    Figure("cues", "Cues", "score", "higher"),
    Figure("density", "Density of talk", "score", "higher"),
    Figure("breathing", "Breathing", "score", "higher"),
    Figure("on_time_share", "Intervals on time", "share", "higher"),
    Figure("drift_median_s", "Median drift", "seconds", "neither"),
    Figure("missing_share", "Points missing", "share", "lower"),
    Figure("late_share", "Points late", "share", "lower"),
    Figure("cues_per_min", "Cues a minute", "per_min", "neither"),
    Figure("calls_right_share", "Time calls right", "share", "higher"),
    Figure("broken_promises", "Broken promises", "count", "lower"),
    Figure("risky_lines", "Risky lines", "count", "lower"),
    Figure("filler_share", "Filler words", "share", "lower"),
)


@dataclass(frozen=True, slots=True)
class PointSeen:
    """A point of a move in one class; ``verdict`` is "said", "late" or "missing"."""

    move: str
    point: str
    kind: str
    asked_by: str
    verdict: str


@dataclass(frozen=True, slots=True)
class ClassRecord:
    """One class as it is followed.

    Attributes:
        id: Number of its review.
        title: What the coach calls it.
        made_at: When it was reviewed.
        figures: By ``Figure.key``, in the order of ``FIGURES``; None where there is nothing
            to measure.
        points: Every point that was asked for and not set aside.
    """

    id: int
    title: str
    made_at: datetime
    figures: dict[str, float | None]
    points: tuple[PointSeen, ...]


def class_record(review_id: int, title: str, made_at: datetime, document: Document) -> ClassRecord:
    """Take the figures and points out of a review document."""
    points = tuple(_points(document))
    return ClassRecord(review_id, title, made_at, _figures(document, points), points)


def _points(document: Document) -> list[PointSeen]:
    return [
        PointSeen(
            move["move"], point["point"], point["kind"], point["asked_by"], point["verdict"]
        )
        for move in document["moves"]
        for point in move["points"]
        if not point.get("set_aside")
    ]  # fmt: skip


def _figures(document: Document, points: Sequence[PointSeen]) -> dict[str, float | None]:
    scores = {name: score["value"] for name, score in document["scores"].items()}
    planned = [one for one in document["intervals"] if one["plan_row"] and one["status"] == "done"]
    planned = [one for one in planned if not one.get("set_aside")]
    drifts = [one["drift_s"] for one in planned if one["drift_s"] is not None]
    timings = [one["timing"] for one in planned if one["timing"] in ("on time", "long", "short")]
    verdicts = [one.verdict for one in judged_points(points)]
    calls = [one for one in _standing(document["time_calls"]) if one["verdict"] != "unclear"]
    promises = [one for one in _standing(document["promises"]) if one["verdict"] != "unclear"]
    risky = [one for one in _standing(document["flags"]) if one["kind"] == "risky_talk"]
    found = {
        **{name: scores.get(name) for name in ("timing", "cues", "density", "breathing")},
        "on_time_share": _share(timings.count("on time"), len(timings)),
        "drift_median_s": round(median(drifts), 2) if drifts else None,
        "missing_share": _share(verdicts.count("missing"), len(verdicts)),
        "late_share": _share(verdicts.count("late"), len(verdicts)),
        "cues_per_min": _cues_per_min(document),
        "calls_right_share": _share(sum(one["verdict"] == "right" for one in calls), len(calls)),
        "broken_promises": sum(one["verdict"] == "broken" for one in promises),
        "risky_lines": len(risky),
        "filler_share": document.get("profile", {}).get("filler_share"),
    }
    # A class without a word has no risky line either; that is no success.
    if not document["class"]["words"]:
        return {one.key: None for one in FIGURES}
    return {one.key: found[one.key] for one in FIGURES}


def judged_points(points: Sequence[PointSeen]) -> list[PointSeen]:
    """Give the plan's points, or the lexicon's where the plan asks for none, as scores do."""
    asked = [one for one in points if one.asked_by == "plan"]
    return asked or [*points]


def _standing(found: Sequence[Document]) -> list[Document]:
    return [one for one in found if not one.get("set_aside")]


def _cues_per_min(document: Document) -> float | None:
    work = [
        one
        for one in document["intervals"]
        if one["kind"] == "work" and one["length_s"] and one["talk"]
    ]
    minutes = sum(one["length_s"] for one in work) / 60
    return round(sum(one["talk"]["cues"] for one in work) / minutes, 3) if minutes else None


def _share(part: int, whole: int) -> float | None:
    return round(part / whole, 4) if whole else None
