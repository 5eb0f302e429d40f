from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.findings.point_features import FEATURES, AskedPoint, Candidates
from reviewkit.findings.point_summary import SUMMARY, TIMING, share_out, summarise, time_all
from reviewkit.model import Point
from reviewkit.read import read_lexicon

LINES = 3
ODDS = st.lists(st.floats(-40, 40), min_size=LINES, max_size=LINES)


def candidates(move: str, text: str, point: Point | None = None) -> Candidates:
    features = np.zeros((LINES, len(FEATURES)))
    return Candidates(AskedPoint(move, text, point), np.arange(LINES), features, "", 0.0, 10_000)


@given(st.lists(ODDS, min_size=1, max_size=4))
def test_the_points_of_a_move_share_an_utterance(odds: list[list[float]]) -> None:
    asked = [candidates("Squat", str(number)) for number in range(len(odds))]
    chances = np.array(share_out(asked, [np.array(one) for one in odds]))
    assert (chances >= 0).all()
    assert (chances.sum(axis=0) <= 1 + 1e-9).all()
    for line in range(LINES):
        order = np.argsort([one[line] for one in odds])
        assert (np.diff(chances[order, line]) >= -1e-9).all()


def test_a_point_of_another_move_takes_nothing_away() -> None:
    asked = [candidates("Squat", "knees out"), candidates("Row", "back flat")]
    first, second = share_out(asked, [np.zeros(LINES), np.full(LINES, 9.0)])
    assert first == pytest.approx(np.full(LINES, 0.5))
    assert (second > 0.99).all()


def test_points_of_the_lexicon_give_way_to_the_plan_s_and_not_to_one_another() -> None:
    known = read_lexicon().points
    asked = [
        candidates("Squat", "knees out"),
        candidates("Squat", "a", known[0]),
        candidates("Squat", "b", known[1]),
    ]
    plan, one, other = share_out(asked, [np.full(LINES, 2.0), np.zeros(LINES), np.zeros(LINES)])
    assert plan == pytest.approx(np.exp(2) / (1 + np.exp(2)))
    assert one == pytest.approx(1 / (2 + np.exp(2)))
    assert other == pytest.approx(one)


def test_the_coach_s_other_points_count_from_five_others_on() -> None:
    asked = [candidates("Squat", str(number)) for number in range(7)]
    chances = [np.full(LINES, 0.9)] * 6 + [np.full(LINES, 0.5)]
    rows = summarise(asked, chances)
    others = SUMMARY.index("least_of_others")
    assert rows[0, others] == pytest.approx(0.0, abs=1e-6)
    assert rows[6, others] == pytest.approx(1.5)
    assert not summarise(asked[:5], chances[:5])[:, others].any()


def test_no_talk_sums_up_to_next_to_no_chance() -> None:
    empty = replace(candidates("Squat", "knees out"), features=np.zeros((0, len(FEATURES))))
    ((best, _, share, *meant),) = summarise([empty], [np.zeros(0)])
    assert best < -9
    assert share == pytest.approx(np.log(0.01))
    assert not any(meant)


def test_what_is_said_again_and_again_counts_more_than_what_is_said_once() -> None:
    asked = [candidates("Squat", "knees out"), candidates("Squat", "chest up")]
    rows = summarise(asked, [np.array([0.6, 0.0, 0.0]), np.array([0.6, 0.6, 0.6])])
    best, share = map(SUMMARY.index, ("best", "share"))
    assert rows[0, best] == rows[1, best]
    assert rows[0, share] < rows[1, share]


def test_a_point_has_the_less_of_its_move_s_cues_the_more_of_them_there_are() -> None:
    sparing, busy = candidates("Squat", "knees out"), candidates("Row", "back flat")
    busy.features[:, FEATURES.index("in_interval")] = 1
    busy.features[:, FEATURES.index("gives")] = (-9.0, 5.0, 5.0)
    rows = summarise([sparing, busy], [np.array([0.9, 0.0, 0.0])] * 2)
    share = SUMMARY.index("share")
    assert rows[0, share] - rows[1, share] == pytest.approx(np.log(3), abs=0.01)


def test_a_point_is_meant_as_its_likely_utterances_are() -> None:
    one = candidates("Squat", "knees out")
    one.features[:, FEATURES.index("mine")] = (2.0, 0.0, 0.0)
    story, cue = (summarise([one], [np.array(chance)])[0] for chance in ([0.8, 0.2, 0], [0, 1, 0]))
    mine = SUMMARY.index("mine")
    assert story[mine] == pytest.approx(1.6)
    assert cue[mine] == 0


def test_timing_tells_words_before_the_first_end_from_later_ones() -> None:
    starts = [np.array([1_000, 9_999, 10_000])] * 2
    asked = [candidates("Squat", "x"), candidates("Squat", "y")]
    chances = [np.array([0.9, 0.1, 0.1]), np.array([0.1, 0.1, 0.9])]
    of = dict(zip(TIMING, time_all(asked, chances, starts).T, strict=True))
    assert of["early"][0] > of["early"][1]
    assert of["best"][0] == of["best"][1]
    assert of["early_times"][0] > of["early_times"][1]
    assert of["later_times"][0] < of["later_times"][1]
    assert of["after"] == pytest.approx((1 / 3, 1 / 3))


def test_how_long_reminders_are_is_told_by_the_plan_s_other_points() -> None:
    asked = [candidates("Squat", "x"), candidates("Squat", "y"), candidates("Row", "z")]
    asked.append(candidates("Row", "lexicon's", read_lexicon().points[0]))
    for one, length in zip(asked, (9.0, 1.0, 1.0, 9.0), strict=True):
        one.features[:, FEATURES.index("length")] = length
    chances = [np.full(LINES, 0.5)] * len(asked)
    late, soon = np.full(LINES, 20_000), np.zeros(LINES)
    reminders = TIMING.index("reminders")
    rows = time_all(asked, chances, [late] * len(asked))
    assert rows[0, reminders] < rows[3, reminders] < rows[1, reminders]
    none = time_all(asked, chances, [soon] * len(asked))
    assert none[:, reminders] == pytest.approx(none[0, reminders])
