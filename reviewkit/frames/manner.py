"""Tell by its little words how an utterance is meant: as a cue, a story or an option."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from reviewkit.language.wordsets import word_set

_ONESELF = word_set("mine me i've i'd i was were had he she his said told went we've")
_KIN = word_set(
    "sister brother mum mother dad husband wife yesterday monday friend"
    " kids daughter son morning weekend kitchen"
)
_WISHES = word_set("want need see like don't would")
_FEELINGS = word_set(
    "feel feeling feels felt burn burns burning warm warmer ache aches aching complaining complain"
    " complains clicking clicks tired sore shaking shaky screaming hurts hurt gone enough shouting"
    " moan moaning grumbling jelly sweaty sweat"
)
_OPTIONS = word_set(
    "if easier instead option version fine could alternatively allowed harder too either optional"
)
_BREATH = word_set(
    "breath breathe breathing exhale inhale breaths exhales inhales blow puff sigh air out"
)
_ORDERS = word_set(
    "keep don't let make push press pull squeeze lift drop lower sit stand reach draw bring hold"
    " think imagine pretend bend soften tuck look drive send stay no not never should must"
    " lean tilt tip turn roll point relax check watch remember stays goes"
)
_TIME = word_set("seconds second halfway minute minutes left last rest round rounds next time")
# Words that may stand between "my" and the part of the body it owns.
_MINE = word_set("my mine")
_SHOWS = word_set("see look watch like how")

MANNERS = ("oneself", "mine", "people", "feeling", "option", "breath", "order", "time")
_WORDS = (_ONESELF - {"i"}, _MINE, _KIN, _FEELINGS, _OPTIONS, _BREATH, _ORDERS, _TIME)
_TOLD_BY = {
    word: tuple(name for name, own in zip(MANNERS, _WORDS, strict=True) if word in own)
    for word in frozenset().union(*_WORDS)
}
_MOST = 3


def manner(words: Sequence[str]) -> tuple[float, ...]:
    """Measure how an utterance is meant.

    Returns:
        Counts, each capped at 3, in the order of ``MANNERS``: words about oneself, "my"
        without "see" or "look", people and days, feelings, options, breath, orders, time.
    """
    counts = dict.fromkeys(MANNERS, 0)
    for word in words:
        for name in _TOLD_BY.get(word, ()):
            counts[name] += 1
    if "i" in words:
        counts["oneself"] += sum(
            word == "i" and after not in _WISHES for word, after in pairwise(words)
        )
    if not _SHOWS.isdisjoint(words):
        counts["mine"] = 0
    return tuple(float(min(_MOST, counts[name])) for name in MANNERS)
