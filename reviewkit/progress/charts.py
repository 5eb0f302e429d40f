"""One small chart a figure: a dot a class. Colours and type are the page's, by class name."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from reviewkit.progress.figures import Figure
from reviewkit.progress.overview import Overview, PointHistory
from reviewkit.progress.trends import Trend
from reviewkit.progress.wording import say_figure, say_trend
from reviewkit.report.wording import clean

WIDTH, HEIGHT = 320, 104
_LEFT, _RIGHT, _TOP, _BOTTOM = 52, 8, 10, 12
_ROOM = WIDTH - _LEFT - _RIGHT - 8
_BARS = "▁▂▃▄▅▆▇█"
_GAP_SIGN = "·"
# A class in the history of a point: its width with the gap after it, and its height.
_STEP, _TALL = 10, 14
MOST_IN_HISTORY = 24
# A scale of seconds reaches at least so far to either side: less is on time for any coach.
_LEAST_SECONDS = 3.0


def chart(figure: Figure, overview: Overview) -> str:
    """Draw a figure over the classes as an SVG element; a gap where a class has none."""
    values = [one.figures[figure.key] for one in overview.classes]
    low, high = _range(figure, values)
    places = [
        (_x(at, len(values)), _y(value, low, high)) if value is not None else None
        for at, value in enumerate(values)
    ]
    trend = overview.trends[figure.key]
    radius = _radius(len(values))
    parts = [*_frame(figure, low, high), *_lines(places)]
    for place, one in zip(places, overview.classes, strict=True):
        if place:
            words = f"{clean(one.title)}: {say_figure(one.figures[figure.key], figure.unit)}"
            parts.append(
                f'<circle class="dot" cx="{place[0]:.1f}" cy="{place[1]:.1f}" r="{radius:g}">'
                f"<title>{escape(words)}</title></circle>"
            )
    return (
        f'<svg class="chart" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" '
        f'aria-label="{escape(_described(figure, trend, values))}">{"".join(parts)}</svg>'
    )


def sparkline(figure: Figure, values: Sequence[float | None], width: int) -> str:
    """Draw the latest classes of a figure in ``width`` signs; a dot where a class has none."""
    low, high = _range(figure, values)
    return "".join(
        _GAP_SIGN
        if value is None
        else _BARS[round((len(_BARS) - 1) * (value - low) / (high - low))]
        for value in values[-width:]
    )


def history_strip(history: PointHistory, overview: Overview) -> str:
    """Draw a point's latest classes, one sign each, as an SVG element in line with others.

    Classes that did not ask for it have a small dot; what is drawn is also told in words by
    ``say_verdicts``, so the drawing is left out for those who listen.
    """
    verdicts = dict(zip(history.classes, history.verdicts, strict=True))
    classes = overview.classes[-MOST_IN_HISTORY:]
    signs = "".join(_sign(verdicts.get(one.id), _STEP * at) for at, one in enumerate(classes))
    width = _STEP * len(classes)
    return (
        f'<svg class="history" viewBox="0 0 {width} {_TALL}" width="{width}" height="{_TALL}" '
        f'aria-hidden="true">{signs}</svg>'
    )


def _sign(verdict: str | None, x: int) -> str:
    if verdict == "said":
        return f'<rect class="said" x="{x}" y="0" width="8" height="14"/>'
    if verdict == "late":
        return f'<rect class="late" x="{x}" y="7" width="8" height="7"/>'
    if verdict == "missing":
        return f'<rect class="missing" x="{x + 0.75}" y="0.75" width="6.5" height="12.5"/>'
    return f'<circle class="none" cx="{x + 4}" cy="7" r="1.5"/>'


def _range(figure: Figure, values: Sequence[float | None]) -> tuple[float, float]:
    """Give the ends of the scale: whole for scores, from nothing on where nothing is the least."""
    known = [value for value in values if value is not None]
    if figure.unit == "score":
        return 0, 100
    low, high = min([0, *known]), max([0, *known])
    if figure.unit == "seconds":
        return min(low, -_LEAST_SECONDS), max(high, _LEAST_SECONDS)
    return (low, high) if high > low else (low, low + 1)


def _x(at: int, count: int) -> float:
    return _LEFT + 4 + (_ROOM * at / (count - 1) if count > 1 else _ROOM / 2)


def _radius(count: int) -> float:
    """Make dots smaller where many classes would run into each other."""
    return max(1.0, min(3.5, round(0.4 * _ROOM / max(1, count - 1), 1)))


def _y(value: float, low: float, high: float) -> float:
    return _TOP + (HEIGHT - _TOP - _BOTTOM) * (1 - (value - low) / (high - low))


def _frame(figure: Figure, low: float, high: float) -> list[str]:
    parts = []
    for value in dict.fromkeys((high, 0 if low < 0 < high else low, low)):
        y = _y(value, low, high)
        parts.append(
            f'<line class="rule" x1="{_LEFT}" y1="{y:.1f}" x2="{WIDTH - _RIGHT}" y2="{y:.1f}"/>'
            f'<text class="tick" x="{_LEFT - 6}" y="{y + 4:.1f}">'
            f"{say_figure(value, figure.unit)}</text>"
        )
    return parts


def _lines(places: Sequence[tuple[float, float] | None]) -> list[str]:
    """Join classes that follow each other."""
    runs: list[list[tuple[float, float]]] = [[]]
    for place in places:
        if place:
            runs[-1].append(place)
        else:
            runs.append([])
    return [
        f'<polyline class="way" points="{" ".join(f"{x:.1f},{y:.1f}" for x, y in run)}"/>'
        for run in runs
        if len(run) > 1
    ]


def _described(figure: Figure, trend: Trend, values: Sequence[float | None]) -> str:
    known = [say_figure(value, figure.unit) for value in values if value is not None]
    if not known:
        return f"{figure.name}: nothing to measure"
    return f"{figure.name}: from {known[0]} to {known[-1]}, {say_trend(figure, trend)}"
