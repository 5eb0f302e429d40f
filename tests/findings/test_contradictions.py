from __future__ import annotations

import pytest

from reviewkit.findings import contradictions
from reviewkit.findings.contradictions import find_contradictions
from reviewkit.model import Flag, HeardClass, Plan, PlanRow, Talk
from reviewkit.read import read_lexicon
from tests.findings.classes import Row, interval
from tests.talking import talk


def flags(first: str, second: str, moves: tuple[str, str] = ("Lunge", "Lunge")) -> tuple[Flag, ...]:
    """Say one line in each of two intervals, one minute apart."""
    early, late = talk(first, start_ms=5_000), talk(second, start_ms=65_000)
    said = talk("")
    said = type(said)((*early.words, *late.words), "words", 0, 120_000)
    rows = [Row(moves[0], 0), Row(moves[1], 60, round=2)]
    spans = tuple(interval(row, number + 1) for number, row in enumerate(rows))
    plan = Plan("plan.csv", tuple(PlanRow(row.move, 40_000, round=row.round) for row in rows))
    return find_contradictions(HeardClass(plan, said, (), spans, read_lexicon()))


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("keep that heel glued down", "don't let the heel lift at all"),
        ("keep your knees apart please", "drive the elbows wide this time"),
        ("lift the heels and then lower the heels", "lower the heels all the way please"),
        ("keep your heels down the whole time", "if your calves are tight let the heels lift"),
        ("breathe in at the top of it", "now hold the breath on the way down"),
        ("how was your weekend then everyone", "it is raining here all day now"),
    ],
    ids=["same pole", "other part", "a movement", "an option", "in, then held", "chat"],
)
def test_what_does_not_contradict(first: str, second: str) -> None:
    assert flags(first, second) == ()


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("heels stay glued to the floor", "now come right up onto your toes heels all lifted"),
        ("elbows stay tucked in to your sides", "this time i want the elbows out wide"),
        ("never lock that standing knee keep it soft", "now lock the knee straight every time"),
        ("knees always stay together", "keep a gap between the knees the whole time"),
        ("hips stay down nice and low", "this time get those hips right up in the air"),
        ("palms face each other all the way", "now turn your palms to the front this time"),
    ],
)
def test_opposites_for_the_same_part_contradict(first: str, second: str) -> None:
    (flag,) = flags(first, second)
    assert flag.kind == "contradiction"
    assert flag.other_at_ms == 5_000
    assert flag.at_ms == 65_000
    assert (flag.other_text, flag.text) == (first, second)


def test_two_moves_may_ask_for_opposites() -> None:
    lines = ("heels stay glued to the floor", "now come right up onto your toes heels all lifted")
    assert flags(*lines, moves=("Squat", "Calf raise")) == ()


@pytest.mark.parametrize(("chance", "flagged"), [(0.01, 0), (0.5, 4)])
def test_each_move_that_is_likely_enough_is_flagged_once(
    monkeypatch: pytest.MonkeyPatch, chance: float, flagged: int
) -> None:
    monkeypatch.setattr(contradictions, "chance_of", lambda *_: chance)
    first = "heels stay glued to the floor"
    second = "this time come right up onto your toes heels all lifted"
    names = ("Squat", "Lunge", "Hinge", "Plank")
    rows = [Row(name, 60 * at) for at, name in enumerate(names * 2)]
    words = [
        word
        for at in range(len(rows))
        for word in talk(first if at < len(names) else second, start_ms=60_000 * at + 5_000).words
    ]
    said = Talk(tuple(words), "words", 0, 480_000)
    spans = tuple(interval(row, number + 1) for number, row in enumerate(rows))
    plan = Plan("plan.csv", tuple(PlanRow(row.move, 40_000) for row in rows))
    assert len(find_contradictions(HeardClass(plan, said, (), spans, read_lexicon()))) == flagged
