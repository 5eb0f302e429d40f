"""What the screen of a review shows: a ``Review`` and its corrections set out for reading.

Nothing is judged here. Every record is made of words and figures that the review holds,
and of ``item`` names under which the screen finds a thing again after a correction.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from itertools import groupby

from reviewkit.model import (
    Evidence,
    Fix,
    Flag,
    Interval,
    IntervalTalk,
    MoveFinding,
    PointFinding,
    Promise,
    PromptFinding,
    Review,
    Score,
    TimeCall,
)
from reviewkit.report.document import in_class_order
from reviewkit.report.formulae import part_of
from reviewkit.report.script import KINDS, Passage, script
from reviewkit.report.verdicts import verdict_sentence
from reviewkit.report.wording import (
    CLOCK_NAMES,
    SCORE_NAMES,
    clean,
    name_kind,
    quote,
    say_by_coach,
    say_left,
    say_length,
    say_length_range,
    say_moment,
    say_move,
    say_score,
    say_value,
    say_verdict,
)
from reviewkit.web.items import (
    call_item,
    flag_item,
    interval_item,
    point_item,
    promise_item,
)
from reviewkit.web.views import (
    BlockView,
    CallView,
    FixView,
    FlagView,
    IntervalView,
    LineView,
    Moment,
    MoveView,
    PassageView,
    PointView,
    PromiseView,
    PromptView,
    ReviewView,
    Said,
    ScoreView,
    Tone,
    Verdict,
)

# The same words so near to each other are one stretch of talk.
SAME_WORDS_MS = 10_000
# What these kinds of flags have for words was not said, it tells what happened.
UNSPOKEN = frozenset({"dead_air", "order", "side_imbalance"})


class Finder:
    """Find the line of the talk for a moment, and the number of an interval."""

    def __init__(self, review: Review) -> None:
        self.passages: tuple[Passage, ...] = script(review)
        self.starts = [line.at_ms for passage in self.passages for line in passage.lines]
        self.numbers = {one.id: number for number, (one, _) in enumerate(in_class_order(review), 1)}

    def moment(self, at_ms: int) -> Moment:
        """Give a moment with the line that was being said, or the last one before it."""
        return Moment(at_ms, say_moment(at_ms), max(0, bisect_right(self.starts, at_ms) - 1))

    def said(self, found: Sequence[Evidence]) -> tuple[Said, ...]:
        """Give words with their moments, once where they were heard as two things at once."""
        shown: list[Evidence] = []
        for one in found:
            if not any(_is_same(one, other) for other in shown):
                shown.append(one)
        return tuple(Said(quote(one.text), self.moment(one.at_ms)) for one in shown)


def _is_same(one: Evidence, other: Evidence) -> bool:
    return one.text == other.text and abs(one.at_ms - other.at_ms) < SAME_WORDS_MS


def review_view(review: Review) -> ReviewView:
    """Set out a review for its screen."""
    find, findings = Finder(review), review.findings
    passages = _passages(find)
    return ReviewView(
        facts=_facts(review),
        warnings=tuple(clean(one) for one in review.transcript.warnings),
        verdict=verdict_sentence(review),
        fixes=tuple(_fix(one, find) for one in findings.fixes),
        scores=tuple(_score(name, one) for name, one in findings.scores),
        blocks=_blocks(review, find),
        asked_points=_moves(findings.moves, "plan", find),
        suggested_points=_moves(findings.moves, "lexicon", find),
        prompts=tuple(_prompt(one, find) for one in findings.moves),
        calls=tuple(_call(one, find) for one in findings.time_calls),
        promises=tuple(_promise(one, find) for one in findings.promises),
        flags=tuple(_flag(one, find) for one in findings.flags),
        passages=passages,
        kinds=KINDS,
        heard_kinds=frozenset(kind for passage in passages for kind in passage.kinds),
    )


def _facts(review: Review) -> tuple[tuple[str, str], ...]:
    talk, plan = review.heard.talk, review.heard.plan
    return (
        ("Transcript", clean(review.transcript.source)),
        ("Plan", "drafted from the talk" if plan.is_drafted else clean(plan.source) or "typed"),
        ("Length", say_moment(talk.length_ms)),
        (
            "Exact to",
            f"about {talk.typical_error_ms / 1000:.1f} s, with {CLOCK_NAMES[talk.clock]}",
        ),
    )


def _fix(one: Fix, find: Finder) -> FixView:
    is_known = one.interval in find.numbers
    return FixView(
        clean(one.what),
        clean(one.how),
        None if one.at_ms is None else find.moment(one.at_ms),
        interval_item(one.interval) if one.interval and is_known else "",
        find.numbers.get(one.interval or ""),
    )


def _score(name: str, score: Score) -> ScoreView:
    parts = []
    for part, value in score.parts:
        known = part_of(name, part)
        counts = f"{known.counts}; weight {known.weight}" if known else ""
        parts.append((clean(part), say_value(value and round(value)), counts))
    return ScoreView(
        SCORE_NAMES.get(name, clean(name)),
        say_score(score.value),
        score.value is None,
        tuple(parts),
    )


# --- intervals ----------------------------------------------------------------------------


def interval_verdict(one: Interval) -> Verdict:
    """Give an interval's verdict as it is shown."""
    is_off = one.status != "done" or one.timing in ("long", "short")
    tone: Tone = "off" if is_off else "open" if one.timing == "unclear" else ""
    return _verdict(say_verdict(one), tone, one)


def _verdict(word: str, tone: Tone, found: Interval | PointFinding | TimeCall | Promise) -> Verdict:
    is_aside = bool(found.set_aside)
    return Verdict(word, "" if is_aside else tone, say_by_coach(found), is_aside)


