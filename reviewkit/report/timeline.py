"""The class over time: what was planned above what happened, and the talk below both.

Drawn in rows of a few minutes, so that a long class stays readable and prints well.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil
from typing import Any

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from reviewkit.corrections import standing
from reviewkit.model import Interval, Review, Word
from reviewkit.report.document import in_class_order
from reviewkit.report.heard import heard_marks
from reviewkit.report.layout import (
    LONG_SILENCE_MS,
    actual_span,
    class_end_ms,
    planned_span,
    skipped_places,
    speech_stretches,
)
from reviewkit.report.svg import (
    BAR,
    CUE,
    INK,
    OFF,
    OFF_BAR,
    ON_OFF,
    PAPER,
    RULE,
    SOFT,
    fit_into_page,
)
from reviewkit.report.wording import (
    say_drift,
    say_length,
    say_length_range,
    say_move,
    say_verdict,
)
from reviewkit.times import MINUTE_MS, Span, format_clock

ROW_MS = 5 * MINUTE_MS
LONG_CLASS_MS = 40 * MINUTE_MS
LONG_ROW_MS = 7 * MINUTE_MS + MINUTE_MS // 2

_WIDTH_IN, _HEIGHT_IN, _LEFT_IN, _RIGHT_IN = 8.0, 1.86, 0.78, 0.16
_TOP_Y = 6.75
_PLANNED_Y, _ACTUAL_Y, _ACTUAL_HEIGHT, _RANGE_Y, _SPEECH_Y = 5.62, 4.1, 1.3, 3.86, 3.1
_SIZE_PT, _SMALL_PT = 7.0, 6.0
_POINTS_PER_CHARACTER = 0.54

# Where what was heard stands: name of the lane, height, kinds of marks.
LANES: tuple[tuple[str, float, frozenset[str]], ...] = (
    ("form, safety", 2.4, frozenset({"form", "safety"})),
    ("breathing", 1.8, frozenset({"breathing"})),
    ("options, praise", 1.2, frozenset({"option", "motivation"})),
    ("time calls", 0.6, frozenset({"time_call"})),
)
_STYLE: dict[Any, Any] = {
    "svg.fonttype": "none",
    "svg.hashsalt": "reviewkit",
    "hatch.linewidth": 0.6,
    "font.size": _SIZE_PT,
}


@dataclass(frozen=True, slots=True)
class _Row:
    """One row of the picture: the part of the class it shows and how wide a second is."""

    span: Span
    points_per_ms: float

    def characters(self, length_ms: float, size_pt: float = _SIZE_PT) -> int:
        """Tell how many characters fit over a length of time."""
        return int((length_ms * self.points_per_ms - 4) / (size_pt * _POINTS_PER_CHARACTER))


def timeline(review: Review) -> tuple[str, ...]:
    """Draw the class, one SVG element for each row of minutes, in order."""
    spans = _spans(class_end_ms(review))
    with mpl.rc_context(_STYLE):
        return tuple(_picture(review, span, number) for number, span in enumerate(spans, 1))


def _spans(end_ms: int) -> list[Span]:
    """Cut the class into rows of equal length, whole half minutes each."""
    longest_ms = LONG_ROW_MS if end_ms > LONG_CLASS_MS else ROW_MS
    half_ms = MINUTE_MS // 2
    row_ms = half_ms * ceil(end_ms / ceil(end_ms / longest_ms) / half_ms)
    return [Span(start, start + row_ms) for start in range(0, end_ms, row_ms)]


def _picture(review: Review, span: Span, number: int) -> str:
    figure = Figure(figsize=(_WIDTH_IN, _HEIGHT_IN))
    FigureCanvasSVG(figure)
    figure.patch.set_visible(False)
    width_in = _WIDTH_IN - _LEFT_IN - _RIGHT_IN
    axes = figure.add_axes((_LEFT_IN / _WIDTH_IN, 0.13, width_in / _WIDTH_IN, 0.86))
    row = _Row(span, width_in * 72 / span.length_ms)
    _set_up_axes(axes, span)
    tooltips = dict(_draw_intervals(axes, review, row))
    _draw_speech(axes, review.heard.talk.words, row)
    _draw_heard(axes, review, row)
    written = io.StringIO()
    figure.savefig(written, format="svg", metadata={"Date": None, "Creator": None})
    start, end = format_clock(span.start_ms), format_clock(span.end_ms)
    return fit_into_page(
        written.getvalue(),
        f"row{number}",
        title=f"The class from {start} to {end}",
        description="Planned lengths above, intervals as they happened below them, then speech, "
        "silences and what was heard. " + " ".join(tooltips.values()),
        tooltips=tooltips,
    )


def _set_up_axes(axes: Axes, span: Span) -> None:
    axes.set_xlim(span.start_ms, span.end_ms)
    axes.set_ylim(0, _TOP_Y)
    axes.patch.set_visible(False)
    for side in axes.spines.values():
        side.set_visible(False)
    minutes = range(-(-span.start_ms // MINUTE_MS) * MINUTE_MS, span.end_ms + 1, MINUTE_MS)
    axes.set_xticks(list(minutes), [format_clock(at_ms) for at_ms in minutes])
    axes.tick_params(axis="x", length=0, pad=2, labelsize=_SIZE_PT, labelcolor=SOFT)
    axes.set_yticks([])
    axes.vlines(list(minutes), 0.2, _TOP_Y, colors=RULE, linewidth=0.5, zorder=0)
    names = [("planned", _PLANNED_Y + 0.45), ("as done", _ACTUAL_Y + 0.65), ("speech", _SPEECH_Y)]
    for name, at in [*names, *((name, height) for name, height, _ in LANES)]:
        axes.annotate(
            name, (0, at), xycoords=("axes fraction", "data"), xytext=(-5, 0),
            textcoords="offset points", ha="right", va="center", fontsize=_SMALL_PT, color=SOFT,
        )  # fmt: skip


def _draw_intervals(axes: Axes, review: Review, row: _Row) -> Iterator[tuple[str, str]]:
    """Draw the intervals a row shows; yield the group of each and its words."""
    places = skipped_places(review)
    for number, (interval, _) in enumerate(in_class_order(review), 1):
        planned = planned_span(interval, places)
        actual = actual_span(interval)
        if not any(one and one.overlap_ms(row.span) for one in (planned, actual)):
            continue
        group = f"interval-{interval.id}"
        if actual:
            _draw_actual(axes, interval, actual, row, number, group)
        if planned:
            is_alone = actual is None
            _draw_planned(axes, interval, planned, row, number, group if is_alone else "")
        yield group, _tooltip(interval, number)


def _tooltip(interval: Interval, number: int) -> str:
    return (
        f"{number}. {say_move(interval)}, round {interval.round}: "
        f"planned {say_length(interval.planned_ms)}, done {say_length_range(interval)}, "
        f"{say_verdict(interval)}."
    )


def _box(
    axes: Axes, span: Span, bottom: float, height: float, group: str = "", **look: object
) -> None:
    box = Rectangle((span.start_ms, bottom), span.length_ms, height, **look)  # type: ignore[arg-type]
    if group:
        box.set_gid(group)
    axes.add_patch(box)


def _draw_planned(
    axes: Axes, interval: Interval, span: Span, row: _Row, number: int, group: str
) -> None:
    """Draw the planned length from the interval's start; dashed where it was skipped."""
    is_skipped = interval.status == "skipped"
    _box(
        axes, span, _PLANNED_Y, 0.9, group, facecolor="none", edgecolor=OFF if is_skipped else SOFT,
        linewidth=0.6, linestyle=(0, (3, 2)) if is_skipped else "-",
    )  # fmt: skip
    words = f"{number} skipped" if is_skipped else say_length(interval.planned_ms)
    _write(axes, row, span, _PLANNED_Y + 0.45, words, _SMALL_PT, OFF if is_skipped else SOFT)


