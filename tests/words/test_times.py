from __future__ import annotations

from itertools import pairwise

import pytest

from reviewkit.read import read_lexicon
from reviewkit.words import PAUSE_WEIGHTS
from reviewkit.words.times import Stretch, Timed, counted_words, place_words, speech_ms

LEXICON = read_lexicon()


def place(text: str, length_ms: int, following: str = "") -> dict[str, Timed]:
    texts = tuple(text.split())
    words = tuple(word.strip(".,!?").lower() for word in texts)
    stretch = Stretch(words, texts, 1000, 1000 + length_ms, following)
    timed = place_words(stretch, pauses=LEXICON.weights[PAUSE_WEIGHTS])
    return dict(zip(words, timed, strict=True))


def test_no_words_take_no_time() -> None:
    assert place_words(Stretch((), (), 0, 1000)) == ()


def test_short_stretches_are_talk_from_end_to_end() -> None:
    placed = place("soft knees everybody", 2000)
    assert placed["soft"].start_ms == 1000
    gaps = [after.start_ms - before.start_ms for before, after in pairwise(placed.values())]
    assert gaps[0] < gaps[1]
    assert 2000 < placed["everybody"].start_ms < 2500


def test_a_count_takes_about_a_second_a_number() -> None:
    assert speech_ms(("and", "three", "two", "one", "go"))[1:4] == [950, 950, 950]
    placed = place("and you hold it right there until I say three two one", 8000)
    assert placed["one"].start_ms - placed["three"].start_ms > 1800


@pytest.mark.parametrize(
    ("text", "counted"),
    [
        ("three two one", [True, True, True]),
        ("one two", [True, True]),
        ("four nice three", [True, False, True]),
        ("three soften it two", [True, False, False, True]),
        ("thirty five seconds", [False, False, False]),
        ("six jumps three rounds", [False] * 4),
        ("10 9 8", [True, True, True]),
        ("just one", [False, False]),
    ],
)
def test_what_is_a_count(text: str, counted: list[bool]) -> None:
    assert counted_words(text.split()) == counted


def test_silence_lies_before_a_count_and_not_inside_a_phrase() -> None:
    placed = place("keep the chest up tall three two one", 20_000)
    assert placed["three"].start_ms - placed["tall"].start_ms > 5000
    assert placed["chest"].start_ms - placed["the"].start_ms < 1500
    assert placed["two"].start_ms - placed["three"].start_ms < 2000


def test_silence_lies_after_a_full_stop() -> None:
    placed = place("Knees soft. Chest tall", 20_000)
    gaps = [after.start_ms - before.start_ms for before, after in pairwise(placed.values())]
    assert gaps[1] == max(gaps)


def test_silence_before_the_next_stretch() -> None:
    alone = place("hold it there everyone", 20_000)["everyone"].start_ms
    followed = place("hold it there everyone", 20_000, "three")["everyone"].start_ms
    assert followed < alone


def test_ranges_are_narrow_at_known_moments_and_wide_between() -> None:
    placed = place("keep the chest up tall and squeeze then hold it there", 40_000, "next")
    spreads = [timed.spread_ms for timed in placed.values()]
    assert spreads[0] == min(spreads) < 500
    assert max(spreads) > 3000


@pytest.mark.parametrize("length_ms", [1, 100, 8000, 8001, 60_000])
def test_starts_never_fall_and_stay_inside(length_ms: int) -> None:
    placed = list(place("and now three two one go hold it. Breathe out", length_ms).values())
    begins = [timed.start_ms for timed in placed]
    assert begins == sorted(begins)
    assert begins[0] == 1000
    assert begins[-1] <= 1000 + length_ms
