from __future__ import annotations

import copy
import json

from reviewkit.batch.summary import MOST_EXAMPLES, Document, summarise, summary_document
from reviewkit.report.document import document
from tests.report.sample import sample_review

SAMPLE: Document = json.loads(json.dumps(document(sample_review())))


def changed(**parts: object) -> Document:
    return {**copy.deepcopy(SAMPLE), **parts}


def point(verdict: str, set_aside: str | None = None) -> Document:
    return {
        "point": "knees out",
        "kind": "safety",
        "asked_by": "plan",
        "verdict": verdict,
        "set_aside": set_aside,
    }


def test_nothing_sums_up_to_nothing() -> None:
    summary = summarise([])
    assert summary.classes == 0
    assert not summary.points
    assert not summary.scores


def test_points_are_counted_by_class_whatever_the_case_of_the_name() -> None:
    moves = [
        [{"move": "Squat", "points": [point("missing")]}],
        [{"move": "squat ", "points": [point("late")]}],
        [{"move": "SQUAT", "points": [point("said")]}],
        [{"move": "Squat", "points": [point("missing", "said on screen")]}],
    ]
    summary = summarise([(str(at), changed(moves=one)) for at, one in enumerate(moves)])
    (found,) = summary.points
    assert (found.move, found.point) == ("Squat", "knees out")
    assert (found.classes, found.said, found.late, found.missing) == (3, 1, 1, 1)
    assert summary.safety == (found,)


def test_lengths_are_counted_by_interval_and_moves_by_class() -> None:
    def interval(timing: str | None, drift_s: float | None, status: str = "done") -> Document:
        return {
            "plan_row": 1, "move": "Plank", "kind": "work", "status": status,
            "timing": timing, "drift_s": drift_s, "set_aside": None,
        }  # fmt: skip

    intervals = [
        interval("long", 9.0), interval("short", -4.0), interval("unclear", 1.0),
        interval(None, None, "skipped"), {**interval("long", 30.0), "set_aside": "meant"},
        {**interval("long", 30.0), "plan_row": None},
    ]  # fmt: skip
    (found,) = summarise([("a", changed(intervals=intervals))] * 2).lengths
    assert (found.classes, found.done, found.skipped) == (2, 6, 2)
    assert (found.on_time, found.long, found.short, found.unclear) == (0, 2, 2, 2)
    assert found.typical_drift_s == 1.0


def test_the_sample_is_summed_up_as_it_says_itself() -> None:
    summary = summarise([("a", SAMPLE), ("b", SAMPLE)])
    risky = [one for one in SAMPLE["flags"] if one["kind"] == "risky_talk"]
    broken = [one for one in SAMPLE["promises"] if one["verdict"] == "broken"]
    assert summary.risky_lines == 2 * len(risky)
    assert sum(one.broken for one in summary.promises) == 2 * len(broken)
    assert {one.name for one in summary.risky} == {"a", "b"}
    assert summary.clocks == {SAMPLE["class"]["timing"]["kind"]: 2}


def test_examples_are_few_and_all_are_counted() -> None:
    summary = summarise((str(at), SAMPLE) for at in range(MOST_EXAMPLES + 50))
    assert len(summary.risky) == MOST_EXAMPLES
    assert summary.risky_lines >= MOST_EXAMPLES + 50


def test_the_document_is_json_and_carries_cautions() -> None:
    made = summary_document(summarise([("a", SAMPLE)]), [("b", "why")], [])
    again = json.loads(json.dumps(made, allow_nan=False))
    assert again["format"] == "reviewkit.summary/1"
    assert again["failed"] == [{"name": "b", "reason": "why"}]
    assert again["cautions"]
