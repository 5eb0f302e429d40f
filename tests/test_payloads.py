from __future__ import annotations

from typing import get_args

import pytest
from hypothesis import given

from reviewkit.model import (
    Correction,
    DoneInterval,
    MarkedPoint,
    MovedEdge,
    NamedMove,
    SetAside,
)
from reviewkit.payloads import from_payload, to_payload
from tests.store.build import corrections


@given(corrections)
def test_a_correction_comes_back_as_it_was(correction: Correction) -> None:
    assert from_payload(*to_payload(correction)) == correction


def test_every_kind_of_correction_has_a_name_in_the_file() -> None:
    """These names are in files that coaches have: none is ever changed."""
    named = [
        to_payload(MovedEdge("1", "start", 0))[0],
        to_payload(NamedMove("1", "Squat"))[0],
        to_payload(DoneInterval("1", 0, 1))[0],
        to_payload(MarkedPoint("Squat", "knees out", "missing"))[0],
        to_payload(SetAside("length 1", "the music stopped"))[0],
    ]
    assert named == ["moved edge", "named move", "done interval", "marked point", "set aside"]
    assert len(named) == len(get_args(Correction))


def test_a_field_that_came_later_takes_its_default() -> None:
    payload = '{"move": "Squat", "point": "knees out", "verdict": "missing"}'
    assert from_payload("marked point", payload) == MarkedPoint("Squat", "knees out", "missing")


@pytest.mark.parametrize(
    ("kind", "payload"),
    [
        pytest.param("moved mountain", "{}", id="unknown kind"),
        pytest.param("set aside", '{"finding": "length 1"}', id="a field is missing"),
        pytest.param("set aside", '{"finding": "", "reason": "", "x": 1}', id="unknown field"),
        pytest.param("set aside", '["a", "b"]', id="no fields"),
        pytest.param("set aside", '{"finding": ', id="no JSON"),
    ],
)
def test_what_is_no_correction_is_refused(kind: str, payload: str) -> None:
    with pytest.raises(ValueError, match="is no correction"):
        from_payload(kind, payload)
