"""Rendered transcripts are read back in full, and come out the same every time."""

from __future__ import annotations

from itertools import pairwise

import pytest

from reviewkit.model import Word
from reviewkit.read.transcript import parse_transcript
from reviewkit.words import split_words
from tests.corpus import FIXTURES, load_class
from tests.forms import FORMS, render
from tests.mishearing import Hearing, mishear, punctuate, seeded, write_figures

SHORT_CLASS = load_class(FIXTURES / "office-noises")
NO_NOISE = Hearing(mishears=0, drops=0, glues=0, doubles=0)


def words(text: str) -> list[Word]:
    return [
        Word(part, part, 400 * place, 400 * place + 300, 0)
        for place, part in enumerate(text.split())
    ]


def texts(written: list[Word]) -> str:
    return " ".join(word.text for word in written)


@pytest.mark.parametrize("form", FORMS)
def test_a_class_is_written_the_same_every_time(form: str) -> None:
    assert render(SHORT_CLASS, form) == render(SHORT_CLASS, form)


@pytest.mark.parametrize("form", FORMS)
def test_every_form_is_read_without_a_warning(form: str) -> None:
    transcript = parse_transcript(FORMS[form].file_name, render(SHORT_CLASS, form).encode())
    talk = split_words(transcript)
    assert transcript.warnings == ()
    assert len(talk.words) == pytest.approx(len(SHORT_CLASS.words), rel=0.1)


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("this one is good", "this one is good"),
        ("three two one", "3 2 1"),
        ("twenty five left", "25 left"),
        ("twenty ten", "20 10"),
        ("round two of three", "round 2 of 3"),
    ],
)
def test_numbers_become_figures(said: str, written: str) -> None:
    assert texts(write_figures(words(said))) == written


def test_perfect_hearing_changes_nothing() -> None:
    said = words("squat and lift the knees in a row")
    assert mishear(said, seeded("a"), NO_NOISE) == said


def test_poor_hearing_keeps_the_order_of_time() -> None:
    said = words("squat and lift the knees and the heels in a row " * 20)
    heard = mishear(said, seeded("a"), Hearing(0.9, 0.2, 0.2, 0.2))
    assert texts(heard) != texts(said)
    assert all(a.start_ms <= b.start_ms for a, b in pairwise(heard))


def test_lines_get_capitals_and_counts_get_commas() -> None:
    said = words("come in i'm here three two one go")
    written = texts(punctuate(said, [0, 4 * 400], seeded("d")))
    assert written.startswith("Come in I'm here")
    assert "two, one go." in written
