from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.edits.cuts import find_trims
from reviewkit.edits.records import Cut, Trim
from reviewkit.edits.timecode import RATES, FrameRate, frame_start_ms, nearest_frame
from reviewkit.model import Clock, Mark, Review, TimeCall, Timing, Word
from reviewkit.times import Span
from tests.edits.classes import mark, review, said
from tests.findings.classes import Row

RATE = RATES["25"]


def cuts_of(trims: tuple[Trim, ...]) -> list[Cut]:
    return [cut for trim in trims for cut in trim.cuts]


def call(at_s: float, claimed_s: float, left_s: float, verdict: str) -> TimeCall:
    made = TimeCall(
        round(1000 * at_s), f"{claimed_s:g} left", "i1", round(1000 * claimed_s),
        round(1000 * left_s), "right",
    )  # fmt: skip
    return made if verdict == "right" else replace(made, verdict="wrong")


# --- what must be left alone --------------------------------------------------------------


def test_an_interval_on_time_is_not_cut() -> None:
    assert find_trims(review([Row("Squat", 10, 41)]), RATE) == ()


@pytest.mark.parametrize("timing", ["unclear", "short", None])
def test_an_interval_without_a_certain_length_is_not_cut(timing: Timing | None) -> None:
    made = review([Row("Squat", 10, 70)])
    interval = replace(made.heard.intervals[0], timing=timing)
    unclear = replace(made, heard=replace(made.heard, intervals=(interval,)))
    assert find_trims(unclear, RATE) == ()


def test_a_rest_whose_ends_may_be_where_it_is_as_planned_is_not_cut() -> None:
    rows = [Row("Squat", 10, 40, rest_s=20), Row("Lunge", 75, 40)]
    assert find_trims(review(rows, unsure_s=3), RATE) == ()
    assert len(find_trims(review(rows, unsure_s=0.5), RATE)) == 1


def test_where_one_stamp_covers_many_words_nothing_is_cut_and_it_is_said() -> None:
    (trim,) = find_trims(review([Row("Squat", 10, 60)], clock="blocks"), RATE)
    assert (trim.cuts, trim.result_ms) == ((), 60_000)


def test_a_count_is_not_cut_however_slow() -> None:
    count = said("three two one", 40, step_ms=4000)
    row = Row("Squat", 38, 14, work_s=6)
    made = review([row], words=count, marks=(mark("count", count, 0, 2),))
    counted = Span(count[0].start_ms, count[-1].end_ms)
    assert not any(cut.span.overlap_ms(counted) for cut in cuts_of(find_trims(made, RATE)))
    assert cuts_of(find_trims(review([row], words=count), RATE))


def test_what_is_kept_for_a_line_is_not_cut() -> None:
    kept = Span(20_000, 60_000)
    (trim,) = find_trims(review([Row("Squat", 10, 60)]), RATE, [kept])
    assert trim.cuts
    assert not any(cut.span.overlap_ms(kept) for cut in trim.cuts)


# --- what is cut --------------------------------------------------------------------------


def test_silence_is_cut_down_to_the_plan() -> None:
    words = (*said("sit back into it", 15), *said("and rest", 68))
    (trim,) = find_trims(review([Row("Squat", 10, 60)], words=words), RATE)
    (cut,) = trim.cuts
    assert cut.kind == "silence"
    assert cut.span.length_ms == 20_000
    assert (trim.length_ms, trim.planned_ms, trim.result_ms) == (60_000, 40_000, 40_000)
    assert 16_600 <= cut.span.start_ms < cut.span.end_ms <= 68_000


def test_a_stretched_rest_is_cut_down_to_the_plan() -> None:
    rows = [Row("Squat", 10, 40, rest_s=20), Row("Lunge", 95, 40)]
    (trim,) = find_trims(review(rows), RATE)
    assert (trim.is_rest, trim.length_ms, trim.result_ms) == (True, 45_000, 20_000)


def test_the_rest_after_the_last_interval_has_no_end() -> None:
    assert find_trims(review([Row("Squat", 10, 40, rest_s=20)]), RATE) == ()


def test_a_cut_that_makes_a_call_true_is_made_before_another() -> None:
    words = (*said("ten left", 39), *said("well done", 61))
    wrong = call(39.8, 10, 30.2, "wrong")
    made = review([Row("Squat", 10, 60)], words=words, calls=(wrong,))
    (trim,) = find_trims(made, RATE)
    assert all(cut.span.start_ms >= wrong.at_ms for cut in trim.cuts)
    assert trim.right_calls == ("10 left",)


def test_no_cut_makes_a_true_call_untrue() -> None:
    """Nearly all the silence is behind the call, and only a part of it may go."""
    busy = [word for at in range(10, 58) for word in said(f"word{at} other{at}", at)]
    words = (*busy, *said("ten left", 59), *said("stop", 69.5))
    true = call(59.8, 10, 10.2, "right")
    (trim,) = find_trims(review([Row("Squat", 10, 60)], words=words, calls=(true,)), RATE)
    behind = sum(cut.span.length_ms for cut in trim.cuts if cut.span.start_ms >= 59_800)
    assert 5_000 < behind < 5_200


