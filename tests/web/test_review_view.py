from __future__ import annotations

from dataclasses import replace

from reviewkit.report.document import in_class_order
from reviewkit.web.review_view import Finder, review_view
from reviewkit.web.views import IntervalView, ReviewView
from tests.report.hostile import hostile_review
from tests.report.sample import corrected_review, sample_review


def intervals(view: ReviewView) -> dict[str, IntervalView]:
    return {one.item: one for block in view.blocks for one in block.intervals}


def test_every_interval_is_shown_once_in_class_order_with_its_number() -> None:
    review = sample_review()
    shown = list(intervals(review_view(review)).values())
    assert [one.item for one in shown] == [
        f"interval-{one.id}" for one, _ in in_class_order(review)
    ]
    assert [one.number for one in shown] == list(range(1, len(shown) + 1))


def test_verdicts_have_a_tone() -> None:
    shown = intervals(review_view(sample_review()))
    tones = {item: shown[f"interval-{item}"].verdict.tone for item in ("i1", "i2", "i6", "i13")}
    assert tones == {"i1": "", "i2": "off", "i6": "open", "i13": "off"}


def test_what_the_coach_did_is_noted_and_its_verdict_is_off_no_more() -> None:
    view = review_view(corrected_review())
    squat = intervals(view)["interval-i2"].verdict
    assert squat.note == "put right by the coach; set aside: we agreed on this"
    assert (squat.tone, squat.is_aside) == ("", True)
    assert view.asked_points[1].points[0].verdict.note == "put right by the coach"
    assert view.calls[0].verdict.note == "set aside: heard wrongly"
    assert view.promises[0].verdict.note == "set aside: heard wrongly"
    assert view.flags[0].note == "set aside: heard wrongly"
    assert not view.flags[1].note


def test_points_are_parted_by_who_asks_and_suggestions_are_never_off() -> None:
    view = review_view(sample_review())
    asked = [point for move in view.asked_points for point in move.points]
    suggested = [point for move in view.suggested_points for point in move.points]
    findings = [point for move in sample_review().findings.moves for point in move.points]
    assert len(asked) + len(suggested) == len(findings)
    assert {point.verdict.tone for point in asked if point.verdict.word == "missing"} == {"off"}
    assert "off" not in {point.verdict.tone for point in suggested}
    items = [point.item for point in (*asked, *suggested)]
    assert len(set(items)) == len(items)


def test_every_moment_leads_to_the_line_that_was_being_said() -> None:
    review = sample_review()
    find = Finder(review)
    lines = [line for passage in review_view(review).passages for line in passage.lines]
    assert [line.number for line in lines] == list(range(len(lines)))
    assert [line.at.line for line in lines] == list(range(len(lines)))
    for at_ms in (0, 3_000, 66_300, 368_000, 741_000):
        found = lines[find.moment(at_ms).line].at.at_ms
        assert found <= at_ms or find.moment(at_ms).line == 0


def test_the_talk_is_whole_and_knows_its_kinds() -> None:
    review = sample_review()
    lines = [line for passage in review_view(review).passages for line in passage.lines]
    said = " ".join(stretch.text for line in lines for stretch in line.stretches)
    assert said.split() == [word.text for word in review.heard.talk.words]
    risky = [line for line in lines if "risky_talk" in {kind.kind for kind in line.kinds}]
    assert [line.at.clock for line in risky] == ["6:08"]


def test_a_fix_leads_to_its_interval() -> None:
    view = review_view(sample_review())
    numbers = {one.item: one.number for one in intervals(view).values()}
    led = [fix for fix in view.fixes if fix.item]
    assert led
    assert all(numbers[fix.item] == fix.number for fix in led)


def test_an_interval_that_is_gone_is_no_longer_led_to() -> None:
    review = sample_review()
    gone = replace(review.findings.time_calls[0], interval="i99")
    calls = (gone, *review.findings.time_calls[1:])
    view = review_view(replace(review, findings=replace(review.findings, time_calls=calls)))
    assert (view.calls[0].interval_item, view.calls[0].number) == ("", None)


def test_words_from_outside_stay_on_their_line() -> None:
    view = review_view(hostile_review())
    shown = [one.move for one in intervals(view).values()] + [
        call.said.words for call in view.calls
    ]
    assert all("\n" not in words and "\x1b" not in words for words in shown)
