from __future__ import annotations

from typing import Any

import pytest

from reviewkit.edits.own_words import OwnWords, gather_own_words
from reviewkit.rehearse.last_time import key_of


def document(verdict: str, *texts: str, **more: Any) -> dict[str, Any]:
    evidence = [{"at_s": 1.0, "text": text} for text in texts]
    point = {"point": "chest tall", "verdict": verdict, "evidence": evidence, **more}
    return {"moves": [{"move": "Goblet squat", "points": [point]}]}


KEY = key_of("goblet squats"), key_of("Chest tall")


def test_the_shortest_whole_words_of_the_latest_class_count() -> None:
    latest = document("said", "lift your chest nice and tall now", "lift your chest")
    found = gather_own_words([("Monday", latest), ("Sunday", document("said", "chest up tall"))])
    assert found == {KEY: OwnWords("lift your chest", "Monday")}


@pytest.mark.parametrize(
    "one",
    [
        document("late", "lift your chest"),
        document("missing"),
        document("said", "chest up"),
        document("said", " ".join(["and"] * 20)),
        document("said", "lift your chest", set_aside="heard wrongly"),
        {},
    ],
    ids=["late", "missing", "too short", "runs on", "set aside", "no moves"],
)
def test_what_did_not_give_the_point_in_time_and_whole_is_left_out(one: dict[str, Any]) -> None:
    assert gather_own_words([("Monday", one)]) == {}
