from itertools import permutations
from math import fsum

import pytest

from reviewkit.language.lines import split_lines
from reviewkit.marks.labels import LABELS, label_lines, line_features, read_line
from reviewkit.model import Lexicon, Phrase, Weights
from reviewkit.read import read_lexicon
from tests.talking import talk


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return read_lexicon()


@pytest.mark.parametrize(
    "text",
    [
        "my sister bought me this mug on holiday",
        "the film we watched last night was dreadful",
        "the cat is asleep on the radiator again",
        "the bench in the park has his name on it",
        "my shoulder bag's on the chair",
    ],
)
def test_chat_has_no_label(text: str, lexicon: Lexicon) -> None:
    assert read_line(text.split(), lexicon).labels == ()


@pytest.mark.parametrize(
    ("text", "label"),
    [
        ("keep your elbows tucked in to your sides", "form"),
        ("if anything hurts stop and rest", "safety"),
        ("breathe out as you stand", "breathing"),
        ("you can drop to your knees if you like", "option"),
        ("well done you're doing brilliantly", "motivation"),
        ("ten seconds left", "time_call"),
        ("next up is the side plank", "announcement"),
        ("take a rest and have some water", "rest"),
    ],
)
def test_label(text: str, label: str, lexicon: Lexicon) -> None:
    assert label in read_line(text.split(), lexicon).labels


@pytest.mark.parametrize(
    ("text", "label"),
    [
        ("ten seconds left keep your hips up", "form"),
        ("keep those hips up ten seconds left", "form"),
        ("ten seconds to go drop to your knees if you like", "option"),
    ],
)
def test_what_is_said_beside_a_time_call_keeps_its_label(
    text: str, label: str, lexicon: Lexicon
) -> None:
    labels = read_line(text.split(), lexicon).labels
    assert set(labels) >= {"time_call", label}


def test_countdown_is_a_time_call(lexicon: Lexicon) -> None:
    said = talk("three two one")
    assert [mark.kind for mark in label_lines(said, split_lines(said), lexicon)] == ["time_call"]


def test_marks_cover_whole_lines(lexicon: Lexicon) -> None:
    said = talk("chest up shoulders down [2] well done everybody")
    marks = label_lines(said, split_lines(said), lexicon)
    assert {(mark.first, mark.last) for mark in marks} <= {(0, 3), (4, 6)}
    assert all(mark.kind in LABELS and 0 <= mark.weight <= 1 for mark in marks)


def test_line_classes_tell_what_a_line_is_about() -> None:
    lists: dict[str, tuple[Phrase, ...]] = {"line_classes": (Phrase("twinge", "pain", ""),)}
    features = line_features(["a", "twinge"], Lexicon((), (), lists))
    assert "<pain>" in features


def test_senses_tell_what_words_may_be_about_and_whether_several_are() -> None:
    words = (Phrase("dizzy", "unwell"), Phrase("burn", "injury effort"))
    lists: dict[str, tuple[Phrase, ...]] = {"senses": words}
    features = line_features(["dizzy", "burns", "dizzy"], Lexicon((), (), lists))
    senses = {feature for feature in features if feature.startswith("~")}
    assert senses == {"~<unwell>", "~<unwell> twice", "~<injury>", "~<effort>"}


@pytest.mark.parametrize("weights", list(permutations((0.1, 0.2, -0.3))))
def test_the_order_of_what_is_seen_makes_no_difference(weights: tuple[float, ...]) -> None:
    """Sums on the edge of a label come out the same in every run of the program."""
    rows = {
        word: (weight,) * len(LABELS)
        for word, weight in zip(("melon", "pear", "plum"), weights, strict=True)
    }
    lexicon = Lexicon((), (), {}, weights={"labels": Weights(LABELS, rows)})
    assert read_line(["plum", "melon", "pear"], lexicon).sums == (fsum((0.1, 0.2, -0.3)),) * 8


def test_without_a_model_only_the_detectors_speak() -> None:
    bare = Lexicon((), (), {})
    assert read_line(["chest", "up"], bare).labels == ()
