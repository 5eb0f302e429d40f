import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.marks.wording import Hit, find_wordings, index_wordings
from reviewkit.model import Phrase

WORD = st.text("abcdefgh", min_size=1, max_size=5)


def hits(words: list[str], *wordings: str) -> tuple[Hit, ...]:
    lines = tuple(Phrase(wording, "label") for wording in wordings)
    return find_wordings(words, index_wordings(lines)).get("label", ())


def heard(wording: str, text: str) -> list[str]:
    return [hit.text for hit in hits(text.split(), wording)]


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
    assert hits(["a"]) == ()


def test_the_longest_wording_of_a_label_counts_where_several_fit() -> None:
    assert [one.text for one in hits(["no", "rest", "today"], "no rest", "no rest today")] == [
        "no rest today"
    ]


def test_labels_are_heard_each_by_itself_in_the_order_of_the_list() -> None:
    lines = (Phrase("rest", "pause"), Phrase("no rest", "denial"), Phrase("knee", "joint"))
    found = find_wordings(["no", "rest", "at", "all"], index_wordings(lines))
    assert {label: [one.text for one in own] for label, own in found.items()} == {
        "pause": ["rest"],
        "denial": ["no rest"],
    }
    assert list(found) == ["pause", "denial"]


@given(st.lists(WORD, max_size=6), st.lists(WORD, min_size=1, max_size=4), st.lists(WORD))
def test_a_wording_is_found_where_it_stands(
    before: list[str], wording: list[str], after: list[str]
) -> None:
    words = [*before, "xx", *wording, "yy", *after]
    found = hits(words, " ".join(["xx", *wording]))
    assert (len(before), len(before) + len(wording)) in [(hit.first, hit.last) for hit in found]
