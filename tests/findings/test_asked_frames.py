import pytest

from reviewkit.findings.asked_frames import asked_frames
from reviewkit.frames.grammar import frame_book
from reviewkit.frames.terms import words_of
from tests.lexicon import flat_lexicon

BOOK = frame_book(flat_lexicon())


def poles(text: str, lead: str = "") -> set[str]:
    return {frame.pole for frame in asked_frames(words_of(text), BOOK, lead=words_of(lead))}


@pytest.mark.parametrize(
    ("text", "pole"),
    [
        ("if it's a titchy step you lose it", "size:small"),
        ("they're flying out like that", "width:out"),
        ("the band's gone slack on you", "slack:loose"),
        ("lift the heels and then lower the heels", "height:up"),
        ("up you get and on your feet", "height:up"),
    ],
    ids=["supposed", "seen", "seen already", "a movement", "far from its part"],
)
def test_what_is_not_asked_for(text: str, pole: str) -> None:
    assert pole not in poles(text)


@pytest.mark.parametrize(
    ("text", "pole"),
    [
        ("lift the heels up", "height:up"),
        ("come up onto your toes", "height:up"),
        ("nobody is lying flat please", "prop:up"),
        ("hips up high", "hipheight:up"),
    ],
    ids=["beside its part", "what it stands for", "a ban", "by its own name"],
)
def test_what_is_asked_for(text: str, pole: str) -> None:
    assert pole in poles(text)


def test_a_line_that_runs_on_brings_the_part() -> None:
    text, lead = "right out in front of you", "do this one with your feet"
    (alone,) = [one for one in asked_frames(words_of(text), BOOK) if one.axis == "distance"]
    (led,) = [
        one
        for one in asked_frames(words_of(text), BOOK, lead=words_of(lead))
        if one.axis == "distance"
    ]
    assert "foot" not in alone.close
    assert "foot" in led.close
    assert led.at == alone.at
