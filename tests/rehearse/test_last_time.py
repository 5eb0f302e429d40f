from __future__ import annotations

import json

import pytest

from reviewkit.errors import InputError
from reviewkit.rehearse.last_time import key_of, parse_last_time
from tests.rehearse.sample import last_document


def test_what_was_said_in_time_is_not_remembered() -> None:
    last = parse_last_time("review.json", json.dumps(last_document()))
    squat = last.moves[key_of("goblet squats")]
    assert dict(squat.points) == {key_of("chest tall"): "late"}
    assert squat.is_breath_missing
    assert not squat.are_ways_missing


def test_what_the_coach_set_aside_is_not_remembered() -> None:
    document = last_document()
    document["moves"][0]["points"][0]["set_aside"] = "I showed it"
    document["time_calls"][0]["set_aside"] = "a joke"
    last = parse_last_time("review.json", json.dumps(document))
    assert not last.moves[key_of("goblet squat")].points
    assert not last.calls


def test_wrong_time_calls_are_known_by_move_and_round() -> None:
    last = parse_last_time("review.json", json.dumps(last_document()))
    assert dict(last.calls) == {
        (key_of("Goblet squat"), 2): ("“halfway” came with 10 s left, not 20 s",)
    }


@pytest.mark.parametrize(
    ("profile", "rate"),
    [
        ({"words_per_min": 90.0, "talk_share": 0.5}, 180),
        ({"words_per_min": 90.0, "talk_share": None}, None),
        ({"words_per_min": 90.0, "talk_share": 0.01}, None),
        ({"words_per_min": None, "talk_share": 0.5}, None),
        ({}, None),
    ],
    ids=["pace while speaking", "coarse clock", "odd times", "no words", "nothing measured"],
)
def test_the_pace_is_that_of_speech_without_its_pauses(
    profile: dict[str, float | None], rate: int | None
) -> None:
    last = parse_last_time("review.json", json.dumps(last_document(profile=profile)))
    assert (last.rate and last.rate.words_per_min) == rate


@pytest.mark.parametrize(
    "data",
    [b"", b"\xff\xfe\x00", b"[]", b"{}", b'{"format": "another/1"}', b"[" * 100_000],
    ids=["empty", "bytes", "list", "no format", "another format", "deep"],
)
def test_what_is_no_review_is_refused_in_one_sentence(data: bytes) -> None:
    with pytest.raises(InputError, match=r"^review\.json: is no review document"):
        parse_last_time("review.json", data)


@pytest.mark.parametrize(
    "changed",
    [
        {"moves": None},
        {"moves": [3]},
        {"moves": [{"move": 4}]},
        {"intervals": {"row-1": 3}},
        {"time_calls": [{}]},
        {"profile": []},
        {"profile": {"words_per_min": 9, "talk_share": "x"}},
    ],
    ids=lambda changed: str(changed),
)
def test_a_damaged_review_is_refused_in_one_sentence(changed: dict[str, object]) -> None:
    with pytest.raises(InputError, match=r"^review\.json: is a damaged review document"):
        parse_last_time("review.json", json.dumps(last_document(**changed)))
