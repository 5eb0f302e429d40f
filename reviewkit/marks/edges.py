"""Weigh every moment of the talk as a start or end of an interval.

A small network fitted on labelled classes hears starts, ends and talk during work, and
gives log-odds; the aligner adds what the plan and the clock know.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from reviewkit.marks.edge_features import (
    SIGN_KINDS,
    Place,
    TalkFacts,
    gather_facts,
    list_places,
    signs_at,
)
from reviewkit.marks.edge_net import EdgeNet, edge_net, hear, weigh
from reviewkit.marks.remarks import REMARK_WEIGHTS, weigh_remarks
from reviewkit.model import EdgeEvidence, Lexicon, Moment, Signs, Talk

# The words' meanings, the layers and how far they are to be believed.
EDGE_TABLES = ("edge_words", "edge_layers", "edge_sureness")
VOICE_WEIGHTS = "voice"
# Log-odds are told to a thousandth, so that no machine's way of adding up shows.
_DIGITS = 3


def fitted_net(lexicon: Lexicon) -> EdgeNet:
    """Give the network that a lexicon's fitted tables describe."""
    return edge_net(*(lexicon.weights[name] for name in EDGE_TABLES))


def weigh_edges(talk: Talk, lexicon: Lexicon) -> EdgeEvidence:
    """Give the log-odds of a start and of an end at every moment that may be an edge."""
    facts = gather_facts(talk, lexicon.lists.get("word_classes", ()))
    places = list_places(talk)
    net = fitted_net(lexicon)
    edges, work = (odds.astype(np.float64) for odds in weigh(net, hear(net, facts, places)))
    remarks = weigh_remarks(talk, places, lexicon.weights.get(REMARK_WEIGHTS))
    told = np.concatenate([np.round(edges, _DIGITS), np.stack(remarks, axis=1)], axis=1)
    moments = tuple(
        Moment(place.at_ms, place.word, _spread_ms(facts, place), *each)
        for place, each in zip(places, told.tolist(), strict=True)
    )
    per_word = tuple(np.round(work, _DIGITS).tolist())
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
