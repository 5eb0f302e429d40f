from __future__ import annotations

import pytest

from reviewkit.language.word_classes import class_table, classes_of, sense_table
from reviewkit.model import Lexicon, Phrase

LEXICON = Lexicon(
    (),
    (),
    {
        "word_classes": (Phrase("knee", "body"), Phrase("press", "verb move")),
        "line_classes": (Phrase("press", "drive"),),
        "senses": (Phrase("press", "effort persist"),),
    },
)


@pytest.mark.parametrize(
    ("word", "classes"),
    [
        ("lamp", ()),
        ("knee", ("<body>",)),
        ("knees", ("<body>",)),
        ("pressing", ("<verb>", "<move>", "<drive>")),
        ("40", ("<number>",)),
    ],
)
def test_a_word_has_the_classes_of_both_lists(word: str, classes: tuple[str, ...]) -> None:
    assert classes_of(word, class_table(LEXICON)) == classes


def test_senses_are_kept_apart_from_classes() -> None:
    assert classes_of("pressed", sense_table(LEXICON)) == ("<effort>", "<persist>")
