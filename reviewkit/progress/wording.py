"""The words progress is told in, and what is said of the method wherever it is shown."""

from __future__ import annotations

from reviewkit.progress.figures import Figure, Unit
from reviewkit.progress.overview import STILL_AFTER, Overview, PointHistory
from reviewkit.progress.trends import LEVEL, MIN_CLASSES, Trend
from reviewkit.report.wording import MINUS, NONE, clean, count

METHOD = (
    f"A trend is claimed from {MIN_CLASSES} classes on, and only where chance alone would show as "
    f"much in fewer than {100 * LEVEL:.0f} cases of 100, allowing for all figures looked at "
    "together. The test is Mann-Kendall's (Mann 1945, Kendall 1938), exact for small numbers; "
    "the change a class is the median of slopes (Theil 1950, Sen 1968); the allowance is Holm's "
    "(1979).",
    "Few classes can show little: with five, hardly any trend passes. No trend claimed is not "
    "the same as no change.",
    "Classes count in the order in which they were reviewed, each once, and as if none led to the "
    "next; a run of like classes, or a new plan, can look like a trend and be none of your doing.",
    "Moves and points are the same from class to class where their words are the same.",
)
NOTHING = "±0"
ONLY_TWO = (
    "Two classes show no trend: the same coach with the same plan differs from day to day by "
    "about as much. Look at the points, and at the figures only where they are far apart."
)


def say_figure(value: float | None, unit: Unit) -> str:
    """Write a figure in its unit; a dash for none."""
    if value is None:
        return NONE
    if unit == "share":
        return f"{100 * value:.0f} %" if value in (0, 1) or value >= 0.1 else f"{100 * value:.1f} %"
    if unit == "seconds":
        return say_change(value, unit)
    return f"{value:.1f}" if unit == "per_min" else f"{value:.0f}"


def say_change(value: float | None, unit: Unit) -> str:
    """Write a difference with its sign; shares in hundredths (``+4 %``)."""
    if value is None:
        return NONE
    figure = 100 * value if unit == "share" else value
    rounded = round(figure, 1)
    if not rounded:
        return f"{NOTHING}{_mark(unit)}"
    sign = "+" if rounded > 0 else MINUS
    return f"{sign}{abs(rounded):.{0 if rounded == round(rounded) else 1}f}{_mark(unit)}"


def _mark(unit: Unit) -> str:
    return {"share": " %", "seconds": " s"}.get(unit, "")


def say_trend(figure: Figure, trend: Trend) -> str:
    """Say how a figure goes: ``better, +2.5 a class``, ``no trend``, ``too few classes``."""
    if trend.chance is None:
        return "too few classes"
    if not trend.is_claimed:
        return "no trend"
    way = way_of(figure, trend)
    by = say_change(trend.slope, figure.unit)
    return way if by.startswith(NOTHING) else f"{way}, {by} a class"


def way_of(figure: Figure, trend: Trend) -> str:
    """Name the way of a claimed trend: better or worse, rising or falling where that is open."""
    if figure.better == "neither":
        return "rising" if trend.direction > 0 else "falling"
    return "better" if (trend.direction > 0) == (figure.better == "higher") else "worse"


def say_history(one: PointHistory) -> str:
    """Say how a point goes now: how long it has been missing, or its latest verdict."""
    run = one.missing_run
    if one.is_still_missing:
        return f"still missing after {run} classes"
    return f"missing in the last {run}" if run > 1 else one.verdicts[-1]


def say_verdicts(one: PointHistory) -> str:
    """Sum a point's verdicts up: ``said 3, late 1, missing 2``."""
    return ", ".join(
        f"{verdict} {one.verdicts.count(verdict)}"
        for verdict in ("said", "late", "missing")
        if verdict in one.verdicts
    )


def say_overview(overview: Overview) -> str:
    """Say in one sentence or two what the classes show together."""
    number = len(overview.classes)
    if not number:
        return "No class is kept yet."
    if number < MIN_CLASSES:
        start = f"{count(number, 'class', 'classes')} so far: too few to tell a trend from chance."
    else:
        claimed = sum(one.is_claimed for one in overview.trends.values())
        trends = f"{count(claimed, 'trend')} beyond chance" if claimed else "no trend beyond chance"
        start = f"{number} classes: {trends}."
    still = len(overview.still_missing)
    if not still:
        return start
    missing = f"{count(still, 'point is', 'points are')} still missing after "
    return f"{start} {missing}{_number(STILL_AFTER)} classes or more."


def _number(number: int) -> str:
    return {2: "two", 3: "three", 4: "four"}.get(number, str(number))


def say_points(kind: str, asked_by: str) -> str:
    """Say what sort of point it is and who asks for it."""
    return f"{clean(kind)}, {'your plan' if asked_by == 'plan' else 'suggested'}"
