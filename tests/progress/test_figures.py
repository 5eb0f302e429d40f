from __future__ import annotations

import pytest

from reviewkit.progress.figures import FIGURES
from tests.progress.build import a_document, a_record


def test_every_figure_is_there_in_order() -> None:
    assert [*a_record().figures] == [one.key for one in FIGURES]


def test_figures_are_those_of_the_document() -> None:
    made = a_document(timing=61.5)
    made["profile"]["filler_share"] = 0.04
    found = a_record(made=made).figures
    asked = [
        point["verdict"]
        for move in made["moves"]
        for point in move["points"]
        if point["asked_by"] == "plan" and not point["set_aside"]
    ]
    assert found["timing"] == 61.5
    assert found["missing_share"] == pytest.approx(asked.count("missing") / len(asked), abs=1e-4)
    assert found["filler_share"] == 0.04
    assert found["risky_lines"] == sum(
        one["kind"] == "risky_talk" and not one["set_aside"] for one in made["flags"]
    )


def test_unclear_intervals_say_nothing_of_being_on_time() -> None:
    made = a_document()
    for one in made["intervals"]:
        one["timing"] = "unclear"
    assert a_record(made=made).figures["on_time_share"] is None


def test_what_is_set_aside_counts_nowhere() -> None:
    made = a_document()
    for one in (*made["flags"], *made["promises"], *made["time_calls"], *made["intervals"]):
        one["set_aside"] = "as agreed"
    for move in made["moves"]:
        for point in move["points"]:
            point["set_aside"] = "as agreed"
    record = a_record(made=made)
    assert record.points == ()
    assert (record.figures["risky_lines"], record.figures["broken_promises"]) == (0, 0)
    for key in ("missing_share", "calls_right_share", "on_time_share", "drift_median_s"):
        assert record.figures[key] is None


def test_the_lexicons_points_count_where_the_plan_asks_for_none() -> None:
    made = a_document()
    for move in made["moves"]:
        move["points"] = [one for one in move["points"] if one["asked_by"] == "lexicon"]
        for point in move["points"]:
            point["verdict"] = "missing"
    assert a_record(made=made).figures["missing_share"] == 1


def test_a_class_without_a_word_has_no_figures() -> None:
    made = a_document()
    made["class"]["words"] = 0
    assert not any(value is not None for value in a_record(made=made).figures.values())
