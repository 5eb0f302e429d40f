from __future__ import annotations

from reviewkit.rehearse.records import SpeakingRate
from reviewkit.rehearse.speaking import spoken_ms, talk_time, with_room_ms, words_ms

SLOW = SpeakingRate(60, is_own=False)


def test_words_take_their_time_at_the_rate() -> None:
    assert words_ms(3, SLOW) == 3000
    assert spoken_ms("keep your chest up", SLOW) == 4000


def test_a_point_in_note_form_takes_a_few_words_all_the_same() -> None:
    assert spoken_ms("brace", SLOW) == 3000


def test_talk_leaves_room_to_breathe() -> None:
    assert with_room_ms(6000) == 10_000


def test_what_fits_to_the_second_is_not_warned_of() -> None:
    time = talk_time(["one two three"], [], other_words=3, free_ms=10_000, rate=SLOW)
    assert (time.needed_ms, time.over_ms, time.suggested_over_ms) == (6000, 0, 0)


def test_it_is_told_by_how_much_talk_is_too_long_with_suggestions_and_without() -> None:
    time = talk_time(["one two three"], ["four five six"], other_words=3, free_ms=9000, rate=SLOW)
    assert (time.over_ms, time.suggested_over_ms) == (1000, 6000)
