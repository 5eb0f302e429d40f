from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.language.convolution import UNKNOWN, convolution_rows
from reviewkit.marks.label_net import (
    BIASES,
    MOST_WORDS,
    REACHES,
    LabelNet,
    hear_lines,
    label_net,
    row_names,
)
from reviewkit.model import Lexicon, Phrase, Weights

WIDTH = 4
LABELS = ("form", "option")
LEXICON = Lexicon(
    (),
    (),
    {"line_classes": (Phrase("chair", "prop"),), "senses": (Phrase("easier", "level choice"),)},
)


def table(names: list[str], seed: int) -> Weights:
    """Give rows of numbers that differ everywhere."""
    numbers = np.random.default_rng(seed).normal(0, 0.7, (len(names), WIDTH))
    rows = {name: tuple(row) for name, row in zip(names, numbers.tolist(), strict=True)}
    return Weights(tuple(map(str, range(WIDTH))), rows)


def small_net() -> LabelNet:
    named = convolution_rows(WIDTH, len(REACHES))
    layers = [*named, *(row for rows in named.values() for row in rows)]
    words = [UNKNOWN, "knee", "go", "<prop>", "~<level>", "~<choice>"]
    return label_net(table(words, 1), table([*layers, *LABELS, BIASES], 2))


NET = small_net()
lines = st.lists(
    st.lists(st.sampled_from(["go", "knees", "chair", "easier", "plum"]), max_size=9), max_size=5
)


def by_hand(words: list[str]) -> list[float]:
    """Weigh a line number by number, as the tables say."""
    rows = []
    for word in words:
        names = row_names(word, LEXICON)
        known = [name for name in names[1:] if name in NET.names]
        stem = names[0] if names[0] in NET.names else UNKNOWN
        rows.append([float(sum(column)) for column in zip(*_meanings([stem, *known]), strict=True)])
    for nth, (reach, (weights, bias)) in enumerate(zip(REACHES, NET.layers, strict=True)):
        heard = []
        for at in range(len(rows)):
            near = [at - reach, at, at + reach]
            beside = [
                number
                for one in near
                for number in (rows[one] if 0 <= one < len(rows) else [0.0] * WIDTH)
            ]
            sums = np.array(beside) @ weights + bias
            heard.append([max(0.0, float(number)) for number in sums])
        rows = (
            heard if nth == 0 else [list(np.add(*both)) for both in zip(rows, heard, strict=True)]
        )
    most = [max([0.0, *column]) for column in zip(*rows, strict=True)] or [0.0] * WIDTH
    weights, biases = NET.outputs
    return [float(number) for number in np.array(most) @ weights + biases]


def _meanings(names: list[str]) -> list[list[float]]:
    return [NET.meanings[NET.names[name]].tolist() for name in names]


@given(lines)
def test_every_line_is_weighed_as_the_tables_say_whatever_is_said_around_it(
    said: list[list[str]],
) -> None:
    odds = hear_lines(NET, said, LEXICON, LABELS)
    assert odds.shape == (len(said), len(LABELS))
    for row, words in zip(odds.tolist(), said, strict=True):
        assert row == pytest.approx(by_hand(words), abs=1e-4)


def test_a_word_is_its_stem_its_classes_and_its_senses() -> None:
    assert row_names("chairs", LEXICON) == ("chair", "<prop>")
    assert row_names("easier", LEXICON) == ("easier", "~<level>", "~<choice>")


def test_unknown_words_of_no_class_are_all_the_same() -> None:
    plum, pear, chair = hear_lines(NET, [["plum"], ["pear"], ["chair"]], LEXICON, LABELS).tolist()
    assert plum == pytest.approx(pear)
    assert plum != pytest.approx(chair)


def test_a_line_without_words_has_the_biases_alone() -> None:
    assert hear_lines(NET, [[]], LEXICON, LABELS)[0].tolist() == pytest.approx(
        NET.outputs[1].tolist()
    )


def test_what_comes_after_many_words_is_not_read() -> None:
    long = ["go"] * MOST_WORDS
    short, longer = hear_lines(NET, [long, [*long, "knees"]], LEXICON, LABELS).tolist()
    assert short == pytest.approx(longer)


def test_labels_are_given_in_the_order_they_are_asked_for() -> None:
    both = hear_lines(NET, [["go"]], LEXICON, LABELS)[0].tolist()
    assert hear_lines(NET, [["go"]], LEXICON, LABELS[::-1])[0].tolist() == both[::-1]
    assert hear_lines(NET, [["go"]], LEXICON, LABELS[1:])[0].tolist() == both[1:]
