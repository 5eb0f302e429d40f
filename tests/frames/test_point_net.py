from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.frames.point_net import (
    COMPARED,
    COUNTS,
    LOOKS,
    MOST_WORDS,
    NOTHING,
    NOTHING_MEANS,
    OUTPUT_BIAS,
    OUTPUTS,
    POINT_TABLES,
    REACHES,
    SHOWS,
    WHOLE_ASKED,
    WHOLE_SAID,
    hear,
    matrix_names,
    point_net,
    single_rows,
    weigh_point,
    word_rows,
)
from reviewkit.frames.terms import term_book
from reviewkit.language.convolution import UNKNOWN, convolution_rows, numbered
from reviewkit.model import Lexicon, Phrase, Weights

WIDTH = 4
LISTS = {
    "body_parts": (Phrase("knees", "knee"), Phrase("shin bone", "shin")),
    "poles": (Phrase("out", "width:out"),),
}


def table(names: list[str], seed: int) -> Weights:
    """Give rows of numbers that differ everywhere."""
    numbers = np.random.default_rng(seed).normal(0, 0.5, (len(names), WIDTH))
    rows = {name: tuple(row) for name, row in zip(names, numbers.tolist(), strict=True)}
    return Weights(tuple(map(str, range(WIDTH))), rows)


def small_tables() -> tuple[Weights, Weights]:
    named = convolution_rows(WIDTH, len(REACHES))
    layers = [*named, *(row for rows in named.values() for row in rows)]
    matrices = [row for name in matrix_names() for row in numbered(name, WIDTH)]
    words = [UNKNOWN, "knee", "go", "@knee", "@shin", "@width:out"]
    return table(words, 1), table([*layers, *matrices, *single_rows()], 2)


TABLES = small_tables()
LEXICON = Lexicon((), (), LISTS, weights=dict(zip(POINT_TABLES, TABLES, strict=True)))
NET = point_net(*TABLES)
WORDS = st.sampled_from(["go", "knees", "out", "shin", "bone", "plum"])
texts = st.lists(st.lists(WORDS, min_size=1, max_size=9), min_size=1, max_size=4)
points = st.lists(WORDS, min_size=1, max_size=5)


def weighed(point: list[str], said: list[list[str]]) -> list[float]:
    """Weigh a point beside some utterances, all at once."""
    heard = hear(said, LEXICON)
    odds: list[float] = weigh_point(point, heard, np.arange(len(said))).tolist()
    return odds


def read_by_hand(words: list[str]) -> np.ndarray:
    """Read a text word by word, as the tables say."""
    own = []
    for stem, *senses in word_rows(words, term_book(LEXICON)):
        base = stem if stem in NET.names else UNKNOWN
        own.append(sum(NET.meanings[NET.names[name]] for name in (base, *senses)))
    rows = own
    for nth, (reach, (weights, bias)) in enumerate(zip(REACHES, NET.layers, strict=True)):
        nothing = np.zeros(WIDTH)
        heard = []
        for at in range(len(rows)):
            near = (at - reach, at, at + reach)
            beside = [rows[one] if 0 <= one < len(rows) else nothing for one in near]
            heard.append(np.maximum(0, np.concatenate(beside) @ weights + bias))
        rows = heard if nth == 0 else [np.add(*both) for both in zip(rows, heard, strict=True)]
    return np.array([np.add(*both) for both in zip(own, rows, strict=True)])


def by_hand(point: list[str], words: list[str]) -> float:
    """Weigh one pair word by word, as the tables say."""
    asks, said = read_by_hand(point), read_by_hand(words)
    looks = asks @ NET.matrices[LOOKS] / WIDTH**0.5
    compared = []
    for ask, look in zip(asks, looks, strict=True):
        fits = np.array([look @ NET.rows[NOTHING], *(said @ NET.matrices[SHOWS] @ look)])
        chosen = np.exp(fits) / np.exp(fits).sum()
        found = chosen @ np.array([NET.rows[NOTHING_MEANS], *said])
        beside = (ask, found, ask * found, abs(ask - found))
        parts = [one @ NET.matrices[name] for one, name in zip(beside, COMPARED, strict=True)]
        compared.append(np.maximum(0, sum(parts) + NET.rows["compared bias"]))
    counts = np.exp(asks @ NET.rows[COUNTS])
    wholes = [
        (rows @ NET.matrices[name] + NET.rows[f"{name} bias"]).max(axis=0)
        for rows, name in ((asks, WHOLE_ASKED), (said, WHOLE_SAID))
    ]
    shown = (
        counts / counts.sum() @ np.array(compared),
        np.array(compared).max(axis=0),
        wholes[0] * wholes[1],
    )
    total = sum(one @ NET.rows[name] for one, name in zip(shown, OUTPUTS, strict=True))
    return float(total + NET.rows[OUTPUT_BIAS][0])


@given(points, texts)
def test_every_pair_is_weighed_as_the_tables_say_whatever_stands_beside_it(
    point: list[str], said: list[list[str]]
) -> None:
    expected = [by_hand(point, words) for words in said]
    assert weighed(point, said) == pytest.approx(expected, abs=1e-3)


def test_a_word_is_its_stem_and_its_senses_and_those_of_a_phrase_around_it() -> None:
    rows = word_rows(["knees", "out", "shin", "bone"], term_book(LEXICON))
    assert rows == [("knee", "@knee"), ("out", "@width:out"), ("shin", "@shin"), ("bone", "@shin")]


def test_unknown_words_without_a_sense_are_all_the_same() -> None:
    plum, pear, knees = weighed(["go"], [["plum"], ["pear"], ["knees"]])
    assert plum == pytest.approx(pear)
    assert plum != pytest.approx(knees)


def test_what_comes_after_many_words_is_not_read() -> None:
    long = ["go"] * MOST_WORDS
    short, longer = weighed(["knees"], [long, [*long, "knees"]])
    assert short == pytest.approx(longer)


def test_only_the_utterances_asked_for_are_weighed() -> None:
    said = [["go"], ["knees"], ["plum", "out"]]
    some = weigh_point(["out"], hear(said, LEXICON), np.array([2, 0]))
    assert some.tolist() == pytest.approx([weighed(["out"], said)[at] for at in (2, 0)], abs=1e-4)


def test_without_a_network_nothing_speaks_for_or_against_anything() -> None:
    heard = hear([["go"], ["knees"]], Lexicon((), (), LISTS))
    assert weigh_point(["go"], heard, np.arange(2)).tolist() == [0, 0]


def test_a_point_without_words_and_a_talk_without_utterances_are_weighed_as_nothing() -> None:
    assert weighed([], [["go"]]) == [0]
    assert weigh_point(["go"], hear([], LEXICON), np.arange(0)).tolist() == []
