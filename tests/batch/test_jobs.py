from __future__ import annotations

import json
from dataclasses import replace

from reviewkit.batch.jobs import Failed, Given, Reviewed, Settings, review_job
from reviewkit.read.lexicon import LexiconFile
from tests.batch.classes import job


def test_a_class_becomes_a_document_and_a_review_to_keep() -> None:
    made = review_job(job("monday"))
    assert isinstance(made, Reviewed)
    document = json.loads(made.text)
    assert document["format"] == "reviewkit.review/1"
    assert document["batch"] == {"name": "monday", "digest": made.digest}
    assert [one["move"] for one in document["intervals"]] == ["Squat"]
    assert made.kept.plan_name == "plan.csv"
    assert set(made.kept.scores) == set(document["scores"])


def test_a_class_without_a_plan_has_one_drafted() -> None:
    made = review_job(job("monday", plan=None))
    assert isinstance(made, Reviewed)
    assert made.kept.is_drafted


def test_what_is_wrong_with_a_class_is_one_line() -> None:
    bad = review_job(job("monday", b"nothing"))
    assert isinstance(bad, Failed)
    assert bad.reason.startswith("monday.vtt: no timed speech")
    plan = review_job(job("monday", plan="move,work\nSquat,x\nPlank,y\n"))
    assert isinstance(plan, Failed)
    assert "line 2" in plan.reason
    assert "line 3" in plan.reason
    assert "\n" not in plan.reason


def test_the_digest_changes_with_all_that_the_review_rests_on() -> None:
    one = job("monday")
    assert one.digest() == job("monday").digest()
    others = [
        replace(one, name="tuesday"),
        replace(one, plan=None),
        replace(one, plan=Given("plan.csv", b"move,work\n")),
        replace(one, transcript=Given("monday.vtt", b"other")),
        replace(one, settings=Settings(5000)),
        replace(one, settings=Settings(files=(LexiconFile("rest.csv", "phrase"),))),
        replace(one, settings=Settings(lines=(("rest.csv", "have a sip"),))),
    ]
    assert len({each.digest() for each in (one, *others)}) == 1 + len(others)
