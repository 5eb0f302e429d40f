"""Ask whether what must be said can be said: words at a speaking rate against free time."""

from __future__ import annotations

from collections.abc import Sequence

from reviewkit.rehearse.records import SpeakingRate, TalkTime
from reviewkit.times import MINUTE_MS

# A usual rate of plain instructions; it is named on the sheet where it was used.
USUAL_RATE = SpeakingRate(150, is_own=False)
# A pace beyond these comes of odd times in a transcript, not of a coach.
SLOWEST_WORDS_PER_MIN, FASTEST_WORDS_PER_MIN = 80.0, 260.0
# Talk may fill this share of the time: the coach works too, and people need to listen.
TALK_SHARE = 0.6
# A point in note form ("chest tall") takes at least so many words to say.
LEAST_WORDS = 3
# Each time call, and saying what comes next apart from the move's name.
CALL_WORDS = 2
ANNOUNCE_WORDS = 2


def own_rate(words_per_min: float | None, talk_share: float | None) -> SpeakingRate | None:
    """Give the pace while a coach speaks: pauses are room to breathe, and no slow speech.

    Args:
        words_per_min: Words a minute over the whole class.
        talk_share: How much of it was talk, 0 to 1.

    Returns:
        None where it was not measured, or is nobody's pace.
    """
    if not words_per_min or not talk_share or not isinstance(words_per_min, int | float):
        return None
    pace = words_per_min / talk_share
    if not SLOWEST_WORDS_PER_MIN <= pace <= FASTEST_WORDS_PER_MIN:
        return None
    return SpeakingRate(round(pace), is_own=True)


def spoken_ms(text: str, rate: SpeakingRate) -> int:
    """Give how long a point takes to say, in milliseconds."""
    return words_ms(max(LEAST_WORDS, len(text.split())), rate)


def words_ms(words: int, rate: SpeakingRate) -> int:
    """Give how long some words take to say, in milliseconds."""
    return round(words * MINUTE_MS / rate.words_per_min)


def with_room_ms(spoken: int) -> int:
    """Give the time that some speech takes with the pauses that belong to it."""
    return round(spoken / TALK_SHARE)


def talk_time(
    points: Sequence[str],
    suggestions: Sequence[str],
    *,
    other_words: int,
    free_ms: int,
    rate: SpeakingRate,
) -> TalkTime:
    """Set what has to be said in an interval against the time for it.

    Args:
        points: What must be said.
        suggestions: What may be said besides.
        other_words: Words of everything else that belongs to it: name, breath, calls.
        free_ms: The rest before and the interval.
        rate: How fast the coach speaks.
    """
    needed_ms = words_ms(other_words, rate) + sum(spoken_ms(one, rate) for one in points)
    more_ms = needed_ms + sum(spoken_ms(one, rate) for one in suggestions)
    return TalkTime(
        needed_ms,
        free_ms,
        max(0, with_room_ms(needed_ms) - free_ms),
        max(0, with_room_ms(more_ms) - free_ms),
    )
