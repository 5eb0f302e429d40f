import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.marks.wording import as_spoken, compile_wordings, find_wordings

WORD = st.text("abcdefgh", min_size=1, max_size=5)


def heard(wording: str, text: str) -> list[str]:
    spoken = as_spoken(text.split())
    return [hit.text for hit in find_wordings(spoken, compile_wordings([wording]))]


@pytest.mark.parametrize(
    ("wording", "text"),
    [
        pytest.param("push through", "pushing through", id="another ending"),
        pytest.param("hold it in", "hold it up", id="a little word at the end is needed"),
        pytest.param("no rest", "now rest", id="no part of a word"),
        pytest.param("knee * hurts", "knee one two three four hurts", id="too far apart"),
        pytest.param("{t} * off", "#t45 on #t15 off", id="not over another amount"),
        pytest.param("{n} rounds", "#t30 rounds", id="a length is no number"),
    ],
)
def test_left_alone(wording: str, text: str) -> None:
    found = heard(wording, text)
    assert found == [] or found == ["#t15 off"]


@pytest.mark.parametrize(
    ("wording", "text", "found"),
    [
        ("hold your breath", "now hold breath and", "hold breath"),
        ("hold breath", "hold the breath", "hold the breath"),
        ("knee * hurts", "the knee still really hurts me", "knee still really hurts"),
        ("melt~ * middle", "it melts your middle", "melts your middle"),
        ("keep ~ing", "keep skipping now", "keep skipping"),
        ("hold|hole that", "hole that", "hole that"),
        ("{n} rounds", "do #n3 rounds", "#n3 rounds"),
    ],
)
def test_heard(wording: str, text: str, found: str) -> None:
    assert heard(wording, text) == [found]


def test_no_wordings_no_hits() -> None:
    assert find_wordings(as_spoken(["a"]), compile_wordings([])) == ()


@given(st.lists(WORD, max_size=6), st.lists(WORD, min_size=1, max_size=4), st.lists(WORD))
def test_a_wording_is_found_where_it_stands(
    before: list[str], wording: list[str], after: list[str]
) -> None:
    words = [*before, "xx", *wording, "yy", *after]
    hits = find_wordings(as_spoken(words), compile_wordings([" ".join(["xx", *wording])]))
    assert (len(before), len(before) + len(wording)) in [(hit.first, hit.last) for hit in hits]
