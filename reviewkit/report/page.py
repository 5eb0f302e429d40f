"""The review as one HTML page that needs nothing else: no script, no network."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from reviewkit.model import Interval, IntervalTalk, MoveFinding, PointFinding, Review
from reviewkit.report import wording
from reviewkit.report.document import in_class_order
from reviewkit.report.formulae import HOW, part_of
from reviewkit.report.script import KINDS, script
from reviewkit.report.timeline import timeline
from reviewkit.report.verdicts import verdict_sentence

NumberedInterval = tuple[int, Interval, IntervalTalk | None]

FILTERS = {
    "by_coach": wording.say_by_coach,
    "clean": wording.clean,
    "drift": wording.say_drift,
    "kind": wording.name_kind,
    "left": wording.say_left,
    "lasting": wording.say_length,
    "lasting_range": wording.say_length_range,
    "moment": wording.say_moment,
    "move": wording.say_move,
    "quote": wording.quote,
    "score": wording.say_score,
    "value": wording.say_value,
    "verdict": wording.say_verdict,
}


def page(review: Review) -> str:
    """Write the whole review as a page for reading, printing and keeping."""
    numbered = [(at, *pair) for at, pair in enumerate(in_class_order(review), 1)]
    return _environment().get_template("review.html").render(
        review=review,
        plan=review.heard.plan,
        talk=review.heard.talk,
        findings=review.findings,
        title=wording.clean(review.heard.plan.title) or wording.clean(review.transcript.source),
        verdict=verdict_sentence(review),
        clock=wording.CLOCK_NAMES[review.heard.talk.clock],
        score_names=wording.SCORE_NAMES,
        how_scored=HOW,
        part_of=part_of,
        pictures=[Markup(one) for one in timeline(review)],  # noqa: S704 - escaped where drawn
        blocks=_blocks(numbered),
        numbers={interval.id: number for number, interval, _ in numbered},
        points={asked: _points(review.findings.moves, asked) for asked in ("plan", "lexicon")},
        kinds=KINDS,
        passages=script(review),
    )  # fmt: skip


def _environment() -> Environment:
    environment = Environment(
        loader=PackageLoader("reviewkit.report"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(FILTERS)
    return environment


def _blocks(numbered: Sequence[NumberedInterval]) -> list[tuple[str, list[NumberedInterval]]]:
    """Group intervals that follow each other in one block of the class."""
    runs = groupby(numbered, key=lambda one: one[1].block)
    return [(block, list(run)) for block, run in runs]


def _points(moves: Sequence[MoveFinding], asked_by: str) -> list[tuple[str, list[PointFinding]]]:
    pairs = [
        (move.move, [point for point in move.points if point.asked_by == asked_by])
        for move in moves
    ]
    return [pair for pair in pairs if pair[1]]
