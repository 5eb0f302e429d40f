import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.marks.time_calls import find_time_calls, read_calls
from reviewkit.model import Lexicon, Mark
from tests.lexicon import flat_lexicon
from tests.talking import talk


def plain_calls(text: str, lexicon: Lexicon) -> list[Mark]:
    """Find the calls that need no clock to be one."""
    return [mark for mark in find_time_calls(talk(text), lexicon) if mark.kind == "time_call"]


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return flat_lexicon()


@pytest.mark.parametrize(
    "text",
    [
        "we hold for thirty",
        "forty seconds on twenty off",
        "thirty seconds each side",
        "three seconds down one second up",
        "only go halfway down",
        "halfway up is plenty",
        "halfway through my morning already",
        "halfway round the shop I turned",
        "halfway was ages ago",
        "not halfway like you're hailing a bus",
        "don't half feel it in the side of your bum",
        "five in and five out",
        "bend to ninety degrees",
        "take the ten kilos",
        "five more people just joined",
        "i waited five minutes for the bus",
        "the middle of your foot",
        "half kneeling now",
        "twenty seconds rest",
        "one two three four",
        "jab cross one two",
        "breathe in for four and out for six",
        "count to twenty in your head",
        "last five six seven eight",
        "last five of your ten",
        "put it on the floor a minute i need my hankie",
        "my top half i'm not tipping over",
        "a third of the weight",
        "quarter turn to the left",
        "isn't it strange how long forty is",
        "five",
    ],
)
def test_no_claim(text: str, lexicon: Lexicon) -> None:
    assert [call for call in read_calls(text.split(), lexicon) if call.ref != "reps"] == []


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("ten seconds", 10),
        ("ten seconds people ten", 10),
        ("four seconds", 4),
        ("nine eight something like that", 8),
        ("20 seconds left", 20),
        ("forty five to go", 45),
        ("last ten", 10),
        ("final five now", 5),
        ("just fifteen more", 15),
        ("half a minute to go", 30),
        ("a minute and a half of this still to come", 90),
        ("ten more little seconds", 10),
        ("twenty seconds till we rest", 20),
        ("thirty gone thirty to go", 30),
        ("ten no sorry it's five seconds", 5),
        ("that's ten left no i tell a lie it's twenty", 20),
        ("one fifteen left", 75),
        ("the clock says ten", 10),
        ("ten", 10),
        ("thirtyseconds leftto go", 30),
        ("hold it ten seconds to go hold it", 10),
        ("twenty no ten he says ten", 10),
        ("seven no he's showing me five so five", 5),
        ("fifteen no sixty no hang on it's forty", 40),
        ("how long well thirty more", 30),
        ("how long have we got twenty", 20),
        ("still is twenty second", 20),
        ("minute to go", 60),
        ("ten wee seconds left", 10),
        ("ten seconds left class", 10),
        ("last ten warriors", 10),
        ("blow when you press still is ten second", 10),
    ],
)
def test_seconds_left(text: str, seconds: float, lexicon: Lexicon) -> None:
    calls = read_calls(text.split(), lexicon)
    assert [(call.ref, call.value) for call in calls] == [("left", seconds)]


@pytest.mark.parametrize(
    ("text", "ref"),
    [
        ("halfway", "halfway"),
        ("that's half way there", "halfway"),
        ("half of it gone", "halfway"),
        ("middle of it so change legs", "halfway"),
        ("half done", "halfway"),
        ("and there's your half", "halfway"),
        ("the first half's gone", "halfway"),
        ("a minute gone", "gone"),
        ("halfway through block two", "class"),
        ("twenty in the bank", "gone"),
        ("thirty seconds gone", "gone"),
        ("that is the first minute gone", "gone"),
        ("we've done twenty", "gone"),
        ("the last third", "share"),
        ("a quarter left", "share"),
        ("a third of the way in", "share"),
        ("quarter of the way there folks", "share"),
        ("only one third of it to go", "share"),
        ("halfway through the workout", "class"),
        ("that's the class half done", "class"),
        ("two minutes left of the class", "class"),
        ("two more", "reps"),
        ("last one", "reps"),
        ("a few more of those", "reps"),
        ("nearly there", "reps"),
        ("two rounds down", "reps"),
        ("six more like that", "reps"),
    ],
)
def test_other_calls(text: str, ref: str, lexicon: Lexicon) -> None:
    assert [call.ref for call in read_calls(text.split(), lexicon)] == [ref]


def test_countdown_is_no_call(lexicon: Lexicon) -> None:
    assert plain_calls("five [1] four three two one", lexicon) == []


def test_number_that_closes_a_count_is_no_call(lexicon: Lexicon) -> None:
    assert plain_calls("eight nine [1] thirty [2] rest", lexicon) == []


def test_more_after_a_countdown_means_repetitions(lexicon: Lexicon) -> None:
    (mark,) = plain_calls("three two one [1] and five more", lexicon)
    assert (mark.ref, mark.value) == ("reps", None)


def test_mark_covers_the_words_of_the_call(lexicon: Lexicon) -> None:
    (mark,) = plain_calls("chest proud [2] twenty seconds left [2] push", lexicon)
    assert (mark.first, mark.last, mark.value) == (2, 4, 20)
    assert mark.text == "twenty seconds left"


@given(st.integers(1, 59).filter(lambda seconds: seconds >= 5))
def test_every_figure_with_its_unit_is_read(seconds: int) -> None:
    calls = read_calls(["only", str(seconds), "seconds", "left"], flat_lexicon())
    assert [(call.ref, call.value) for call in calls] == [("left", seconds)]
