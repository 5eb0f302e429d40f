"""Tell of one thing on a review's screen: an interval, a point, a call, something heard."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from reviewkit.corrections import key_of, key_of_point
from reviewkit.model import (
    Flag,
    Interval,
    IntervalTalk,
    Mark,
    MoveFinding,
    PointFinding,
    Promise,
    Review,
    TimeCall,
)
from reviewkit.report.document import in_class_order
from reviewkit.report.heard import heard_marks
from reviewkit.report.layout import actual_span, skipped_places
from reviewkit.report.script import KINDS, Passage
from reviewkit.report.wording import (
    clean,
    count,
    name_kind,
    quote,
    say_by_coach,
    say_left,
    say_length,
    say_length_range,
    say_moment,
    say_move,
    say_value,
)
from reviewkit.times import Span
from reviewkit.web.card_views import (
    Card,
    ClockFields,
    CorrectionView,
    IntervalForm,
    LineChoice,
    PointForm,
)
from reviewkit.web.items import (
    call_item,
    flag_item,
    heard_item,
    interval_item,
    point_item,
    promise_item,
    silence_item,
)
from reviewkit.web.review_view import (
    Finder,
    flag_words,
    interval_verdict,
    point_verdict,
    said_verdict,
)
from reviewkit.web.track import long_silences
from reviewkit.web.views import Said, Verdict

NEAR_MS = 45_000
_SURE = 0.95
_KIND_NAMES = {kind.kind: kind.name for kind in KINDS}


def find_card(review: Review, item: str, corrections: Sequence[CorrectionView] = ()) -> Card | None:
    """Make the card of an item, None when the review has none of this name.

    Args:
        review: The review as it stands.
        item: The name of a thing, as made by ``items``.
        corrections: All of the review's; the card gets those about its item.
    """
    find = Finder(review)
    kind = item.partition("-")[0]
    card = next((one for one in _cards(review, kind, find) if one.item == item), None)
    own = tuple(one for one in corrections if one.item == item)
    return card and replace(card, corrections=own)


def _cards(review: Review, kind: str, find: Finder) -> Iterator[Card]:
    findings = review.findings
    if kind == "interval":
        yield from (_interval(one, talk, review, find) for one, talk in in_class_order(review))
    elif kind == "point":
        for at, move in enumerate(findings.moves):
            for place, point in enumerate(move.points):
                yield _point(point_item(at, place), move, point, review, find)
    elif kind == "call":
        yield from (_call(one, find) for one in findings.time_calls)
    elif kind == "promise":
        yield from (_promise(one, find) for one in findings.promises)
    elif kind == "flag":
        yield from (_flag(one, find) for one in findings.flags)
    elif kind == "heard":
        yield from (_heard(one, review, find) for one in heard_marks(review))
    elif kind == "silence":
        yield from (_silence(one, review, find) for one in long_silences(review))


# --- intervals ----------------------------------------------------------------------------


def _interval(one: Interval, talk: IntervalTalk | None, review: Review, find: Finder) -> Card:
    verdict = interval_verdict(one)
    can_set_aside = one.timing in ("long", "short", "unclear") or bool(one.set_aside)
    return Card(
        item=interval_item(one.id),
        over=f"Interval {find.numbers[one.id]}, {clean(one.block)}, round {one.round}",
        title=say_move(one),
        at=find.moment(one.start.at_ms) if one.start else None,
        verdict=verdict,
        facts=tuple(_interval_facts(one, talk)),
        reasons=tuple(_interval_reasons(one)),
        interval=_interval_form(one, review),
        finding=key_of(one) if can_set_aside else "",
    )


def _interval_facts(one: Interval, talk: IntervalTalk | None) -> Iterator[tuple[str, str]]:
    yield "Planned", say_length(one.planned_ms)
    if one.start and one.end:
        yield "Done", say_length_range(one)
        yield "Began", _edge_words(one.start.at_ms, one.start.low_ms, one.start.high_ms)
        yield "Ended", _edge_words(one.end.at_ms, one.end.low_ms, one.end.high_ms)
        rest = say_length(one.rest_after_ms)
        planned = one.planned_rest_ms
        yield "Rest after", rest if planned is None else f"{rest} ({say_length(planned)} planned)"
    if talk:
        yield "Words", str(talk.words)
        heard = [
            f"{_KIND_NAMES.get(label, name_kind(label))}: {number}"
            for label, number in talk.labels
            if number
        ]
        yield "Heard", ", ".join(heard) or "nothing that counts"
        yield "Longest silence", say_length(talk.longest_silence_ms)


def _edge_words(at_ms: int, low_ms: int, high_ms: int) -> str:
    if low_ms == high_ms:
        return _tenths(at_ms)
    return f"{_tenths(at_ms)} ({_tenths(low_ms)} to {_tenths(high_ms)})"


def _tenths(at_ms: int) -> str:
    tenths = round(max(0, at_ms) / 100)
    return f"{say_moment(100 * tenths)}.{tenths % 10}"


def _interval_reasons(one: Interval) -> Iterator[str]:
    if one.status == "skipped":
        yield "This planned interval was not found in the talk."
        if one.by_coach:
            yield "The coach says it was not done."
    elif one.status == "added":
        yield "The plan has no such interval."
    if one.timing == "unclear" and one.status != "added":
        yield (
            "The times of the transcript are too coarse to say whether it ran long or short: the "
            "true length may lie on either side of what is still on time."
        )
    if one.start and one.end and not one.by_coach:
        yield (
            "In brackets, the range that holds the truth: that of a start or an end in nine cases "
            "of ten, that of the length in four of five."
        )
        if one.certainty < _SURE:
            yield f"That this is what was done here is {100 * one.certainty:.0f} % sure."


def _interval_form(one: Interval, review: Review) -> IntervalForm:
    span = actual_span(one) or skipped_places(review)[one.id]
    moves = dict.fromkeys(row.move for row in review.heard.plan.rows)
    return IntervalForm(
        one.id, one.start is not None, clock_fields(span.start_ms), clock_fields(span.end_ms),
        tuple(moves), one.move_done,
    )  # fmt: skip


def clock_fields(at_ms: int) -> ClockFields:
    """Part a moment into minutes and seconds, to a tenth of a second."""
    minutes, tenths = divmod(round(max(0, at_ms) / 100), 600)
    return ClockFields(str(minutes), f"{tenths / 10:.1f}")


# --- points -------------------------------------------------------------------------------


def _point(item: str, move: MoveFinding, point: PointFinding, review: Review, find: Finder) -> Card:
    asked = "The plan asks for it" if point.asked_by == "plan" else "The lexicon suggests it"
    return Card(
        item=item,
        over=f"{point.kind.capitalize()} point of {clean(move.move)}",
        title=clean(point.point),
        at=find.moment(point.evidence[0].at_ms) if point.evidence else None,
        verdict=point_verdict(point),
        said=find.said(point.evidence),
        reasons=tuple(_point_reasons(asked, point)),
        instead=quote(point.line) if point.line and point.verdict != "said" else "",
        point=_point_form(move.move, point, review, find),
        finding=key_of_point(move.move, point.point)
        if point.verdict != "said" or point.set_aside
        else "",
    )


def _point_reasons(asked: str, point: PointFinding) -> Iterator[str]:
    means = {
        "said": "it was heard before the first interval of the move ended",
        "late": "it was first heard after the first interval of the move had ended",
        "missing": "no words that give it were heard near this move",
    }
    if point.by_coach:
        yield f"{asked}; the coach marked it {'said' if point.verdict == 'said' else 'not said'}."
    else:
        yield f"{asked}; {means[point.verdict]}."
    if point.why:
        yield clean(point.why)


def _point_form(move: str, point: PointFinding, review: Review, find: Finder) -> PointForm:
    spans = [
        (one.start.at_ms - NEAR_MS, one.end.at_ms)
        for one in review.heard.intervals
        if one.start and one.end and move in (one.move, one.done_instead)
    ]
    first_ms = point.evidence[0].at_ms if point.evidence else -1
    chosen = find.moment(first_ms).line if point.evidence else -1
    near: list[LineChoice] = []
    others: list[LineChoice] = []
    for number, (at_ms, words) in enumerate(lines_of(find.passages)):
        is_near = any(start <= at_ms < end for start, end in spans)
        choice = LineChoice(at_ms, say_moment(at_ms), clean(words), number == chosen)
        (near if is_near else others).append(choice)
    return PointForm(move, point.point, point.verdict, tuple(near), tuple(others))


def lines_of(passages: Sequence[Passage]) -> tuple[tuple[int, str], ...]:
    """Give every line of the talk: when it begins, and its words."""
    return tuple(
        (line.at_ms, " ".join(stretch.text for stretch in line.stretches))
        for passage in passages
        for line in passage.lines
    )


# --- what else there is -------------------------------------------------------------------


def _call(call: TimeCall, find: Finder) -> Card:
    number = find.numbers.get(call.interval or "")
    off = ""
    if call.claimed_left_ms is not None and call.actual_left_ms is not None:
        off = say_length(abs(call.claimed_left_ms - call.actual_left_ms))
    facts = (
        ("Said to be left", say_left(call.claimed_left_ms)),
        ("Really left", say_left(call.actual_left_ms)),
        *((("Out by", off),) if off else ()),
        *((("In", f"interval {number}"),) if number else ()),
    )
    is_open = call.verdict == "wrong" or call.set_aside
    return Card(
        item=call_item(call),
        over="Time call",
        title=quote(call.text),
        at=find.moment(call.at_ms),
        verdict=said_verdict(call),
        facts=facts,
        reasons=("Five seconds or more out is wrong.",),
        finding=key_of(call) if is_open else "",
    )


def _promise(one: Promise, find: Finder) -> Card:
    is_open = one.verdict == "broken" or one.set_aside
    return Card(
        item=promise_item(one),
        over=f"Promise about {name_kind(one.what)}",
        title=quote(one.text),
        at=find.moment(one.at_ms),
        verdict=said_verdict(one),
        facts=(("Said", say_value(one.said, one.what)), ("Found", say_value(one.found, one.what))),
        reasons=(clean(one.why),) if one.why else (),
        finding=key_of(one) if is_open else "",
    )


def _flag(flag: Flag, find: Finder) -> Card:
    return Card(
        item=flag_item(flag),
        over="Worth a look",
        title=name_kind(flag.kind).capitalize(),
        at=find.moment(flag.at_ms),
        verdict=Verdict("", note=say_by_coach(flag), is_aside=True) if flag.set_aside else None,
        facts=(("In", clean(flag.move)),) if flag.move else (),
        said=tuple(one for one in flag_words(flag, find) if one.words),
        reasons=(clean(flag.why),),
        instead=quote(flag.instead) if flag.instead else "",
        finding=key_of(flag),
    )


def _heard(mark: Mark, review: Review, find: Finder) -> Card:
    return Card(
        item=heard_item(mark),
        over="Heard as",
        title=_KIND_NAMES.get(mark.kind, name_kind(mark.kind)).capitalize(),
        at=find.moment(mark.start_ms),
        said=(Said(quote(mark.text), find.moment(mark.start_ms)),),
        reasons=tuple(_heard_reasons(mark, review)),
    )


def _heard_reasons(mark: Mark, review: Review) -> Iterator[str]:
    """Say for which points these words count."""
    for move in review.findings.moves:
        for point in move.points:
            for one in point.evidence:
                if mark.start_ms <= one.at_ms < mark.end_ms and mark.kind == point.kind:
                    yield f"Counts for {quote(point.point)} of {clean(move.move)}."


def _silence(span: Span, review: Review, find: Finder) -> Card:
    inside = [
        find.numbers[one.id]
        for one in review.heard.intervals
        if one.start and one.end and one.start.at_ms < span.end_ms and span.start_ms < one.end.at_ms
    ]
    place = f"Touches {count(len(inside), 'interval')}: {', '.join(map(str, sorted(inside)))}."
    return Card(
        item=silence_item(span.start_ms),
        over="Silence",
        title=f"Nothing was said for {say_length(span.length_ms)}",
        at=find.moment(span.start_ms),
        facts=(("From", _tenths(span.start_ms)), ("To", _tenths(span.end_ms))),
        reasons=(place if inside else "It lies outside all intervals.",),
    )
