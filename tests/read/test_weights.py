from __future__ import annotations

import pytest

from reviewkit.errors import InputError
from reviewkit.model import Weights
from reviewkit.read.weights import parse_weights


def test_features_have_one_number_for_every_output() -> None:
    read = parse_weights("edges.csv", "feature,start,end\nbias,-5,-4.5\nR1go,3.25,-1\n")
    assert read == Weights(("start", "end"), {"bias": (-5.0, -4.5), "R1go": (3.25, -1.0)})


def test_an_empty_cell_is_no_weight() -> None:
    assert parse_weights("w.csv", "feature,a,b\nx,,1\n").rows == {"x": (0.0, 1.0)}


def test_features_may_hold_commas_and_quotes() -> None:
    assert parse_weights("w.csv", 'feature,a\n"one, two",1\n"say ""go""",2\n').rows == {
        "one, two": (1.0,),
        'say "go"': (2.0,),
    }


def test_no_features_are_no_weights() -> None:
    assert parse_weights("w.csv", "feature,a\n").rows == {}


@pytest.mark.parametrize("text", ["", "word,start\n", "feature\n", "bias,1,2\n"])
def test_the_first_line_names_the_outputs(text: str) -> None:
    with pytest.raises(InputError, match=r"w\.csv, line 1: the first line must be feature"):
        parse_weights("w.csv", text)


@pytest.mark.parametrize("row", ["go,1", "go,1,2,3", "go,1,much", "go"])
def test_a_row_that_does_not_fit_is_told_with_its_line(row: str) -> None:
    with pytest.raises(InputError, match=r"w\.csv, line 3: 2 numbers must follow the feature"):
        parse_weights("w.csv", f"feature,start,end\nbias,1,2\n{row}\n")
