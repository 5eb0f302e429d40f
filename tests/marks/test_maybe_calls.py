import pytest

from reviewkit.language.phrase_index import index_phrases
from reviewkit.marks.call_line import CallLine
from reviewkit.marks.maybe_calls import maybe_calls
from reviewkit.marks.time_calls import LIST, find_time_calls, read_calls
from reviewkit.model import Lexicon
from tests.lexicon import flat_lexicon
from tests.talking import talk


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return flat_lexicon()


def read(text: str, lexicon: Lexicon) -> set[tuple[str, float | None]]:
    words = tuple(text.split())
    line = CallLine(words, index_phrases(lexicon.lists[LIST]))
    calls = maybe_calls(line, read_calls(words, lexicon))
    return {(call.ref, call.value and round(call.value, 2)) for call in calls}


@pytest.mark.parametrize(
    "text",
    [
        "let's all do twenty squats together please",
        "three and four",
        "half a squat is still a squat",
        "keep your top half tall",
        "elbows halfway up",
        "three",
        "when i was a boy all seven of them went home by the river",
        "half past two and the phone rang",
        "at half four this morning",
        "he waited eleven years for that bus and then it came",
        "use eighty percent of your strength",
        "halfway through the whole workout",
    ],
)
def test_doses_places_and_amounts_are_left_alone(text: str, lexicon: Lexicon) -> None:
    assert read(text, lexicon) == set()


@pytest.mark.parametrize(
    ("text", "ref", "value"),
    [
        ("he's got all his fingers up so it's ten", "left", 10),
        ("thirty to make your mother proud", "left", 30),
        ("half the verse", "halfway", None),
        ("the middle is now", "halfway", None),
        ("three quarters gone", "share", 0.25),
        ("sticks", "left", 10),
        ("forty on the clock", "gone", 40),
        ("twenty seconds in", "gone", 20),
        ("we're at forty", "gone", 40),
        ("thirty seconds on the board", "gone", 30),
        ("eleven more", "left", 11),
        ("and now eleven", "left", 11),
        ("four", "left", 4),
        ("and i have turned that wheel alone six feet down hands in your lap", "left", 6),
        ("ten buttercups", "left", 10),
        ("halfway up the hill", "halfway", None),
        ("halfway through the song", "halfway", None),
        ("four fifths done", "share", 0.2),
        ("eighty percent there", "share", 0.2),
    ],
)
def test_what_may_be_a_claim(text: str, ref: str, value: float | None, lexicon: Lexicon) -> None:
    assert (ref, value) in read(text, lexicon)


def test_time_said_to_be_left_is_not_taken_for_gone(lexicon: Lexicon) -> None:
    assert ("gone", 30) not in read("thirty seconds left in your lunge", lexicon)


def test_number_that_was_taken_back_claims_nothing(lexicon: Lexicon) -> None:
    assert read("thirty more no hang on twenty", lexicon) == {("left", 20)}


def test_numbers_of_a_count_are_left_alone(lexicon: Lexicon) -> None:
    marks = find_time_calls(talk("nine ten eleven twelve"), lexicon)
    assert [mark for mark in marks if mark.kind == "maybe_call"] == []


def test_middles_of_bodies_have_to_come_nearer_than_those_of_the_way(lexicon: Lexicon) -> None:
    def weights(text: str) -> set[float]:
        words = tuple(text.split())
        line = CallLine(words, index_phrases(lexicon.lists[LIST]))
        return {call.weight for call in maybe_calls(line, ())}

    (body,) = weights("keep the weight over the middle of your foot please")
    (way,) = weights("so now we are somewhere in the middle of this thing")
    assert body < way
