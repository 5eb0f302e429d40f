"""Weigh every moment of the talk as a start or end of an interval.

A linear model fitted on labelled classes (logistic regression, one class of the
outputs each for starts, ends and talk during work) gives log-odds; the aligner adds
what the plan and the clock know.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from reviewkit.marks.edge_columns import weigh_places, weigh_words
from reviewkit.marks.edge_features import (
    SIGN_KINDS,
    Place,
    TalkFacts,
    gather_facts,
    list_places,
    signs_at,
)
from reviewkit.marks.remarks import REMARK_WEIGHTS, weigh_remarks
from reviewkit.model import EdgeEvidence, Lexicon, Moment, Signs, Talk

EDGE_WEIGHTS = "edges"
WORK_WEIGHTS = "work"
VOICE_WEIGHTS = "voice"


def weigh_edges(talk: Talk, lexicon: Lexicon) -> EdgeEvidence:
    """Give the log-odds of a start and of an end at every moment that may be an edge."""
    facts = gather_facts(talk, lexicon.lists.get("word_classes", ()))
    edges, work = lexicon.weights[EDGE_WEIGHTS], lexicon.weights[WORK_WEIGHTS]
    places = list_places(talk)
    remarks = weigh_remarks(talk, places, lexicon.weights.get(REMARK_WEIGHTS))
    told = np.stack([*weigh_places(facts, places, edges).T, *remarks], axis=1)
    moments = tuple(
        Moment(place.at_ms, place.word, _spread_ms(facts, place), *each)
        for place, each in zip(places, told.tolist(), strict=True)
    )
    per_word = tuple(weigh_words(facts, work)[:, 0].tolist())
    return EdgeEvidence(moments, per_word, list_signs(facts, places, lexicon))


def list_signs(facts: TalkFacts, places: Sequence[Place], lexicon: Lexicon) -> Signs | None:
    """Give the signs of every place, or None when it is not known how much they count."""
    weights = lexicon.weights.get(VOICE_WEIGHTS)
    if weights is None:
        return None
    return Signs(SIGN_KINDS, tuple(signs_at(facts, place) for place in places), weights)


def _spread_ms(facts: TalkFacts, place: Place) -> int:
    """Give how far off a place may be: as far as the word it hangs on."""
    words = facts.words
    if place.kind == "W" or place.word == 0:
        return words[min(place.word, len(words) - 1)].spread_ms if words else 0
    return words[place.word - 1].spread_ms
