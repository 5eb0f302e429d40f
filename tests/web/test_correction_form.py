# ruff: noqa: E501 - one case a line reads better than cases broken up
from __future__ import annotations

import pytest

from reviewkit.errors import InputError
from reviewkit.model import Correction, DoneInterval, MarkedPoint, MovedEdge, NamedMove, SetAside
from reviewkit.web.correction_form import read_corrections
from tests.report.sample import sample_review

EDGES = {
    "correct": "edges", "interval": "i2",
    "start_minutes": "1", "start_seconds": "40.6", "end_minutes": "2", "end_seconds": "37.9",
}  # fmt: skip
DONE = EDGES | {"correct": "done", "interval": "i13"}
MOVE = {"correct": "move", "interval": "i2"}
POINT = {
    "correct": "point", "of_move": "Bodyweight squat", "point": "knees over the toes",
    "verdict": "said", "line": "108000",
}  # fmt: skip
ASIDE = {"correct": "aside", "finding": "length i2", "reason": "we agreed on this"}


def read(form: dict[str, str], **changed: str) -> tuple[Correction, ...]:
    fields = form | changed
    return read_corrections(lambda name: fields.get(name, ""), sample_review())


@pytest.mark.parametrize(
    ("form", "changed", "expected"),
    [
        pytest.param(EDGES, {"end_seconds": "20"}, (MovedEdge("i2", "end", 140_000),), id="end"),
        pytest.param(EDGES, {"start_seconds": "41,5"}, (MovedEdge("i2", "start", 101_500),), id="start"),
        pytest.param(
            EDGES, {"start_minutes": "0", "end_minutes": "3"},
            (MovedEdge("i2", "start", 40_600), MovedEdge("i2", "end", 217_900)), id="both",
        ),
        pytest.param(DONE, {}, (DoneInterval("i13", 100_600, 157_900),), id="done after all"),
        pytest.param(MOVE, {"move": "plan:Plank hold"}, (NamedMove("i2", "Plank hold"),), id="plan's"),
        pytest.param(MOVE, {"move": "other", "other": " Bear  crawl "}, (NamedMove("i2", "Bear crawl"),), id="other"),
        pytest.param(MOVE, {"move": "none"}, (NamedMove("i2", ""),), id="none"),
        pytest.param(
            POINT, {},
            (MarkedPoint("Bodyweight squat", "knees over the toes", "said", 108_000, "let the knees follow the toes"),),
            id="said by a line",
        ),
        pytest.param(
            POINT, {"words": "Knees, follow"},
            (MarkedPoint("Bodyweight squat", "knees over the toes", "said", 108_680, "knees follow"),),
            id="said by some of its words",
        ),
        pytest.param(
            POINT, {"verdict": "missing"},
            (MarkedPoint("Bodyweight squat", "knees over the toes", "missing"),), id="not said",
        ),
        pytest.param(ASIDE, {}, (SetAside("length i2", "we agreed on this"),), id="aside"),
        pytest.param(
            ASIDE, {"finding": "point Bodyweight squat: knees over the toes"},
            (SetAside("point Bodyweight squat: knees over the toes", "we agreed on this"),),
            id="point aside",
        ),
    ],
)  # fmt: skip
def test_a_form_becomes_corrections(
    form: dict[str, str], changed: dict[str, str], expected: tuple[Correction, ...]
) -> None:
    assert read(form, **changed) == expected


@pytest.mark.parametrize(
    ("form", "changed", "problem"),
    [
        pytest.param(EDGES, {}, "Began and Ended: are as before", id="nothing moved"),
        pytest.param(EDGES, {"end_minutes": "1"}, "Ended: must lie after", id="ends first"),
        pytest.param(EDGES, {"end_minutes": "two"}, "Ended: must be minutes", id="no number"),
        pytest.param(EDGES, {"end_seconds": "nan"}, "Ended: must be minutes", id="not a number"),
        pytest.param(EDGES, {"end_seconds": "inf"}, "Ended: must be minutes", id="without end"),
        pytest.param(EDGES, {"end_seconds": "75"}, "Ended: takes 0 to", id="too many seconds"),
        pytest.param(EDGES, {"start_minutes": "-1"}, "Began: takes 0 to", id="before the start"),
        pytest.param(EDGES, {"interval": "i99"}, "interval: is no longer", id="no interval"),
        pytest.param(EDGES, {"interval": "i13"}, "interval: is no longer", id="a skipped one"),
        pytest.param(DONE, {"interval": "i99"}, "interval: is no longer", id="nothing to be done"),
        pytest.param(DONE, {"end_minutes": "1"}, "Ended: must lie after", id="done backwards"),
        pytest.param(MOVE, {"move": "other"}, "Another move: needs a name", id="no name"),
        pytest.param(MOVE, {"move": ""}, "Another move: needs a name", id="no choice"),
        pytest.param(MOVE, {"move": "plan:Swim"}, "Move: is none of the plan's", id="not planned"),
        pytest.param(POINT, {"line": ""}, "Line: is not chosen", id="no line"),
        pytest.param(POINT, {"line": "5"}, "Line: is no longer", id="unknown line"),
        pytest.param(POINT, {"words": "heavy heels"}, "Only these words: must stand", id="other words"),
        pytest.param(POINT, {"words": "..."}, "Only these words: must stand", id="no words"),
        pytest.param(POINT, {"point": "smile"}, "point: is no longer", id="unknown point"),
        pytest.param(ASIDE, {"reason": " "}, "Reason: is empty", id="no reason"),
        pytest.param(ASIDE, {"finding": "length i99"}, "finding: is no longer", id="no finding"),
        pytest.param({}, {}, "correction: is of no known kind", id="nothing"),
    ],
)  # fmt: skip
def test_what_cannot_be_used_is_said(
    form: dict[str, str], changed: dict[str, str], problem: str
) -> None:
    with pytest.raises(InputError) as raised:
        read(form, **changed)
    assert str(raised.value).startswith(problem)
