import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.language.phrase_index import index_phrases
from reviewkit.marks.call_line import CallLine
from reviewkit.marks.done_calls import done_calls
from reviewkit.model import Lexicon
from tests.lexicon import flat_lexicon

WORDS = ["that's", "two", "of", "three", "last", "sets", "done", "the", "left", "first", "so"]


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return flat_lexicon()


def heard(text: str, lexicon: Lexicon) -> list[str]:
    words = tuple(text.split())
    calls = done_calls(CallLine(words, index_phrases(lexicon.lists["time_calls"])))
    return [" ".join(words[call.first : call.last + 1]) for call in calls]


@pytest.mark.parametrize(
    "text",
    [
        "two up two down",
        "that's two different things",
        "that's one way of doing it",
        "that's one of those days",
        "i've done this for six years",
        "we've had five people write in",
        "three sets of ten",
        "first we bend then we twist",
        "on the second side",
        "number one is the grapevine",
        "one arm down",
        "round two starts now",
        "ten to the right then ten to the left",
        "the strength that gets you up the last hill",
        "last thing on friday she asked me about it",
    ],
)
def test_left_alone(text: str, lexicon: Lexicon) -> None:
    assert heard(text, lexicon) == []


@pytest.mark.parametrize(
    "text",
    [
        "that was set one of three",
        "that's the first of three",
        "two sets down and more to come",
        "six of those done and i promised you ten",
        "round two of four in the books",
        "we've had five now and five more'll do us",
        "six each side and you've done four",
        "that was number four i want eight out of you",
        "and that was eight so two more",
        "that's four of your eight runs done",
        "we do this three times and this is the third",
        "final stride of the night",
        "three floors to go",
        "ten more hops and swap",
        "the second set is complete",
        "first set over lie still a while",
        "that's the first block signed off",
        "last flight lads",
        "this is the last lap",
        "last ten strokes count them with me",
    ],
)
def test_heard(text: str, lexicon: Lexicon) -> None:
    assert heard(text, lexicon) != []


@given(st.lists(st.sampled_from(WORDS)))
def test_calls_lie_in_the_line(words: list[str]) -> None:
    calls = list(
        done_calls(CallLine(tuple(words), index_phrases(flat_lexicon().lists["time_calls"])))
    )
    assert all(0 <= call.first <= call.last < len(words) for call in calls)
