from __future__ import annotations

import json
from dataclasses import replace
from importlib.resources import files
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest

from reviewkit.model import PromptFinding, Review, Word
from reviewkit.report.document import document, document_text, in_class_order
from tests.report.hostile import hostile_review
from tests.report.sample import corrected_review, sample_review

SCHEMA = json.loads(files("reviewkit.report").joinpath("review.schema.json").read_text("utf-8"))


def is_valid(plain: dict[str, Any]) -> bool:
    return bool(jsonschema.Draft202012Validator(SCHEMA).is_valid(plain))


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("review", [sample_review(), hostile_review()], ids=["sample", "hostile"])
def test_every_document_follows_the_schema(review: Review) -> None:
    jsonschema.Draft202012Validator(SCHEMA).validate(json.loads(document_text(review)))


def test_a_class_in_which_nothing_was_heard_follows_the_schema() -> None:
    sample = sample_review()
    heard = replace(
        sample.heard,
        intervals=(),
        marks=(),
        plan=replace(sample.heard.plan, rows=(), is_drafted=True),
        talk=replace(sample.heard.talk, words=()),
    )
    empty: Any = dict.fromkeys(("talk", "moves", "time_calls", "promises", "flags", "fixes"), ())
    plain = document(replace(sample, heard=heard, findings=replace(sample.findings, **empty)))
    assert is_valid(plain)
    assert plain["class"]["plan"] is None


def test_a_move_that_was_never_done_has_no_verdict_of_its_own() -> None:
    sample = sample_review()
    never = tuple(
        replace(one, breathing=PromptFinding("not done")) for one in sample.findings.moves
    )
    plain = document(replace(sample, findings=replace(sample.findings, moves=never)))
    assert {one["breathing"]["verdict"] for one in plain["moves"]} == {"missing"}
    assert is_valid(plain)


@pytest.mark.parametrize("section", ["intervals", "scores", "class", "plan", "cautions"])
def test_the_schema_misses_a_section(section: str) -> None:
    plain = document(sample_review())
    del plain[section]
    assert not is_valid(plain)


def test_intervals_come_in_the_order_they_happened_with_skipped_ones_in_place() -> None:
    sample = sample_review()
    order = (13, 3, 0, 8, 1, 2, 4, 5, 6, 7, 9, 10, 11, 12)
    shuffled = replace(
        sample,
        heard=replace(sample.heard, intervals=tuple(sample.heard.intervals[at] for at in order)),
        findings=replace(sample.findings, talk=tuple(sample.findings.talk[at] for at in order)),
    )
    assert document(shuffled) == document(sample)
    ids = [interval.id for interval, _ in in_class_order(shuffled)]
    assert ids == [*(f"i{row}" for row in range(1, 9)), "a1", *(f"i{row}" for row in range(9, 14))]


def test_a_skipped_first_interval_comes_first() -> None:
    sample = sample_review()
    first = sample.heard.intervals[0]
    skipped = replace(first, status="skipped", start=None, end=None, timing=None)
    heard = replace(sample.heard, intervals=(*sample.heard.intervals[1:], skipped))
    findings = replace(sample.findings, talk=(*sample.findings.talk[1:], None))
    assert document(replace(sample, heard=heard, findings=findings))["intervals"][0]["id"] == "i1"


def test_times_are_seconds_and_missing_ones_null() -> None:
    intervals = {one["id"]: one for one in document(sample_review())["intervals"]}
    long = intervals["i2"]
    assert (long["start_s"], long["end_s"], long["drift_s"]) == (100.6, 157.9, 17.3)
    assert long["start_range_s"] == [100.0, 101.2]
    skipped = intervals["i13"]
    assert skipped["start_s"] is skipped["length_range_s"] is skipped["timing"] is None
    assert intervals["i8"]["done_instead"] == "Star jump"
    assert intervals["a1"]["plan_row"] is intervals["a1"]["planned_s"] is None


def test_a_score_of_nothing_is_null() -> None:
    assert document(sample_review())["scores"]["breathing"]["value"] is None


def test_a_contradiction_carries_both_lines() -> None:
    (flag,) = (one for one in document(sample_review())["flags"] if one["kind"] == "contradiction")
    assert flag["other_at_s"] == 356.0
    assert flag["other_text"]


def test_half_a_surrogate_pair_does_not_stop_the_writing() -> None:
    sample = sample_review()
    fix = replace(sample.findings.fixes[0], how="\ud83d half")
    text = document_text(replace(sample, findings=replace(sample.findings, fixes=(fix,))))
    assert "half" in text.encode("utf-8").decode("utf-8")


def test_sounds_are_not_counted_as_words() -> None:
    sample = sample_review()
    words = sample.heard.talk.words
    sigh = Word("(sighs)", "sighs", words[-1].end_ms, words[-1].end_ms + 300, 0, is_sound=True)
    talk = replace(sample.heard.talk, words=(*words, sigh))
    louder = replace(sample, heard=replace(sample.heard, talk=talk))
    assert document(louder)["class"]["words"] == document(sample)["class"]["words"]


def test_what_the_coach_did_is_in_the_document() -> None:
    plain = json.loads(document_text(corrected_review()))
    jsonschema.Draft202012Validator(SCHEMA).validate(plain)
    squat = plain["intervals"][1]
    assert (squat["by_coach"], squat["set_aside"]) == (True, "we agreed on this")
    assert plain["intervals"][0]["set_aside"] is None
    point = plain["moves"][1]["points"][0]
    assert (point["by_coach"], point["set_aside"]) == (True, None)
    for section in ("time_calls", "promises", "flags"):
        assert plain[section][0]["set_aside"] == "heard wrongly"
        assert plain[section][1]["set_aside"] is None
