"""Tell how far out time calls are where one stamp covers many words.

There the clock knows when a word was said to five seconds or so, and a call that is wrong
is out by hardly more. But who talks evenly says in the last quarter of an interval a
quarter of its words: what the clock makes of the time left and what the words make of it
are weighed together, and as most calls are right, both count for less than they say.
Who owns up to a wrong call ("no it isn't, I was reading the wrong hand") is believed over
the clock.
"""

from __future__ import annotations

from collections.abc import Sequence

from reviewkit.findings.call_weights import (
    BIAS_MS,
    BY_CLOCK,
    BY_UNSURE,
    BY_WORDS,
    OWNED_MS,
    WRONG_FROM_MS,
)  # fmt: skip
from reviewkit.findings.places import end_spread_ms
from reviewkit.language.phrase_index import EMPTY, index_phrases
from reviewkit.measures import span_of, words_in
from reviewkit.model import Interval, Lexicon, Mark, Word

# The list whose label says how a coach takes a call back, and how many words later at most.
_LIST, _OWNED = "time_calls", "owned_up"
_OWNED_WITHIN = 25


def two_views(
    mark: Mark, interval: Interval, claimed_ms: int, words: Sequence[Word]
) -> tuple[float, float]:
    """Give how much more time was left than a call claims, by the clock and by the words.

    Args:
        mark: The call, made in the interval.
        interval: It was done.
        claimed_ms: What the call says is left.
        words: All words of the class, in order of time.
    """
    span = span_of(interval)
    if span is None:
        return 0.0, 0.0
    inside = words_in(words, span)
    after = sum(mark.end_ms <= word.start_ms for word in inside)
    by_words_ms = (span.end_ms - span.start_ms) * after / max(1, len(inside))
    return span.end_ms - mark.end_ms - claimed_ms, by_words_ms - claimed_ms


def likely_off_ms(by_clock_ms: float, by_words_ms: float) -> float:
    """Weigh the two views together: how much more time was left than the call claims."""
    return BY_CLOCK * by_clock_ms + BY_WORDS * by_words_ms + BIAS_MS


def wrong_from_ms(may_be_off_ms: float, *, is_owned_up: bool) -> float:
    """Give from where on a call counts as wrong; see ``call_weights``."""
    return WRONG_FROM_MS + BY_UNSURE * may_be_off_ms - OWNED_MS * is_owned_up


def unsure_ms(mark: Mark, interval: Interval, words: Sequence[Word]) -> float:
    """Give how far off a call's moment and the end of its interval may be, together."""
    return words[mark.last].spread_ms + end_spread_ms(interval)


def is_taken_back(mark: Mark, words: Sequence[Word], lexicon: Lexicon) -> bool:
    """Tell whether the words after a call say that it was wrong."""
    owned = index_phrases(lexicon.lists.get(_LIST, ())).get(_OWNED, EMPTY)
    after = words[mark.last + 1 : mark.last + 1 + _OWNED_WITHIN]
    return bool(owned.find(tuple(word.norm for word in after)))