def _draw_actual(
    axes: Axes, interval: Interval, span: Span, row: _Row, number: int, group: str
) -> None:
    is_judged = interval.plan_row is not None and not interval.set_aside
    is_off = interval.timing in ("long", "short") and is_judged
    is_unclear = interval.timing == "unclear" and is_judged
    ink = ON_OFF if is_off else INK
    _box(
        axes, span, _ACTUAL_Y, _ACTUAL_HEIGHT, group,
        facecolor=OFF_BAR if is_off else "none" if is_unclear else BAR,
        edgecolor=SOFT if is_unclear else OFF_BAR if is_off else BAR,
        linestyle=(0, (1, 1.5)) if is_unclear else "-", linewidth=0.7,
    )  # fmt: skip
    if interval.status in ("swapped", "added"):
        _box(
            axes,
            span,
            _ACTUAL_Y,
            0.22,
            facecolor="none",
            edgecolor=ink,
            hatch="//////",
            linewidth=0,
        )
    _draw_ranges(axes, interval)
    name = f"{number} {say_move(interval)}"
    _write(axes, row, span, _ACTUAL_Y + 0.93, name, _SIZE_PT, ink, number=str(number))
    _write(axes, row, span, _ACTUAL_Y + 0.43, _figures(interval, is_unclear), _SMALL_PT, ink)


