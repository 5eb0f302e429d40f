"""The fitted tables: they load, name what the code sees, and hear a plain start and end."""

from __future__ import annotations

from functools import cache

import pytest

from reviewkit.marks.edge_columns import BIAS, features_at, work_features
from reviewkit.marks.edge_features import gather_facts, list_places
from reviewkit.marks.edges import EDGE_WEIGHTS, WORK_WEIGHTS, weigh_edges
from reviewkit.model import Lexicon, Talk, Weights
from reviewkit.naming import SWAP_WEIGHTS
from reviewkit.naming.signs import SIGNS
from reviewkit.read import read_lexicon
from tests.talking import talk

CLASS = (
    "right next up we have squats feet a bit wider than the hips [2] three two one go [1] "
    "sit back and down and stand tall [2] chest up knees out over the toes [6] keep going "
    "lovely work breathe out as you stand [5] ten seconds left [5] three two one and rest "
    "[2] shake the legs out grab some water [4] next is the plank so come down to the floor "
    "[3] in three two one and go [2] belly tight long line from head to heels [8] halfway "
    "there [6] last ten seconds [6] three two one and stop [1] well done take a breather"
)


@cache
def _lexicon() -> Lexicon:
    return read_lexicon()


def _talks() -> tuple[Talk, ...]:
    return tuple(talk(CLASS, clock=clock) for clock in ("words", "captions", "blocks"))


def _word(heard: Talk, phrase: str) -> int:
    """Give the position of the first word of a phrase said once or more."""
    said, asked = [word.norm for word in heard.words], phrase.split()
    return next(at for at in range(len(said)) if said[at : at + len(asked)] == asked)


@pytest.mark.parametrize(
    ("name", "outputs"), [(EDGE_WEIGHTS, ("start", "end")), (WORK_WEIGHTS, ("work",))]
)
def test_a_table_has_its_outputs_a_bias_and_weights(name: str, outputs: tuple[str, ...]) -> None:
    weights: Weights = _lexicon().weights[name]
    assert weights.outputs == outputs
    assert BIAS in weights.rows
    assert len(weights.rows) > 500
    assert all(any(row) for row in weights.rows.values())


def test_an_edge_is_rare_without_evidence() -> None:
    assert max(_lexicon().weights[EDGE_WEIGHTS].rows[BIAS]) < -2


def _share_known(seen: set[str], name: str) -> float:
    rows = _lexicon().weights[name].rows
    return len(seen & rows.keys()) / len(seen)


def test_much_of_what_is_seen_in_a_plain_talk_is_in_the_tables() -> None:
    places: set[str] = set()
    words: set[str] = set()
    for heard in _talks():
        facts = gather_facts(heard, _lexicon().lists["word_classes"])
        places.update(*features_at(facts, list_places(heard)))
        words.update(*work_features(facts))
    assert _share_known(places, EDGE_WEIGHTS) > 0.2
    assert _share_known(words, WORK_WEIGHTS) > 0.2


def _kind(feature: str) -> str:
    """Give what a feature looks at: its name up to the word or number in it."""
    return feature[:2]


def test_every_table_names_features_of_kinds_that_the_code_sees() -> None:
    """A feature renamed in the code would silently lose its weight."""
    seen: set[str] = set()
    for heard in _talks():
        facts = gather_facts(heard, _lexicon().lists["word_classes"])
        for features in features_at(facts, list_places(heard)):
            seen.update(map(_kind, features))
    named = [_kind(name) for name in _lexicon().weights[EDGE_WEIGHTS].rows if name != BIAS]
    assert 0.95 * len(named) < sum(kind in seen for kind in named)


def test_a_go_after_a_count_is_a_likelier_start_than_anywhere_else_nearby() -> None:
    for heard in _talks():
        moments = weigh_edges(heard, _lexicon()).moments
        go, cue = _word(heard, "go sit back"), _word(heard, "lovely work")
        at_go = max(one.start for one in moments if one.word in (go, go + 1))
        assert max(one.start for one in moments if one.word in range(go - 14, go - 3)) < at_go
        assert max(one.start for one in moments if one.word in range(cue, cue + 6)) < at_go - 3


def test_and_rest_after_a_count_is_a_likely_end() -> None:
    for heard in _talks():
        moments = weigh_edges(heard, _lexicon()).moments
        rest, cue = _word(heard, "and rest"), _word(heard, "lovely work")
        at_rest = max(one.end for one in moments if one.word in (rest, rest + 1))
        assert max(one.end for one in moments if one.word in range(cue, cue + 6)) < at_rest - 3
        assert max(one.start for one in moments if one.word == rest) < at_rest


def test_cues_sound_more_like_work_than_water_does() -> None:
    heard = talk(CLASS)
    work = weigh_edges(heard, _lexicon()).work
    cues, water = _word(heard, "chest up knees out"), _word(heard, "grab some water next")
    assert max(work[water : water + 3]) < min(work[cues : cues + 4])


def test_an_empty_talk_has_no_words_to_weigh() -> None:
    assert weigh_edges(talk(""), _lexicon()).work == ()


def test_every_sign_of_a_swap_has_a_weight_and_giving_a_move_away_speaks_for_one() -> None:
    rows = _lexicon().weights[SWAP_WEIGHTS].rows
    assert rows.keys() >= {BIAS, *SIGNS}
    assert rows[BIAS][0] < 0 < rows["own given away"][0]
