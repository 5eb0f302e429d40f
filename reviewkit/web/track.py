"""The class over time as a drawing to be chosen from.

Moments are shares of the width, so that the drawing is widened by its width alone and its
words keep their size. It carries attributes and classes and no style of its own; whatever
can be chosen is a link to the page that tells about it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from itertools import pairwise

from reviewkit.model import Flag, Interval, Mark, Review, TimeCall
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
from reviewkit.report.script import KINDS
from reviewkit.report.wording import (
    name_kind,
    quote,
    say_drift,
    say_length,
    say_length_range,
    say_move,
    say_verdict,
)
from reviewkit.times import MINUTE_MS, Span, format_clock
from reviewkit.web.items import (
    call_item,
    flag_item,
    heard_item,
    interval_item,
    silence_item,
)

# From top to bottom, in pixels.
_PLANNED_Y, _PLANNED_HEIGHT = 6, 22
_ACTUAL_Y, _ACTUAL_HEIGHT = 32, 44
_RANGE_Y, _RANGE_HALF = 82, 4
_SPEECH_Y, _SPEECH_HEIGHT = 98, 8
_FIRST_LANE_Y, _LANE_HEIGHT, _MARK_HEIGHT = 124, 20, 12
_AXIS_ROOM = 26
_FINE_MINUTES = 12

# Where what was heard stands: name of the lane and the kinds of marks in it.
LANES: tuple[tuple[str, frozenset[str]], ...] = (
    ("form", frozenset({"form"})),
    ("safety", frozenset({"safety"})),
    ("breathing", frozenset({"breathing"})),
    ("options", frozenset({"option"})),
    ("praise", frozenset({"motivation"})),
    ("time calls", frozenset({"time_call"})),
    ("flags", frozenset()),
)
_CALL_LANE, _FLAG_LANE = len(LANES) - 2, len(LANES) - 1
HEIGHT = _FIRST_LANE_Y + len(LANES) * _LANE_HEIGHT + _AXIS_ROOM


@dataclass(frozen=True, slots=True)
class LaneName:
    """What stands beside a lane, and at which height."""

    name: str
    y: int


@dataclass(frozen=True, slots=True)
class Track:
    """A drawing, its height in pixels, the length of the class and the lanes' names."""

    svg: str
    height: int
    end_ms: int
    lanes: tuple[LaneName, ...]


def draw_track(review: Review, about: str) -> Track:
    """Draw a class over time.

    Args:
        review: What to draw; words from it are escaped.
        about: Address to which the name of an item is added.
    """
    end_ms = class_end_ms(review)
    pen = _Pen(end_ms, about)
    drawn = [
        *_axis(pen),
        *_intervals(review, pen),
        *_speech(review, pen),
        *_heard(review, pen),
        *_calls(review.findings.time_calls, pen),
        *_flags(review.findings.flags, pen),
        f'<line class="now" x1="0" x2="0" y1="0" y2="{HEIGHT - _AXIS_ROOM}"></line>',
    ]
    svg = (
        f'<svg class="track" id="track" role="group" aria-label="The class over time" width="100%" '
        f'height="{HEIGHT}" data-end="{end_ms}">' + "".join(drawn) + "</svg>"
    )
    return Track(svg, HEIGHT, end_ms, _lane_names())


