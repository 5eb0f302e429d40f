from __future__ import annotations

import pytest

from reviewkit.model import PlanRow
from reviewkit.rehearse.sheet import STEADY_BREATH, breath_line, time_calls
from tests.rehearse.sample import CROWDED, last_document, lexicon, sheet


def test_a_plan_without_points_warns_of_nothing() -> None:
    made = sheet("Main: 40s work\n- Zorble\n- Zorble\n")
    assert [cue.points for cue in made.cues] == [(), ()]
    assert [cue.is_first for cue in made.cues] == [True, False]
    assert not any(cue.time.over_ms for cue in made.cues)


def test_every_interval_has_its_clock() -> None:
    clock = [(cue.start_ms // 1000, cue.end_ms // 1000) for cue in sheet().cues]
    assert clock == [(0, 30), (30, 70), (90, 130), (190, 230), (250, 290), (310, 350)]


def test_points_are_due_in_the_first_interval_of_a_move_and_named_again_later() -> None:
    cues = sheet().cues
    own = [[one.text for one in cue.points if not one.is_suggested] for cue in cues]
    assert own[1] == ["knees over the toes", "chest tall"]
    assert own[3] == []
    assert cues[3].again == ("chest tall", "knees over the toes")
    assert not cues[3].is_first


def test_a_point_that_only_a_later_round_asks_for_is_due_there() -> None:
    text = 'move,round,work,must_say\nSquat,1,40s,"chest tall"\nSquat,2,40s,"chest tall;sit back"\n'
    later = sheet(text).cues[1]
    assert [one.text for one in later.points] == ["sit back"]
    assert later.again == ("chest tall",)


def test_points_come_one_after_the_other_before_the_start_where_there_is_rest() -> None:
    cues = sheet().cues
    assert {one.place for one in cues[2].points if not one.is_suggested} == {"before"}
    first = [one for one in cues[1].points if not one.is_suggested]
    assert [one.place for one in first] == ["first third", "first third"]
    assert first[0].until_ms < first[1].until_ms


def test_points_without_time_in_the_first_third_are_told() -> None:
    places = [one.place for one in sheet(CROWDED).cues[0].points]
    assert places[-1] == "later"


def test_it_is_seen_where_points_cannot_be_said_in_the_time() -> None:
    time = sheet(CROWDED).cues[0].time
    assert time.free_ms == 20_000
    # Ten words of name, breath and call and 8 points of 9 words, at 150 words a minute.
    assert time.needed_ms == pytest.approx(33_000, abs=1500)
    assert time.over_ms == round(time.needed_ms / 0.6) - 20_000


def test_a_slower_coach_needs_more_time() -> None:
    slow = last_document(profile={"words_per_min": 50.0, "talk_share": 0.5})
    usual, own = sheet(), sheet(document=slow)
    assert (usual.rate.is_own, own.rate.is_own) == (False, True)
    assert own.cues[1].time.needed_ms > usual.cues[1].time.needed_ms


def test_what_was_missing_or_late_last_time_stands_at_its_point() -> None:
    made = sheet(document=last_document())
    squat, row = made.cues[1], made.cues[2]
    assert {one.text: one.last for one in squat.points if not one.is_suggested} == {
        "chest tall": "late",
        "knees over the toes": "",
    }
    assert {one.last for one in row.points if not one.is_suggested} == {"missing"}
    assert (squat.is_breath_missing, row.is_breath_missing) == (True, False)
    assert (squat.are_ways_missing, row.are_ways_missing) == (False, True)
    assert made.cues[3].calls_last
    assert not squat.calls_last


def test_a_sheet_without_an_earlier_review_claims_nothing_about_last_time() -> None:
    made = sheet()
    assert not made.last_source
    assert not any(one.last for cue in made.cues for one in cue.points)
    assert not any("review" in caution for caution in made.cautions)


@pytest.mark.parametrize(
    ("work_s", "side", "calls"),
    [
        (10, "", []),
        (20, "", [(110, "ten seconds left")]),
        (40, "", [(120, "halfway"), (130, "ten seconds left")]),
        (30, "", [(115, "halfway")]),
        (40, "each", [(120, "change sides"), (130, "ten seconds left")]),
        (10, "each", [(105, "change sides")]),
        (200, "", [(200, "halfway"), (240, "one minute left"), (290, "ten seconds left")]),
    ],
    ids=["short", "no half", "both", "too close", "sides", "short sides", "long"],
)
def test_time_calls_are_on_the_clock_of_the_class(
    work_s: int, side: str, calls: list[tuple[int, str]]
) -> None:
    row = PlanRow("Squat", 1000 * work_s, side=side)  # type: ignore[arg-type]
    assert [(one.at_ms // 1000, one.text) for one in time_calls(100_000, row)] == calls


def test_breath_goes_out_on_the_phase_that_the_lexicon_knows() -> None:
    assert breath_line("Goblet squat", lexicon()) == "breathe out as you come up"
    assert breath_line("Dumbbell shoulder press", lexicon()) == "breathe out as you press"
    assert breath_line("Calf stretch", lexicon()) == STEADY_BREATH
    assert breath_line("Zorble", lexicon()) == STEADY_BREATH


def test_easier_and_harder_ways_are_those_of_the_kind_of_move() -> None:
    cues = sheet().cues
    assert "chair" in cues[1].easier
    assert cues[1].harder
    assert (cues[0].easier != "", cues[0].harder) == (True, "")
