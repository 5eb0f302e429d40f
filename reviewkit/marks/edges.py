"""Weigh every moment of the talk as a start or end of an interval.

A small network fitted on labelled classes hears starts, ends and talk during work, and
gives log-odds; the aligner adds what the plan and the clock know.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from reviewkit.marks.edge_features import (
    SIGN_KINDS,
    Place,
    TalkFacts,
    gather_facts,
    list_places,
    signs_at,
)
from reviewkit.marks.edge_inputs import Floats
from reviewkit.marks.edge_net import EdgeNet, Told, edge_net, hear, weigh
from reviewkit.marks.remarks import REMARK_WEIGHTS, weigh_remarks
from reviewkit.model import EdgeEvidence, Lexicon, Moment, Plan, Signs, Talk

# The words' meanings, the layers and how far they are to be believed.
EDGE_TABLES = ("edge_words", "edge_layers", "edge_sureness")
VOICE_WEIGHTS = "voice"
# Log-odds are told to a thousandth, so that no machine's way of adding up shows.
_DIGITS = 3


def fitted_net(lexicon: Lexicon) -> EdgeNet:
    """Give the network that a lexicon's fitted tables describe."""
    return edge_net(*(lexicon.weights[name] for name in EDGE_TABLES))


def weigh_edges(
    talk: Talk, plan: Plan | None, lexicon: Lexicon, net: EdgeNet | None = None
) -> EdgeEvidence:
    """Give the log-odds of a start and of an end at every moment that may be an edge.

    Args:
        talk: The words and their times.
        plan: What was planned, whose words are listened for; None where there is no plan.
        lexicon: What coaches say.
        net: The network to ask, that of the lexicon when None.
    """
    facts = gather_facts(talk, lexicon.lists.get("word_classes", ()), plan)
    places = list_places(talk)
    net = net or fitted_net(lexicon)
    told = weigh(net, hear(net, facts, places))
    remarks = weigh_remarks(talk, places, lexicon.weights.get(REMARK_WEIGHTS))
    odds = np.concatenate([_rounded(told.edges), np.stack(remarks, axis=1)], axis=1)
    moments = tuple(
        Moment(place.at_ms, place.word, _spread_ms(facts, place), *each)
        for place, each in zip(places, odds.tolist(), strict=True)
    )
    per_word = tuple(_rounded(told.work).tolist())
    return EdgeEvidence(moments, per_word, _list_signs(facts, places, told, lexicon))


def _list_signs(
    facts: TalkFacts, places: Sequence[Place], told: Told, lexicon: Lexicon
) -> Signs | None:
    """Give the signs of every place, or None when it is not known how much they count."""
    weights = lexicon.weights.get(VOICE_WEIGHTS)
    if weights is None:
        return None
    return Signs(
        SIGN_KINDS,
        tuple(signs_at(facts, place) for place in places),
        told.places.astype(np.float64),
        told.words.astype(np.float64),
        weights,
    )


def _rounded(odds: Floats) -> NDArray[np.float64]:
    return np.asarray(np.round(odds.astype(np.float64), _DIGITS), dtype=np.float64)


def _spread_ms(facts: TalkFacts, place: Place) -> int:
    """Give how far off a place may be: as far as the word it hangs on."""
    words = facts.words
    if place.kind == "W" or place.word == 0:
        return words[min(place.word, len(words) - 1)].spread_ms if words else 0
    return words[place.word - 1].spread_ms
