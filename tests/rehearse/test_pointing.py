from __future__ import annotations

from reviewkit.rehearse.pointing import find_kin, order_points
from tests.rehearse.sample import lexicon, plan


def ordered(*texts: str, move: str = "Goblet squat") -> list[tuple[str, bool]]:
    text = f"Main: 40s work\n- {move}" + (f" (say: {'; '.join(texts)};)" if texts else "")
    kin = find_kin(plan(text), lexicon())
    points = order_points(texts, move, asked=texts, kin=kin, lexicon=lexicon())
    return [(one.text, one.is_suggested) for one in points]


def test_the_coachs_own_words_stay_as_they_are_with_safety_in_front() -> None:
    assert ordered("Chest TALL", "knees over the toes")[:2] == [
        ("knees over the toes", False),
        ("Chest TALL", False),
    ]


def test_what_the_plan_asks_for_is_not_suggested_once_more() -> None:
    suggested = [text for text, is_suggested in ordered("knees follow the toes") if is_suggested]
    assert suggested
    assert "knees follow the toes" not in suggested


def test_a_move_that_nobody_knows_has_no_suggestions() -> None:
    assert ordered("smile", move="Zorble") == [("smile", False)]


def test_a_plan_without_points_is_like_nothing() -> None:
    assert find_kin(plan("Main: 40s work\n- Squat"), lexicon()) == {}
