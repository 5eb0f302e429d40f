from __future__ import annotations

from dataclasses import replace

import pytest

from reviewkit.model import MarkedPoint, PointFinding
from reviewkit.read import read_lexicon
from reviewkit.web.card_views import LexiconOffer
from reviewkit.web.offers import offer_of, own_id

KNOWN = PointFinding("knees out", "safety", "plan", "said", point_id="knees-track-toes")
OWN = PointFinding('wrists "like" a waiter\'s', "safety", "plan", "missing", line="Wrists flat.")
SAID = MarkedPoint("Squat", "knees out", "said", 5000, "Steer, your knees")


def offered(
    point: PointFinding, said: MarkedPoint = SAID, own_lines: tuple[tuple[str, str], ...] = ()
) -> LexiconOffer | None:
    return offer_of(said, point, read_lexicon(own_lines=own_lines))


@pytest.mark.parametrize(
    "said",
    [
        pytest.param(replace(SAID, verdict="missing", text="", at_ms=None), id="not said"),
        pytest.param(replace(SAID, text="  "), id="no words"),
        pytest.param(replace(SAID, text="Knees over your toes"), id="known words"),
    ],
)
def test_nothing_is_offered_where_there_is_nothing_new(said: MarkedPoint) -> None:
    assert offered(KNOWN, said) is None
    assert offer_of(said, None, read_lexicon()) is None


def test_words_for_a_known_point_are_offered_until_they_are_there() -> None:
    offer = offered(KNOWN)
    assert offer == LexiconOffer(
        "steer, your knees", "knees out", "point_lines.csv", '"steer, your knees",knees-track-toes'
    )
    assert offered(KNOWN, own_lines=((offer.file, offer.line),)) is None


def test_a_point_that_is_not_known_becomes_one_of_the_coachs_own() -> None:
    first = offered(OWN)
    assert first is not None
    assert (first.file, first.is_new_point) == ("points.toml", True)
    lexicon = read_lexicon(own_lines=[(first.file, first.line)])
    own = lexicon.points[-1]
    assert (own.id, own.kind, own.say) == (own_id(OWN.point), "safety", OWN.point)
    assert (own.line, own.phrases) == ("Wrists flat.", ("steer, your knees",))
    assert offered(OWN, own_lines=((first.file, first.line),)) is None


def test_more_words_for_a_point_of_ones_own_leave_those_before() -> None:
    first = offered(OWN)
    assert first is not None
    lines = ((first.file, first.line),)
    more = offered(OWN, replace(SAID, text="tray up"), lines)
    assert more is not None
    assert not more.is_new_point
    lexicon = read_lexicon(own_lines=[*lines, (more.file, more.line)])
    assert lexicon.points[-1].phrases == ("steer, your knees", "tray up")
