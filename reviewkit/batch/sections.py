"""The summary of a catalogue as headed tables of plain text, for every form it is written in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reviewkit.batch.summary import Example, LengthCount, PointCount, Summary
from reviewkit.report.wording import (
    CLOCK_NAMES,
    MINUS,
    NONE,
    SCORE_NAMES,
    clean,
    count,
    join_list,
    name_kind,
    quote,
    say_moment,
)

Named = Sequence[tuple[str, str]]

# What is read; the JSON holds more.
MOST_LINES = 60


@dataclass(frozen=True, slots=True)
class Section:
    """A heading, a sentence or two, and a table; ``nothing`` stands in place of no rows."""

    id: str
    title: str
    explain: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    nothing: str


def headline(summary: Summary, failed: Named) -> str:
    """Say in one sentence what the catalogue comes to."""
    parts = [f"{count(summary.classes, 'class', 'classes')} reviewed"]
    if failed:
        parts.append(f"{len(failed)} left out")
    lacking = {one.move for one in summary.safety if one.missing}
    if summary.classes:
        parts.append(f"{count(len(lacking), 'move')} without a safety point somewhere")
        parts.append(f"{count(sum(one.broken for one in summary.promises), 'broken promise')}")
        parts.append(f"{count(summary.risky_lines, 'risky line')}")
    return f"{join_list(parts)}."


def facts(summary: Summary) -> list[tuple[str, str]]:
    """Give what the classes rest on: plans and clocks."""
    clocks = "; ".join(
        f"{CLOCK_NAMES.get(kind, kind)} in {number}" for kind, number in summary.clocks.items()
    )
    planned = summary.classes - summary.drafted
    plans = f"{planned} given, {summary.drafted} drafted from the talk"
    return [("Plans", plans), ("Clocks", clocks or NONE)]


def sections(summary: Summary, failed: Named, unused: Named) -> list[Section]:
    """Give the parts of the summary, what matters most first."""
    left_out = Section(
        "failed",
        "Left out",
        "These were not reviewed and count nowhere below. Put them right and run the batch again.",
        ("Class or file", "Reason"),
        tuple((clean(name), clean(reason)) for name, reason in failed),
        "Every class was reviewed.",
    )
    idle = Section(
        "unused",
        "Plans not used",
        "No transcript beside them has their name.",
        ("File", "Reason"),
        tuple((clean(name), clean(reason)) for name, reason in unused),
        "Every plan was used.",
    )
    counted = [
        _safety(summary),
        _lengths(summary),
        _promises(summary),
        _examples(
            "broken", "Broken promises", summary.broken,
            sum(one.broken for one in summary.promises),
        ),
        _examples("risky", "Risky lines", summary.risky, summary.risky_lines),
        _scores(summary),
    ]  # fmt: skip
    return [*([left_out] if failed else []), *counted, *([idle] if unused else [])]


def _of(number: int, whole: int) -> str:
    return f"{number} of {whole}"


def _safety(summary: Summary) -> Section:
    def row(one: PointCount) -> tuple[str, ...]:
        asked = "plan" if one.asked_by == "plan" else "lexicon, as a suggestion"
        return (
            clean(one.move),
            clean(one.point),
            _of(one.missing, one.classes),
            _of(one.late, one.classes),
            asked,
        )

    return Section(
        "safety",
        "Safety points that moves lack",
        "In how many of the classes that have the move the point was not heard at all, or only "
        f"after the move's first interval.{_cut(len(summary.safety))}",
        ("Move", "Safety point", "Missing in", "Late in", "Asked by"),
        tuple(row(one) for one in summary.safety[:MOST_LINES]),
        "No safety point was missing or late.",
    )


def _lengths(summary: Summary) -> Section:
    off = [one for one in summary.lengths if one.long or one.short or one.skipped]

    def row(one: LengthCount) -> tuple[str, ...]:
        return (
            clean(one.move),
            one.kind,
            str(one.classes),
            str(one.done),
            str(one.long),
            str(one.short),
            str(one.unclear),
            str(one.skipped),
            _drift(one.typical_drift_s),
        )

    return Section(
        "lengths",
        "Intervals that run long or short",
        "Planned intervals of each move over all classes. Unclear are those whose transcript is "
        f"too coarse to tell. The drift is the middle one, of all that were done.{_cut(len(off))}",
        ("Move", "Part", "Classes", "Done", "Long", "Short", "Unclear", "Skipped", "Drift"),
        tuple(row(one) for one in off[:MOST_LINES]),
        "No interval was long, short or skipped.",
    )


def _drift(seconds: float | None) -> str:
    if seconds is None:
        return NONE
    whole = round(seconds)
    return f"{'+' if whole > 0 else MINUS if whole < 0 else '±'}{abs(whole)} s"


def _promises(summary: Summary) -> Section:
    return Section(
        "promises",
        "Promises",
        "What was said the class would be, against what it was.",
        ("About", "Made in classes", "Kept", "Broken", "Unclear", "Broken in"),
        tuple(
            (
                name_kind(one.what),
                str(one.classes),
                str(one.kept),
                str(one.broken),
                str(one.unclear),
                f"{_of(one.classes_broken, one.classes)} classes",
            )
            for one in summary.promises
        ),
        "No promise about a class was heard.",
    )


def _examples(key: str, title: str, found: Sequence[Example], whole: int) -> Section:
    rows = [
        (clean(one.name), say_moment(round(1000 * one.at_s)), quote(one.text), clean(one.why))
        for one in found[:MOST_LINES]
    ]
    return Section(
        key,
        title,
        f"Listen to the moment before you change anything.{_cut(whole)}",
        ("Class", "At", "Words", "Why"),
        tuple(rows),
        "None was heard.",
    )


def _scores(summary: Summary) -> Section:
    return Section(
        "scores",
        "Scores",
        "Each of 100, over the classes that have it; they compare classes, not coaches.",
        ("Score", "Classes", "Middle", "Lowest", "Highest"),
        tuple(
            (
                SCORE_NAMES.get(one.score, one.score),
                str(one.classes),
                *(f"{value:.0f}" for value in (one.median, one.lowest, one.highest)),
            )
            for one in summary.scores
        ),
        "No class has scores.",
    )


def _cut(whole: int) -> str:
    return f" The first {MOST_LINES} of {whole}." if whole > MOST_LINES else ""