def _blocks(review: Review, find: Finder) -> tuple[BlockView, ...]:
    runs = groupby(in_class_order(review), key=lambda pair: pair[0].block)
    return tuple(
        BlockView(clean(block), tuple(_interval(one, talk, find) for one, talk in run))
        for block, run in runs
    )


def _interval(one: Interval, talk: IntervalTalk | None, find: Finder) -> IntervalView:
    rest = say_length(one.rest_after_ms)
    if one.planned_rest_ms is not None:
        rest += f" ({say_length(one.planned_rest_ms)})"
    rate = talk.cues_per_min if talk else None
    return IntervalView(
        item=interval_item(one.id),
        number=find.numbers[one.id],
        move=say_move(one),
        round=one.round,
        begins=find.moment(one.start.at_ms) if one.start else None,
        ends=find.moment(one.end.at_ms) if one.end else None,
        planned=say_length(one.planned_ms),
        actual=say_length_range(one),
        verdict=interval_verdict(one),
        rest=rest,
        cues_per_min=say_value(None) if rate is None else f"{rate:.1f}",
        silence=say_length(talk.longest_silence_ms if talk else None),
    )


# --- points and prompts -------------------------------------------------------------------


def point_verdict(point: PointFinding) -> Verdict:
    """Give a point's verdict as it is shown; what the lexicon suggests is never off."""
    tone: Tone = "" if point.verdict == "said" else "off" if point.asked_by == "plan" else "open"
    return _verdict(point.verdict, tone, point)


def _moves(moves: Sequence[MoveFinding], asked_by: str, find: Finder) -> tuple[MoveView, ...]:
    views = (
        MoveView(
            clean(move.move),
            tuple(
                _point(point_item(at, place), point, find)
                for place, point in enumerate(move.points)
                if point.asked_by == asked_by
            ),
        )
        for at, move in enumerate(moves)
    )
    return tuple(view for view in views if view.points)


def _point(item: str, point: PointFinding, find: Finder) -> PointView:
    is_missing = point.verdict == "missing"
    return PointView(
        item,
        clean(point.point),
        point.kind,
        point_verdict(point),
        find.said(point.evidence),
        quote(point.line) if is_missing and point.line else "",
        clean(point.why) if is_missing else "",
    )


def _prompt(move: MoveFinding, find: Finder) -> PromptView:
    return PromptView(
        clean(move.move),
        _prompt_verdict(move.breathing, "off"),
        find.said(move.breathing.evidence),
        _prompt_verdict(move.options, "open"),
        find.said(move.options.evidence),
    )


def _prompt_verdict(prompt: PromptFinding, tone: Tone) -> Verdict:
    return Verdict(prompt.verdict, tone if prompt.verdict == "missing" else "")


# --- calls, promises, flags ---------------------------------------------------------------


def said_verdict(found: TimeCall | Promise) -> Verdict:
    """Give the verdict on something said as it is shown."""
    is_off = found.verdict in ("wrong", "broken")
    tone: Tone = "off" if is_off else "open" if found.verdict == "unclear" else ""
    return _verdict(found.verdict, tone, found)


def _call(call: TimeCall, find: Finder) -> CallView:
    is_known = call.interval in find.numbers
    return CallView(
        call_item(call),
        Said(quote(call.text), find.moment(call.at_ms)),
        interval_item(call.interval) if call.interval and is_known else "",
        find.numbers.get(call.interval or ""),
        say_left(call.claimed_left_ms),
        say_left(call.actual_left_ms),
        said_verdict(call),
    )


def _promise(one: Promise, find: Finder) -> PromiseView:
    return PromiseView(
        promise_item(one),
        Said(quote(one.text), find.moment(one.at_ms)),
        name_kind(one.what),
        say_value(one.said, one.what),
        say_value(one.found, one.what),
        said_verdict(one),
        clean(one.why),
    )


def flag_words(flag: Flag, find: Finder) -> tuple[Said, ...]:
    """Give a flag's words, which may be empty, and those they go against, if any.

    Only what was spoken stands in quotation marks.
    """
    say = clean if flag.kind in UNSPOKEN else quote
    words = Said(say(flag.text) if flag.text.strip() else "", find.moment(flag.at_ms))
    if flag.other_at_ms is None:
        return (words,)
    return (words, Said(say(flag.other_text), find.moment(flag.other_at_ms)))


def _flag(flag: Flag, find: Finder) -> FlagView:
    place = f"{clean(flag.move)}{f', round {flag.round}' if flag.round else ''}"
    words, *others = flag_words(flag, find)
    return FlagView(
        flag_item(flag),
        name_kind(flag.kind),
        find.moment(flag.at_ms),
        place if flag.move else "",
        words.words,
        others[0] if others else None,
        clean(flag.why),
        quote(flag.instead) if flag.instead else "",
        say_by_coach(flag),
    )


# --- the talk -----------------------------------------------------------------------------


def _passages(find: Finder) -> tuple[PassageView, ...]:
    views, number = [], 0
    for passage in find.passages:
        lines = []
        for line in passage.lines:
            heard = {kind for stretch in line.stretches for kind in stretch.kinds}
            kinds = tuple(kind for kind in KINDS if kind in heard)
            at = Moment(line.at_ms, say_moment(line.at_ms), number)
            lines.append(LineView(number, at, line.stretches, kinds))
            number += 1
        one = passage.interval
        views.append(
            PassageView(
                say_move(one) if one else "",
                passage.number,
                interval_item(one.id) if one else "",
                find.moment(one.start.at_ms) if one and one.start else None,
                tuple(lines),
                tuple(kind for kind in KINDS if any(kind in line.kinds for line in lines)),
            )
        )
    return tuple(views)
