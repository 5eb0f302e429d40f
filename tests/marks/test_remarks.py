from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.marks.edge_features import Place
from reviewkit.marks.remarks import (
    AFTER_MS,
    BEFORE_MS,
    BIAS,
    LEAST,
    MOST,
    OUTPUTS,
    grams_of,
    remark_words,
    weigh_remarks,
)
from reviewkit.model import Talk, Weights
from reviewkit.read import read_lexicon
from tests.talking import talk

TABLE = Weights(
    OUTPUTS,
    {
        BIAS: (-0.25, 0.0, -0.5, 0.0),
        "that'll do": (0.75, 0.25, 0.0, 0.0),
        "over": (0.0, 0.0, 0.25, 0.75),
        "<number> more": (0.0, 0.0, 0.5, 0.0),
    },
)


def heard(said: Talk, word: int, table: Weights | None = TABLE) -> tuple[float, float]:
    """Give what speaks for a short, and a long, interval that ended before a word."""
    last = said.words[-1].end_ms
    at_ms = said.words[word].start_ms if word < len(said.words) else last
    short, long = weigh_remarks(said, [Place(at_ms, "W", word)], table)
    return float(short[0]), float(long[0])


def test_words_count_for_the_side_they_are_said_on() -> None:
    assert heard(talk("we are over rest"), 3) == (-0.25, -0.25)
    assert heard(talk("rest we are over"), 0) == (-0.25, 0.25)
    assert heard(talk("that'll do rest"), 2) == (0.5, -0.5)
    assert heard(talk("rest that'll do"), 0) == (0.0, -0.5)


def test_any_number_is_one_sign() -> None:
    assert heard(talk("ten more rest"), 2) == heard(talk("5 more rest"), 2) == (-0.25, 0.0)


def test_a_run_of_words_that_the_end_parts_is_none() -> None:
    assert heard(talk("that'll do"), 1) == (-0.25, -0.5)


@pytest.mark.parametrize(
    "text", ["we are over [20] on we go rest", "rest and a drink [20] we are over"]
)
def test_what_is_said_long_before_or_after_counts_for_nothing(text: str) -> None:
    words = talk(text).words
    at = next(at for at, word in enumerate(words) if word.text == "rest")
    assert heard(talk(text), at) == (-0.25, -0.5)


def test_no_words_say_more_than_the_bounds() -> None:
    assert heard(talk("over " * 10 + "rest"), 10)[1] == 2.0
    assert heard(talk("over " * 30 + "rest"), 30)[1] == MOST
    never = Weights(OUTPUTS, {"over": (-1.0, 0.0, 0.0, 0.0)})
    assert heard(talk("over " * 30 + "rest"), 30, never)[0] == LEAST


def test_without_a_table_or_without_words_nothing_is_said() -> None:
    assert heard(talk("we are over rest"), 3, None) == (0.0, 0.0)
    short, long = weigh_remarks(Talk((), "words", 0, 10_000), [Place(0, "S", 0)], TABLE)
    assert short.tolist() == long.tolist() == [0.0]


@given(
    st.lists(st.sampled_from(("over", "that'll", "do", "ten", "more", "[4]", "[9]")), max_size=40),
    st.data(),
)
def test_sums_are_those_of_the_runs_in_the_windows(parts: list[str], data: st.DataObject) -> None:
    said = talk(" ".join([*parts, "rest"]))
    word = data.draw(st.integers(0, len(said.words) - 1))
    at_ms = said.words[word].start_ms
    near = [
        [w.norm for w in said.words[:word] if w.start_ms >= at_ms - BEFORE_MS],
        [w.norm for w in said.words[word:] if w.start_ms < at_ms + AFTER_MS],
    ]
    wanted = list(TABLE.rows[BIAS])
    for side, words in enumerate(near):
        for gram in grams_of(remark_words(words)):
            for way in (0, 2):
                wanted[way + side] += TABLE.rows.get(gram, (0.0,) * 4)[way + side]
    sums = (sum(wanted[:2]), sum(wanted[2:]))
    bounded = [min(MOST, max(LEAST, each)) for each in sums]
    assert heard(said, word) == pytest.approx(bounded)


def test_the_fitted_table_hears_who_owns_up_to_an_overrun() -> None:
    table = read_lexicon().weights["remarks"]
    assert table.outputs == OUTPUTS
    assert all(math.isfinite(weight) for row in table.rows.values() for weight in row)
    owned_up = heard(talk("oh look at the clock i have run over sorry rest"), 9, table)
    plain = heard(talk("keep the chest tall and breathe out and rest"), 8, table)
    assert owned_up[1] > 1 > 0 > plain[1]
    cut = heard(talk("and that'll do stop there that was a bit short early"), 3, table)
    assert cut[0] > 0.5
