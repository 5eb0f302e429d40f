"""The review as Markdown, to be kept beside the plan or pasted into notes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from reviewkit.model import Evidence, MoveFinding, PointFinding, PromptFinding, Review
from reviewkit.report.document import in_class_order
from reviewkit.report.formulae import HOW, part_of
from reviewkit.report.verdicts import verdict_sentence
from reviewkit.report.wording import (
    CLOCK_NAMES,
    NONE,
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

_SPECIAL = re.compile(r"([\\`*_{}\[\]<>#|~&])")


def markdown(review: Review) -> str:
    """Write the whole review as Markdown; words from outside cannot turn into markup."""
    sections = [
        _opening(review),
        _fixes(review),
        _intervals(review),
        _points(review),
        _prompts(review),
        _time_calls(review),
        _promises(review),
        _flags(review),
        _scores(review),
        _cautions(review),
    ]
    return "\n\n".join(section for section in sections if section) + "\n"


def escape(text: str) -> str:
    """Keep foreign text from being read as Markdown or HTML."""
    return _SPECIAL.sub(r"\\\1", clean(text))


def _opening(review: Review) -> str:
    talk, plan = review.heard.talk, review.heard.plan
    title = escape(plan.title or review.transcript.source)
    plan_name = "drafted from the talk" if plan.is_drafted else escape(plan.source)
    facts = [
        f"- Transcript: {escape(review.transcript.source)}, {say_moment(talk.length_ms)} long, "
        f"{CLOCK_NAMES[talk.clock]}, typically {talk.typical_error_ms / 1000:.1f} s off",
        f"- Plan: {plan_name}",
        *(f"- Note: {escape(warning)}" for warning in review.transcript.warnings),
    ]
    return "\n".join([f"# Review: {title}", "", escape(verdict_sentence(review)), "", *facts])


def _fixes(review: Review) -> str:
    lines = [
        f"{fix.rank}. **{escape(fix.what)}**"
        + (f" (at {say_moment(fix.at_ms)})" if fix.at_ms is not None else "")
        + f"\n   {escape(fix.how)}"
        for fix in review.findings.fixes
    ]
    return _section("Before publishing", "\n".join(lines))


def _intervals(review: Review) -> str:
    rows = [
        (
            say_moment(one.start.at_ms if one.start else None),
            say_move(one),
            str(one.round),
            say_length(one.planned_ms),
            say_length_range(one),
            _with_coach(say_verdict(one), one),
            f"{talk.cues_per_min:.1f}" if talk and talk.cues_per_min is not None else NONE,
        )
        for one, talk in in_class_order(review)
    ]
    head = ("At", "Move", "Round", "Planned", "Actual (range)", "Verdict", "Cues a minute")
    return _section("Intervals", _table(head, rows))


def _points(review: Review) -> str:
    pairs = [(move, point) for move in review.findings.moves for point in move.points]
    head = ("Move", "Point", "Kind", "Verdict", "Words")
    asked = [_point_row(*pair) for pair in pairs if pair[1].asked_by == "plan"]
    suggested = [_point_row(*pair) for pair in pairs if pair[1].asked_by == "lexicon"]
    return "\n\n".join(
        filter(
            None,
            [
                _section("Points the plan asks for", _table(head, asked)),
                _section("Points the lexicon suggests", _table(head, suggested)),
            ],
        )
    )


def _point_row(move: MoveFinding, point: PointFinding) -> tuple[str, ...]:
    words = _words(point.evidence) or (f"say: {quote(point.line)}" if point.line else NONE)
    return move.move, point.point, point.kind, _with_coach(point.verdict, point), words


def _prompts(review: Review) -> str:
    rows = [
        (move.move, _prompt(move.breathing), _prompt(move.options))
        for move in review.findings.moves
    ]
    return _section(
        "Breathing and options", _table(("Move", "Breathing", "Easier and harder ways"), rows)
    )


def _prompt(prompt: PromptFinding) -> str:
    return _words(prompt.evidence) or prompt.verdict


def _time_calls(review: Review) -> str:
    rows = [
        (
            say_moment(call.at_ms),
            quote(call.text),
            say_left(call.claimed_left_ms),
            say_left(call.actual_left_ms),
            _with_coach(call.verdict, call),
        )
        for call in review.findings.time_calls
    ]
    head = ("At", "Words", "Said to be left", "Really left", "Verdict")
    return _section("Time calls", _table(head, rows))


def _promises(review: Review) -> str:
    rows = [
        (
            say_moment(promise.at_ms),
            name_kind(promise.what),
            quote(promise.text),
            say_value(promise.said, promise.what),
            say_value(promise.found, promise.what),
            _with_coach(
                f"{promise.verdict}: {promise.why}" if promise.why else promise.verdict, promise
            ),
        )
        for promise in review.findings.promises
    ]
    return _section("Promises", _table(("At", "About", "Words", "Said", "Found", "Verdict"), rows))


def _flags(review: Review) -> str:
    rows = [
        (
            say_moment(flag.at_ms),
            name_kind(flag.kind),
            flag.move,
            " / ".join(quote(words) for words in (flag.text, flag.other_text) if words.strip()),
            _with_coach(
                flag.why + (f"; say instead: {quote(flag.instead)}" if flag.instead else ""), flag
            ),
        )
        for flag in review.findings.flags
    ]
    return _section("Flags", _table(("At", "What", "Move", "Words", "Why"), rows))


def _scores(review: Review) -> str:
    rows = [
        (
            SCORE_NAMES.get(name, name),
            say_score(score.value),
            "; ".join(_part(name, part, value) for part, value in score.parts) or NONE,
        )
        for name, score in review.findings.scores
    ]
    table = _table(("Score", "Of 100", "Made from"), rows)
    return _section("Scores", f"{table}\n\n{HOW}" if table else "")


def _part(score: str, part: str, value: float | None) -> str:
    known = part_of(score, part)
    weight = f" (weight {known.weight})" if known else ""
    return f"{part} {NONE if value is None else f'{value:.0f}'}{weight}"


def _cautions(review: Review) -> str:
    return _section(
        "What this cannot tell", "\n".join(f"- {escape(one)}" for one in review.cautions)
    )


def _with_coach(verdict: str, found: object) -> str:
    notes = say_by_coach(found)
    return f"{verdict} ({notes})" if notes else verdict


def _words(evidence: Sequence[Evidence]) -> str:
    return "; ".join(f"{quote(one.text)} at {say_moment(one.at_ms)}" for one in evidence[:3])


def _section(title: str, body: str) -> str:
    return f"## {title}\n\n{body}" if body else ""


def _table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    lines = [f"| {' | '.join(escape(cell) or NONE for cell in row)} |" for row in rows]
    if not lines:
        return ""
    return "\n".join([f"| {' | '.join(head)} |", f"|{' --- |' * len(head)}", *lines])