def _figures(interval: Interval, is_unclear: bool) -> str:
    length = say_length(interval.length_ms)
    if interval.status == "added":
        return f"{length}, added"
    if is_unclear:
        return f"{length}, unclear"
    return f"{length}, {say_drift(interval)}" if interval.timing in ("long", "short") else length


def _draw_ranges(axes: Axes, interval: Interval) -> None:
    """Draw where start and end may truly lie."""
    for edge in (interval.start, interval.end):
        if edge and edge.low_ms < edge.high_ms:
            axes.hlines(_RANGE_Y, edge.low_ms, edge.high_ms, colors=INK, linewidth=0.7)
            axes.vlines(
                [edge.low_ms, edge.high_ms],
                _RANGE_Y - 0.12,
                _RANGE_Y + 0.12,
                colors=INK,
                linewidth=0.7,
            )


def _write(
    axes: Axes,
    row: _Row,
    span: Span,
    at: float,
    words: str,
    size_pt: float,
    colour: str,
    *,
    number: str = "",
) -> None:
    """Write as many of the words into a box as it holds, from its visible left edge.

    A box too narrow for words gets the number alone, if that.
    """
    start_ms = max(span.start_ms, row.span.start_ms)
    fitting = row.characters(min(span.end_ms, row.span.end_ms) - start_ms, size_pt)
    text = words if len(words) <= fitting else words[: max(fitting - 1, 0)].rstrip(" ,") + "…"
    if fitting < max(4, len(number) + 2):
        text = number if len(number) <= fitting else ""
    axes.annotate(
        text, (start_ms, at), xytext=(2.5, 0), textcoords="offset points", va="center",
        fontsize=size_pt, color=colour, annotation_clip=True, parse_math=False,
    )  # fmt: skip


def _draw_speech(axes: Axes, words: Sequence[Word], row: _Row) -> None:
    """Draw where there was speech, and say how long the longer silences were."""
    stretches = speech_stretches(words)
    axes.broken_barh(
        [(start, end - start) for start, end in stretches], (_SPEECH_Y - 0.14, 0.28), facecolor=SOFT
    )
    for (_, end_ms), (next_ms, _) in pairwise(stretches):
        silence_ms = next_ms - end_ms
        words_silent = f"silent {say_length(silence_ms)}"
        if silence_ms < LONG_SILENCE_MS or row.characters(silence_ms, _SMALL_PT) < len(
            words_silent
        ):
            continue
        middle_ms = (end_ms + next_ms) // 2
        axes.hlines(_SPEECH_Y, end_ms + 600, next_ms - 600, colors=RULE, linewidth=0.8)
        if row.span.holds(middle_ms):
            axes.annotate(
                words_silent, (middle_ms, _SPEECH_Y), ha="center",
                va="center", fontsize=_SMALL_PT, color=SOFT, annotation_clip=True,
                bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 1},
            )  # fmt: skip


def _draw_heard(axes: Axes, review: Review, row: _Row) -> None:
    """Draw a short bar for everything heard, on the lane of its kind."""
    marks = [one for one in heard_marks(review) if row.span.holds(one.start_ms)]
    for _, height, kinds in LANES:
        axes.axhline(height, color=RULE, linewidth=0.5, zorder=0)
        bars = [
            (one.start_ms, max(one.end_ms - one.start_ms, 700))
            for one in marks
            if one.kind in kinds
        ]
        axes.broken_barh(bars, (height - 0.2, 0.4), facecolor=CUE)
    calls, flags = standing(review.findings.time_calls), standing(review.findings.flags)
    wrong = [one.at_ms for one in calls if one.verdict == "wrong"]
    _point_out(axes, row, wrong, LANES[-1][1], "wrong")
    risky = [one.at_ms for one in flags if one.kind in ("risky_talk", "contradiction")]
    _point_out(axes, row, risky, LANES[0][1], "flag")


def _point_out(axes: Axes, row: _Row, moments_ms: list[int], height: float, words: str) -> None:
    for at_ms in moments_ms:
        if row.span.holds(at_ms):
            axes.annotate(
                f"\N{MULTIPLICATION SIGN} {words}", (at_ms, height), xytext=(3, 0),
                textcoords="offset points", va="center", fontsize=_SMALL_PT, color=OFF,
                fontweight="bold", annotation_clip=True,
                bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 0.8},
            )  # fmt: skip
