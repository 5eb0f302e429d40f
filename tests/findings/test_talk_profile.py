import pytest

from reviewkit.findings.talk_profile import profile_talk
from reviewkit.model import Edge, HeardClass, Interval, Lexicon, Mark, Plan, Side
from tests.talking import talk


def interval(number: int, start_ms: int, *, side: Side = "") -> Interval:
    start, end = (Edge(at, at, at) for at in (start_ms, start_ms + 60_000))
    return Interval(
        id=f"i{number}", plan_row=number, block="Main", kind="work", round=number, move="Squat",
        side=side, planned_ms=60_000, status="done", start=start, end=end, length_low_ms=60_000,
        length_high_ms=60_000, timing="on time", planned_rest_ms=None, rest_after_ms=None,
    )  # fmt: skip


def line(kind: str, first: int, at_ms: int, text: str) -> Mark:
    return Mark(kind, first, first, at_ms, at_ms + 300, text, "line")


def heard(*marks: Mark, said: str = "up [80] up") -> HeardClass:
    intervals = (interval(1, 0, side="left"), interval(2, 70_000, side="right"))
    return HeardClass(Plan("plan", ()), talk(said), marks, intervals, Lexicon((), (), {}))


def test_silent_class_has_nothing_to_share() -> None:
    profile = dict(profile_talk(heard(said="")))
    assert profile["filler_share"] is None
    assert profile["praise_specific_share"] is None


def test_coaching_that_fades() -> None:
    marks = [line("form", n, 1000 * n, "heels down") for n in range(4)]
    profile = dict(profile_talk(heard(*marks, line("form", 9, 80_000, "heels down"))))
    assert profile["cues_per_min_round_1"] == 4
    assert profile["last_round_to_first_ratio"] == 0.25


def test_praise_that_names_what_was_good() -> None:
    marks = (
        line("motivation", 0, 0, "lovely flat backs"),
        line("form", 0, 0, "lovely flat backs"),
        line("motivation", 3, 9000, "well done"),
    )
    assert dict(profile_talk(heard(*marks)))["praise_specific_share"] == 0.5


@pytest.mark.parametrize(
    ("text", "share"), [("don't let the knees cave in", 1.0), ("push the knees out", 0.0)]
)
def test_cues_worded_as_dont(text: str, share: float) -> None:
    assert dict(profile_talk(heard(line("form", 0, 0, text))))["dont_cue_share"] == share


def test_both_sides_coached_alike() -> None:
    assert dict(profile_talk(heard()))["side_evenness_ratio"] == 1.0
    uneven = heard(said="up up up up [80] up")
    assert dict(profile_talk(uneven))["side_evenness_ratio"] == pytest.approx(0.25)