def _lane_names() -> tuple[LaneName, ...]:
    return (
        LaneName("planned", _PLANNED_Y + _PLANNED_HEIGHT // 2),
        LaneName("as done", _ACTUAL_Y + _ACTUAL_HEIGHT // 2),
        LaneName("speech", _SPEECH_Y + _SPEECH_HEIGHT // 2),
        *(LaneName(name, _lane_y(at)) for at, (name, _) in enumerate(LANES)),
    )


def _lane_y(lane: int) -> int:
    """Give the middle of a lane."""
    return _FIRST_LANE_Y + lane * _LANE_HEIGHT + _LANE_HEIGHT // 2


@dataclass(frozen=True, slots=True)
class _Pen:
    """Turns moments into places and things into links."""

    end_ms: int
    about: str

    def at(self, at_ms: float) -> str:
        return f"{min(100, max(0, 100 * at_ms / self.end_ms)):.4f}%"

    def width(self, start_ms: float, end_ms: float) -> str:
        return f"{100 * max(0, end_ms - max(0, start_ms)) / self.end_ms:.4f}%"

    def link(self, item: str, lane: str, at_ms: int, words: str, inside: str) -> str:
        """Make something to choose; ``words`` tell those who do not see it what it is."""
        return (
            f'<a class="item" href="{escape(self.about + item)}" data-item="{escape(item)}" '
            f'data-lane="{lane}" data-at="{at_ms}" aria-label="{escape(words)}">'
            f"<title>{escape(words)}</title>{inside}</a>"
        )

    def bar(self, span: Span, y: int, height: int, look: str) -> str:
        """Draw a bar over a stretch of time."""
        return (
            f'<rect class="{look}" x="{self.at(span.start_ms)}" y="{y}" '
            f'width="{self.width(span.start_ms, span.end_ms)}" height="{height}"></rect>'
        )

    def words(self, span: Span, y: int, height: int, look: str, inside: str) -> str:
        """Lay words over a stretch of time, cut off where it ends; for the eye alone."""
        return (
            f'<svg class="box {look}" aria-hidden="true" x="{self.at(span.start_ms)}" y="{y}" '
            f'width="{self.width(span.start_ms, span.end_ms)}" height="{height}">'
            f'<rect class="room" width="100%" height="100%"></rect>{inside}</svg>'
        )


def _text(words: str, y: int, look: str) -> str:
    return f'<text class="{look}" x="5" y="{y}">{escape(words)}</text>'


def _axis(pen: _Pen) -> Iterator[str]:
    """Draw a line a minute; in a long class every fifth alone is named until it is widened."""
    bottom = HEIGHT - _AXIS_ROOM
    is_long = pen.end_ms > _FINE_MINUTES * MINUTE_MS
    for minute in range(pen.end_ms // MINUTE_MS + 1):
        at = pen.at(minute * MINUTE_MS)
        is_fine = is_long and minute % 5 != 0
        look = "tick fine" if is_fine else "tick"
        yield f'<line class="{look}" x1="{at}" x2="{at}" y1="0" y2="{bottom}"></line>'
        yield (
            f'<text class="minute{" fine" if is_fine else ""}{"" if minute else " first"}" '
            f'x="{at}" y="{HEIGHT - 8}">{format_clock(minute * MINUTE_MS)}</text>'
        )
    for lane in range(len(LANES)):
        y = _lane_y(lane)
        yield f'<line class="lane" x1="0" x2="100%" y1="{y}" y2="{y}"></line>'


# --- intervals ----------------------------------------------------------------------------


def _intervals(review: Review, pen: _Pen) -> Iterator[str]:
    places = skipped_places(review)
    for number, (one, _) in enumerate(in_class_order(review), 1):
        planned, actual = planned_span(one, places), actual_span(one)
        inside = words = ""
        if planned:
            look = "planned skipped" if one.status == "skipped" else "planned"
            inside = pen.bar(planned, _PLANNED_Y, _PLANNED_HEIGHT, look)
            words = _planned_words(one, planned, number, pen)
        if actual:
            inside += pen.bar(actual, _ACTUAL_Y, _ACTUAL_HEIGHT, f"actual{_tone(one)}")
            words += _actual_words(one, actual, number, pen) + "".join(_ranges(one, pen))
        start_ms = (actual or planned or Span(0, 1)).start_ms
        yield pen.link(interval_item(one.id), "intervals", start_ms, _words(one, number), inside)
        yield words


def _tone(one: Interval) -> str:
    if one.set_aside or one.plan_row is None:
        return ""
    return {"long": " off", "short": " off", "unclear": " unclear"}.get(one.timing or "", "")


def _words(one: Interval, number: int) -> str:
    words = (
        f"{number}. {say_move(one)}, round {one.round}: planned {say_length(one.planned_ms)}, "
        f"done {say_length_range(one)}, {say_verdict(one)}"
    )
    if one.by_coach:
        words += ", put right by the coach"
    return f"{words}, verdict set aside" if one.set_aside else words


def _planned_words(one: Interval, span: Span, number: int, pen: _Pen) -> str:
    is_skipped = one.status == "skipped"
    words = f"{number} skipped" if is_skipped else say_length(one.planned_ms)
    inside = _text(words, 15, "small fits") + _text(str(number), 15, "small number")
    look = "for-skipped" if is_skipped else "for-planned"
    return pen.words(span, _PLANNED_Y, _PLANNED_HEIGHT, look, inside)


def _actual_words(one: Interval, span: Span, number: int, pen: _Pen) -> str:
    inside = (
        _text(f"{number} {say_move(one)}", 17, "name fits")
        + _text(str(number), 17, "name number")
        + _text(_figures(one), 33, "small fits")
    )
    if one.status in ("swapped", "added"):
        foot = _ACTUAL_HEIGHT - 3
        inside += f'<line class="foot" x1="0" x2="100%" y1="{foot}" y2="{foot}"></line>'
    if one.by_coach:
        inside += '<line class="coach" x1="0" x2="100%" y1="2" y2="2"></line>'
    return pen.words(span, _ACTUAL_Y, _ACTUAL_HEIGHT, f"for-actual{_tone(one)}", inside)


def _figures(one: Interval) -> str:
    length = say_length(one.length_ms)
    if one.status == "added":
        return f"{length}, added"
    if one.timing == "unclear":
        return f"{length}, unclear"
    return f"{length}, {say_drift(one)}" if one.timing in ("long", "short") else length


def _ranges(one: Interval, pen: _Pen) -> Iterator[str]:
    """Draw where start and end may truly lie."""
    top, bottom = _RANGE_Y - _RANGE_HALF, _RANGE_Y + _RANGE_HALF
    for edge in (one.start, one.end):
        if edge is None or edge.low_ms == edge.high_ms:
            continue
        low, high = pen.at(edge.low_ms), pen.at(edge.high_ms)
        yield f'<line class="range" x1="{low}" x2="{high}" y1="{_RANGE_Y}" y2="{_RANGE_Y}"></line>'
        for at in (low, high):
            yield f'<line class="range" x1="{at}" x2="{at}" y1="{top}" y2="{bottom}"></line>'


# --- the talk -----------------------------------------------------------------------------


def long_silences(review: Review) -> tuple[Span, ...]:
    """Give the silences between words that are long enough to be shown as such."""
    stretches = speech_stretches(review.heard.talk.words)
    return tuple(
        Span(end_ms, next_ms)
        for (_, end_ms), (next_ms, _) in pairwise(stretches)
        if next_ms - end_ms >= LONG_SILENCE_MS
    )


def _speech(review: Review, pen: _Pen) -> Iterator[str]:
    for start_ms, end_ms in speech_stretches(review.heard.talk.words):
        yield pen.bar(Span(start_ms, max(end_ms, start_ms + 1)), _SPEECH_Y, _SPEECH_HEIGHT, "spoke")
    for silence in long_silences(review):
        length = say_length(silence.length_ms)
        words = f"Silence of {length} from {format_clock(silence.start_ms)}"
        top, height = _SPEECH_Y - 5, _SPEECH_HEIGHT + 10
        bar = pen.bar(silence, top, height, "silence")
        yield pen.link(silence_item(silence.start_ms), "speech", silence.start_ms, words, bar)
        inside = _text(f"silent {length}", 13, "small fits")
        yield pen.words(silence, top, height, "for-silence", inside)


def _heard(review: Review, pen: _Pen) -> Iterator[str]:
    """Draw a short bar for everything heard, on the lane of its kind."""
    names = {kind.kind: kind.name for kind in KINDS}
    drawn: set[str] = set()
    for lane, (name, kinds) in enumerate(LANES):
        for mark in heard_marks(review):
            item = heard_item(mark)
            if mark.kind in kinds and item not in drawn and lane != _CALL_LANE:
                drawn.add(item)
                words = f"{names[mark.kind]} at {format_clock(mark.start_ms)}: {quote(mark.text)}"
                yield pen.link(item, name, mark.start_ms, words, _bar(mark, lane, pen))


def _bar(mark: Mark, lane: int, pen: _Pen) -> str:
    span = Span(mark.start_ms, max(mark.end_ms, mark.start_ms + 1))
    return pen.bar(span, _lane_y(lane) - _MARK_HEIGHT // 2, _MARK_HEIGHT, f"mark k-{mark.kind}")


def _calls(calls: tuple[TimeCall, ...], pen: _Pen) -> Iterator[str]:
    y = _lane_y(_CALL_LANE)
    for call in calls:
        is_wrong = call.verdict == "wrong" and not call.set_aside
        words = f"time call at {format_clock(call.at_ms)}, {call.verdict}: {quote(call.text)}"
        yield pen.link(
            call_item(call), "time calls", call.at_ms, words, _pin(call.at_ms, y, is_wrong, pen)
        )


def _flags(flags: tuple[Flag, ...], pen: _Pen) -> Iterator[str]:
    y = _lane_y(_FLAG_LANE)
    for flag in flags:
        words = f"{name_kind(flag.kind)} at {format_clock(flag.at_ms)}"
        pin = _pin(flag.at_ms, y, not flag.set_aside, pen)
        yield pen.link(flag_item(flag), "flags", flag.at_ms, words, pin)


def _pin(at_ms: int, y: int, is_off: bool, pen: _Pen) -> str:
    """Draw a moment: a dot, or a cross where something is off."""
    at = pen.at(at_ms)
    if not is_off:
        return f'<circle class="pin" cx="{at}" cy="{y}" r="4"></circle>'
    return (
        f'<svg class="loose" x="{at}" y="{y - 8}" width="1" height="16">'
        '<rect class="hit" x="-8" width="16" height="16"></rect>'
        '<path class="cross" d="M-4.5 3.5 4.5 12.5M-4.5 12.5 4.5 3.5"></path></svg>'
    )
