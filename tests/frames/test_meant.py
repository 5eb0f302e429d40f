from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.frames.cue_words import BIAS
from reviewkit.frames.meant import (
    MEANT_WEIGHTS,
    ODDS,
    likely,
    pair_features,
    weigh_line,
    weigh_meant,
)
from reviewkit.model import Lexicon, Weights
from reviewkit.read import read_lexicon
from tests.frames.test_cue_words import WORDS, utterance

LEXICON = read_lexicon()


def meant(text: str, line: str, odds: float = 0.0, lexicon: Lexicon = LEXICON) -> float:
    one = utterance(line)
    (found,) = weigh_meant(text, [one], np.array([odds]), [weigh_line(one, lexicon)], lexicon)
    return float(found)


def with_rows(rows: dict[str, tuple[float, ...]]) -> Lexicon:
    table = Weights((MEANT_WEIGHTS,), {BIAS: (0.0,), ODDS: (1.0,), **rows})
    return replace(LEXICON, weights={MEANT_WEIGHTS: table})


def test_the_bundled_table_builds_on_the_odds() -> None:
    table = LEXICON.weights[MEANT_WEIGHTS]
    assert table.outputs == (MEANT_WEIGHTS,)
    assert table.rows[ODDS][0] > 0
    assert meant("chest proud", "keep that chest proud", 2.0) > meant(
        "chest proud", "keep that chest proud", 1.0
    )


def test_without_a_table_the_odds_stay_as_they_are() -> None:
    bare = replace(LEXICON, weights={})
    assert meant("chest up", "your chest up", 1.5, bare) == 1.5
    assert weigh_meant("chest up", [], np.zeros(0), [], LEXICON).tolist() == []


def test_whose_part_it_is_is_seen() -> None:
    """Written out by hand for a table of one feature."""
    lexicon = with_rows({"@part after her": (-2.0,)})
    assert meant("chest proud", "on her chest", 1.0, lexicon) == -1.0
    assert meant("chest proud", "on your chest", 1.0, lexicon) == 1.0
    assert meant("heels down", "on her chest", 1.0, lexicon) == 1.0


def test_the_line_counts_whatever_the_point_is() -> None:
    lexicon = with_rows({"the_x_the": (0.5,), "brooch": (-1.0,)})
    line = "put the brooch the other way"
    assert meant("heels down", line, 0.0, lexicon) == -0.5


def test_few_utterances_are_likely() -> None:
    assert likely(np.array([-30.0, -3.0, 2.0, -9.0])).tolist() == [1, 2]


@given(st.lists(st.sampled_from(WORDS), max_size=8))
def test_what_shares_nothing_has_no_surroundings(words: list[str]) -> None:
    assert pair_features("zorble the wibbet", words, LEXICON) == {"@shared 0"}
