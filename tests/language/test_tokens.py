from __future__ import annotations

import pytest

from reviewkit.language.tokens import norm, speaker_names, split_tokens
from reviewkit.model import Cue, Piece


def cue(text: str) -> Cue:
    return Cue(0, 5000, (Piece(text),))


def said(text: str, *others: str) -> list[str]:
    """Norm the words of a cue; the other cues only tell the speakers' names."""
    first = cue(text)
    names = speaker_names([first, *map(cue, others)])
    return [token.norm for token in split_tokens(first, names)]


@pytest.mark.parametrize(
    ("text", "normed"),
    [
        ("Knees,", "knees"),
        ("\u201cGo!\u201d", "go"),
        ("Don\u2019t", "don't"),
        ("that's", "that's"),
        ("push-up.", "push-up"),
        ("push\u2010up", "push-up"),
        ("20s", "20s"),
        ("2.5", "2.5"),
        ("50%", "50%"),
        ("(25)", "25"),
        ("...", ""),
        ("\u2014", ""),
        ("ho\u200bld\u00ad", "hold"),
        ("\x1b[31mhold", "31mhold"),
    ],
)
def test_norm(text: str, normed: str) -> None:
    assert norm(text) == normed


@pytest.mark.parametrize(
    "text",
    [
        "hold it",
        "[Music] hold it",
        "(applause) hold (upbeat music) it",
        "\u266a la la la \u266a hold it",
        "- hold\n- it",
        "-Hold it",
        ">> hold it",
        ">> Coach: hold it",
        "Coach: hold it",
        "COACH DANA: hold it",
        "Speaker 2: hold it",
        "hold >> SPEAKER_01: it",
        "*claps* hold it",
        "hold [inaudible] it",
        "hold -- it ...",
        "hold\u2014it",
        "hold...it",
        "\u2022 hold it",
        "hold it " + "x" * 200,
    ],
)
def test_what_is_no_speech_goes(text: str) -> None:
    assert said(text, "COACH DANA: now", "fine then everyone") == ["hold", "it"]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Next: squats", ["next", "squats"]),
        ("Three: two", ["three", "two"]),
        ("Halfway: hold", ["halfway", "hold"]),
        ("Squats: low", ["squats", "low"]),
        ("(and keep your back flat)", ["and", "keep", "your", "back", "flat"]),
        ("(ten) hold", ["ten", "hold"]),
        ("[hold", ["hold"]),
        ("hold] it", ["hold", "it"]),
        ("10,9,8", ["10", "9", "8"]),
        ("1,000", ["1,000"]),
        ("3-2-1 go", ["3", "2", "1", "go"]),
        ("three-two-one", ["three", "two", "one"]),
        ("30-second hold", ["30-second", "hold"]),
        ("of of", ["of", "of"]),
    ],
)
def test_what_is_speech_stays(text: str, expected: list[str]) -> None:
    assert said(text) == expected


def test_capitals_throughout_are_no_names() -> None:
    assert said("PLANK: HOLD IT", "PLANK: DOWN WE GO", "REST NOW") == ["plank", "hold", "it"]


def test_a_name_that_comes_back_is_a_speaker() -> None:
    assert said("Dana: hold it", *["Dana: yes"] * 4) == ["hold", "it"]


@pytest.mark.parametrize(
    ("text", "normed"),
    [("(exhales)", "exhales"), ("[inhales deeply]", "inhales"), ("[Big sigh]", "sigh")],
)
def test_breath_sounds_stay_and_are_marked(text: str, normed: str) -> None:
    tokens = split_tokens(cue(f"hold {text} it"), frozenset())
    assert [(token.text, token.norm, token.is_sound) for token in tokens] == [
        ("hold", "hold", False),
        (text, normed, True),
        ("it", "it", False),
    ]


def test_a_spoken_breath_prompt_in_brackets_is_speech() -> None:
    tokens = split_tokens(cue("(breathe into your ribs)"), frozenset())
    assert [token.is_sound for token in tokens] == [False] * 4
