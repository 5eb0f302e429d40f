"""The points of labelled classes as what may give them, with the truth beside it.

A class is heard as its transcript forms have it, mis-hearings and coarse clocks included.
Its intervals are the true ones, but where the clock is coarse those that are found, since
there they are blurred as the words are, and some are lost. Which line an utterance belongs
to is told by its words, because a coarse clock may be off by more than a line.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reviewkit.evaluate import LabelledClass, TrueInterval
from reviewkit.findings.point_features import (
    LEAD_MS,
    LINES_LIST,
    Candidates,
    gather_candidates,
)
from reviewkit.frames.utterances import Utterance, split_utterances
from reviewkit.model import Edge, HeardClass, Interval, Lexicon, Talk
from reviewkit.read.transcript import parse_transcript
from reviewkit.review import hear_class
from tests.fit.edge_data import hear, match_words
from tests.forms import FORMS, render

# The form with a coarse clock.
COARSE = "blocks"
# An utterance gives a point when more than this share of its words are of a line that does.
_MOST_OF_IT = 0.5


@dataclass(frozen=True, slots=True)
class Case:
    """One point of the plan: its candidates among the class's utterances, and the truth."""

    name: str
    form: str
    candidates: Candidates
    utterances: Sequence[Utterance]
    gives: NDArray[np.bool_]
    starts: NDArray[Any]
    verdict: str

    @property
    def text(self) -> str:
        """Class, move and point, to show."""
        asked = self.candidates.asked
        return f"{self.name} {self.form} | {asked.move} | {asked.text}"


def true_intervals(labelled: LabelledClass) -> tuple[Interval, ...]:
    """Give the true intervals as though they had been heard exactly."""
    return tuple(
        _interval(number, one)
        for number, one in enumerate(labelled.intervals, 1)
        if one.status != "skipped"
    )


def gather_cases(
    labelled: LabelledClass,
    form: str,
    lexicon: Lexicon,
) -> list[Case]:
    """Weigh every point of a class's plan, heard in one form, and set the truth beside it.

    The lexicon should be one without the lines that were gathered in the class.
    """
    return cases_of(labelled, form, _hear(labelled, form, lexicon))


def _hear(labelled: LabelledClass, form: str, lexicon: Lexicon) -> HeardClass:
    if form == COARSE:
        transcript = parse_transcript(FORMS[form].file_name, render(labelled, form).encode())
        return hear_class(transcript, labelled.plan, lexicon)
    return HeardClass(labelled.plan, hear(labelled, form), (), true_intervals(labelled), lexicon)


def without_lines_of(names: Collection[str], lexicon: Lexicon) -> Lexicon:
    """Give the lexicon without the lines that were gathered in some classes."""
    lines = lexicon.lists.get(LINES_LIST, ())
    kept = tuple(line for line in lines if line.note not in names)
    return replace(lexicon, lists={**lexicon.lists, LINES_LIST: kept})


def cases_of(labelled: LabelledClass, form: str, heard: HeardClass) -> list[Case]:
    """Weigh every point of a class's plan as heard, and set the truth beside it."""
    utterances = split_utterances(heard.talk)
    line_of = _lines_of_words(labelled, heard.talk)
    return [
        _case(labelled, form, one, utterances, line_of)
        for one in gather_candidates(heard, utterances)
        if one.asked.point is None
    ]


def _case(
    labelled: LabelledClass,
    form: str,
    one: Candidates,
    utterances: Sequence[Utterance],
    line_of: NDArray[np.intp],
) -> Case:
    giving = giving_lines(labelled, one.asked.move, one.asked.text)
    is_giving = np.isin(line_of, giving)
    lines = [utterances[place].line for place in one.places]
    gives = [is_giving[line.first : line.last + 1].mean() > _MOST_OF_IT for line in lines]
    return Case(
        labelled.name,
        form,
        one,
        utterances,
        np.array(gives, dtype=bool),
        np.array([line.start_ms for line in lines]),
        _verdict(labelled, one.asked.move, giving),
    )


def giving_lines(labelled: LabelledClass, move: str, text: str) -> list[int]:
    """Give the numbers of the lines that give a point while its move is set up or done."""
    own = _own_intervals(labelled, move)
    return [
        number
        for number, line in enumerate(labelled.said)
        if _same(text) in map(_same, line.points)
        and any(one.start_ms - LEAD_MS <= line.start_ms <= one.end_ms for one in own)
    ]


def _verdict(labelled: LabelledClass, move: str, giving: Sequence[int]) -> str:
    if not giving:
        return "missing"
    first_end_ms = min(one.end_ms for one in _own_intervals(labelled, move))
    first_said_ms = min(labelled.said[number].start_ms for number in giving)
    return "late" if first_end_ms <= first_said_ms else "said"


def _own_intervals(labelled: LabelledClass, move: str) -> list[TrueInterval]:
    return [one for one in labelled.intervals if _same(one.asked_move) == _same(move)]


def _lines_of_words(labelled: LabelledClass, talk: Talk) -> NDArray[np.intp]:
    """Give for each word heard the number of the line that it is of."""
    heard_as = match_words(labelled, talk)
    exact = np.searchsorted(heard_as, np.arange(len(talk.words)), side="right") - 1
    line_starts = np.array([line.start_ms for line in labelled.said])
    word_starts = np.array([word.start_ms for word in labelled.words])
    line_of_exact = np.searchsorted(line_starts, word_starts, side="right") - 1
    found: NDArray[np.intp] = line_of_exact[np.maximum(exact, 0)]
    return found


def _interval(number: int, one: TrueInterval) -> Interval:
    start, end = (Edge(at_ms, at_ms, at_ms) for at_ms in (one.start_ms, one.end_ms))
    return Interval(
        id=f"i{number}",
        plan_row=one.plan_row,
        block=one.block,
        kind="work",
        round=one.round,
        move=one.asked_move,
        side=one.side,
        planned_ms=one.planned_ms,
        status="done",
        start=start,
        end=end,
        length_low_ms=None,
        length_high_ms=None,
        timing=None,
        planned_rest_ms=None,
        rest_after_ms=None,
    )


def _same(text: object) -> str:
    """Write names one way, so that case, hyphens and spaces do not tell them apart."""
    return " ".join(str(text or "").lower().replace("-", " ").split())
