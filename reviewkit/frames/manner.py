"""Tell by its little words how an utterance is meant: as a cue, a story or an option."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from reviewkit.wordsets import word_set

_ABOUT_ONESELF = word_set(
    "my mine me i've i'd i was were had he she his said told came went we've sister brother mum"
    " mother dad husband wife dog cat neighbour neighbor yesterday monday"
)
_WISHES = word_set("want need see like don't would")
_OPTIONS = word_set(
    "if easier instead option version fine could alternatively allowed harder too either optional"
)
_BREATH = word_set("breath breathe breathing exhale inhale breaths exhales inhales blow puff sigh")
_ORDERS = word_set(
    "keep don't let make push press pull squeeze lift drop lower sit stand reach draw bring hold"
    " think imagine pretend feel bend soften tuck look drive send stay no not never should must"
    " lean tilt tip turn roll point relax check watch remember stays goes"
)
_TIME = word_set("seconds second halfway minute minutes left last rest round rounds next time")


def manner(words: Sequence[str]) -> tuple[float, ...]:
    """Measure how an utterance is meant.

    Returns:
        Counts of words about oneself, of options, of breath, of orders and of time, each
        capped at 3, in the order of ``MANNERS``.
    """
    wishes = sum(word == "i" and after not in _WISHES for word, after in pairwise(words))
    counts = (
        wishes + sum(word in _ABOUT_ONESELF for word in words),
        sum(word in _OPTIONS for word in words),
        sum(word in _BREATH for word in words),
        sum(word in _ORDERS for word in words),
        sum(word in _TIME for word in words),
    )
    return tuple(float(min(3, count)) for count in counts)


MANNERS = ("oneself", "option", "breath", "order", "time")
