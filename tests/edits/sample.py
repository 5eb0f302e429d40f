"""The invented class of the report tests, with a mis-heard name and a line said twice in it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from reviewkit.edits import Edits, FrameRate, make_edits
from reviewkit.edits.timecode import USUAL_RATE
from reviewkit.model import HeardClass, Mark, Review, Word
from tests.report.sample import sample_review

# Said in the squat that ran long, which leaves few silences in it; the first is said twice.
SAID_TOO: tuple[tuple[float, str], ...] = (
    (111.5, "stay with me you are doing lovely work"),
    (118, "my neighbour waters his tomatoes at this hour every day"),
    (126, "somebody down there plays an old song about trains and rivers"),
    (135, "he has discovered where biscuits live"),
    (139, "stay with me you are doing lovely work"),
    (147, "this morning I wrote a long list of errands and lost it under a pile of towels"),
)


@cache
def review_to_edit() -> Review:
    """Give the sample with "blank hold" where a plank hold was named, and talk that repeats."""
    sample = sample_review()
    words = list(sample.heard.talk.words)
    at = next(place for place, word in enumerate(words) if word.text == "plank")
    words[at] = replace(words[at], text="Blank", norm="blank")
    named = Mark(
        "move", at, at + 1, words[at].start_ms, words[at + 1].end_ms, "Blank hold", "Plank hold",
        1.0, 0.7,
    )  # fmt: skip
    marks = [one for one in sample.heard.marks if one.first != at]
    more = [word for at_s, text in SAID_TOO for word in _said(text, round(1000 * at_s))]
    talk = replace(sample.heard.talk, words=tuple(words))
    heard = replace(sample.heard, talk=talk, marks=(*marks, named))
    return replace(sample, heard=with_words(heard, more))


def _said(text: str, at_ms: int) -> list[Word]:
    return [
        Word(part, part, at_ms + 330 * place, at_ms + 330 * place + 300, 250)
        for place, part in enumerate(text.split())
    ]


def sample_edits(rate: FrameRate = USUAL_RATE) -> Edits:
    return make_edits(review_to_edit(), rate=rate)


def with_words(heard: HeardClass, more: list[Word]) -> HeardClass:
    """Put words between the others, and let marks stay on the words that they were on."""
    ordered = sorted([*heard.talk.words, *more], key=lambda word: word.start_ms)
    places = {id(word): place for place, word in enumerate(ordered)}
    moved = [places[id(word)] for word in heard.talk.words]
    marks = tuple(
        replace(mark, first=moved[mark.first], last=moved[mark.last]) for mark in heard.marks
    )
    return replace(heard, talk=replace(heard.talk, words=tuple(ordered)), marks=marks)