def test_talk_that_repeats_is_cut_where_silence_is_too_short() -> None:
    first, again = (said("push the floor away from you", at_s) for at_s in (11, 48.5))
    others = [
        word
        for at_s in (*range(15, 48), *range(52, 56))
        for word in said(f"word{at_s} other{at_s}", at_s - 0.5)
    ]
    words = (*first, *others[:66], *again, *others[66:])
    (trim,) = find_trims(review([Row("Squat", 10, 45)], words=words), RATE)
    (cut,) = [one for one in trim.cuts if one.kind == "repeated talk"]
    assert cut.text == "push the floor away from you"
    assert cut.said_before_ms == 11_000
    assert all(cut.span.start_ms < w.start_ms and w.end_ms < cut.span.end_ms for w in again)


def test_talk_and_the_silence_beside_it_are_one_cut() -> None:
    first, again = (said("push the floor away from you", at_s) for at_s in (11, 50))
    busy = [
        word
        for at_s in (*range(15, 47), *range(55, 64))
        for word in said(f"word{at_s} other{at_s}", at_s - 0.5)
    ]
    words = (*first, *busy[:64], *again, *busy[64:])
    (trim,) = find_trims(review([Row("Squat", 10, 52)], words=words), RATE)
    (cut,) = trim.cuts
    assert cut.kind == "repeated talk"
    assert cut.span.start_ms < 48_000 < 54_000 < cut.span.end_ms


# --- laws ---------------------------------------------------------------------------------


@st.composite
def long_classes(draw: st.DrawFn) -> Review:
    """Draw intervals that ran long and rests that were stretched, with any talk in them."""
    rows: list[Row] = []
    words: list[Word] = []
    marks: list[Mark] = []
    at_ms = draw(st.integers(0, 9_000))
    for _ in range(draw(st.integers(1, 4))):
        start_s, length_s = at_ms / 1000, draw(st.integers(20_000, 90_000)) / 1000
        rows.append(Row("Squat", start_s, length_s, work_s=20, rest_s=10))
        at_ms += round(1000 * length_s) + draw(st.integers(0, 40_000))
    now_ms = 0
    vocabulary = st.sampled_from(["push", "floor", "away", "tall", "chest", "hold", "and"])
    while now_ms < at_ms:
        text = draw(st.lists(vocabulary, min_size=1, max_size=6))
        line = said(" ".join(text), now_ms / 1000, spread_ms=draw(st.integers(0, 400)))
        if draw(st.booleans()) and len(line) > 1:
            first = len(words)
            last = first + len(line) - 1
            marks.append(Mark("count", first, last, line[0].start_ms, line[-1].end_ms, "three two"))
        words += line
        now_ms = line[-1].end_ms + draw(st.integers(50, 15_000))
    clocks: tuple[Clock, ...] = ("words", "captions")
    clock = draw(st.sampled_from(clocks))
    unsure_s = draw(st.sampled_from([0.0, 0.4, 1.5]))
    return review(rows, words=tuple(words), marks=tuple(marks), clock=clock, unsure_s=unsure_s)


@given(made=long_classes(), rate=st.sampled_from([*RATES.values()]))
def test_cuts_are_disjoint_inside_clear_of_words_and_on_frames(
    made: Review, rate: FrameRate
) -> None:
    trims = find_trims(made, rate)
    cuts = sorted(cuts_of(trims), key=lambda cut: cut.span)
    for before, after in pairwise(cuts):
        assert before.span.end_ms <= after.span.start_ms
    for trim in trims:
        first, last = certain(trim, made)
        assert trim.planned_ms <= trim.result_ms == trim.length_ms - trim.cut_ms
        for cut in trim.cuts:
            assert first <= cut.span.start_ms < cut.span.end_ms <= last
            assert all(is_clear(word, cut) for word in made.heard.talk.words)
            for at_ms in (cut.span.start_ms, cut.span.end_ms):
                assert frame_start_ms(nearest_frame(at_ms, rate), rate) == at_ms
            assert not any(
                cut.span.overlap_ms(Span(one.start_ms, one.end_ms)) for one in made.heard.marks
            )


def certain(trim: Trim, made: Review) -> tuple[int, int]:
    """Give the part of what was too long that lies inside it nine times in ten."""
    start, end = trim.interval.start, trim.interval.end
    assert start
    assert end
    if not trim.is_rest:
        return start.high_ms, end.low_ms
    edges = [one.start for one in made.heard.intervals if one.start]
    return end.high_ms, next(edge.low_ms for edge in edges if edge.at_ms > end.at_ms)


def is_clear(word: Word, cut: Cut) -> bool:
    """Tell whether a cut goes through no word, and touches one only to take its line out."""
    is_outside = word.end_ms < cut.span.start_ms or cut.span.end_ms < word.start_ms
    is_whole = cut.span.start_ms < word.start_ms and word.end_ms < cut.span.end_ms
    return is_outside or (cut.kind == "repeated talk" and is_whole and word.text in cut.text)
