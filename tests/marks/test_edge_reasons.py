from __future__ import annotations

from functools import cache

import pytest

from reviewkit.marks.edge_features import Place, TalkFacts, gather_facts, list_places
from reviewkit.marks.edge_reasons import edge_reasons, words_after, words_before
from reviewkit.marks.edges import weigh_edges
from reviewkit.model import Lexicon, Talk, Weights
from reviewkit.read import read_lexicon
from tests.coach import class_talk, even
from tests.talking import talk


@cache
def lexicon() -> Lexicon:
    return read_lexicon()


class _Everything(dict[str, tuple[float, ...]]):
    """Weights that give every feature one."""

    def get(self, key: str, default: object = None) -> tuple[float, ...]:  # noqa: ARG002
        return (1.0, 1.0)


EVERYTHING = Weights(("start", "end"), _Everything())


def facts(said: Talk) -> TalkFacts:
    return gather_facts(said, ())


def texts(text: str, word: int) -> list[str]:
    """List all that could be told of the moment before a word."""
    said = talk(text)
    place = Place(said.words[word].start_ms, "W", word)
    return [reason.text for reason in edge_reasons(facts(said), place, EVERYTHING, "start")]


@pytest.mark.parametrize(
    ("text", "word", "told"),
    [
        ("squats three two one go chest up", 4, 'the words before: "squats three two one"'),
        ("squats three two one go chest up", 4, 'the words after: "go chest up"'),
        ("squats three two one go chest up", 4, "a count came down to one"),
        ("squats three two one go chest up", 4, '"one" right before "go"'),
        ("five four three hold it", 3, 'a count came down to "three"'),
        ("one two three hold it", 3, 'a count went up to "three"'),
        ("give me four of those", 3, 'the number "four" before'),
        ("give me four of those", 2, 'the number "four" comes next'),
        ("two one and [4] there we are", 3, "a count came down to one 5 s before"),
        ("ten seconds [9.4] and rest", 2, '"ten seconds" said 10 s before'),
        ("that is it [1.2] next", 3, "a pause of 1.2 s before"),
        ("that is it next", 3, "no pause before"),
        ("hello there", 0, "nothing was said before"),
    ],
)
def test_what_was_heard_is_told(text: str, word: int, told: str) -> None:
    assert any(one.startswith(told) for one in texts(text, word)), texts(text, word)


def test_reasons_add_up_to_the_odds_of_the_moment() -> None:
    said = class_talk(even(3, work_s=40, rest_s=20))
    word_classes = lexicon().lists["word_classes"]
    gathered = gather_facts(said, word_classes)
    evidence = weigh_edges(said, lexicon())
    weights = lexicon().weights["edges"]
    for place, moment in zip(list_places(said), evidence.moments, strict=True):
        for output, odds in (("start", moment.start), ("end", moment.end)):
            reasons = edge_reasons(gathered, place, weights, output)
            assert sum(reason.weight for reason in reasons) == pytest.approx(odds)


def test_the_strongest_reason_comes_first_and_each_comes_once() -> None:
    said = talk("squats three two one go chest up")
    place = Place(said.words[4].start_ms, "W", 4)
    reasons = edge_reasons(facts(said), place, lexicon().weights["edges"], "start")
    sizes = [abs(reason.weight) for reason in reasons]
    assert sizes == sorted(sizes, reverse=True)
    assert len({reason.text for reason in reasons}) == len(reasons)


def test_every_place_of_a_talk_can_be_told() -> None:
    for text in ("", "go", "[5] ten seconds [9] two one [8] rest"):
        said = talk(text)
        for place in list_places(said):
            assert edge_reasons(facts(said), place, EVERYTHING, "end")


def test_words_on_both_sides_stop_at_the_ends() -> None:
    said = talk("one two three")
    first, last = Place(0, "W", 0), Place(1200, "E", 3)
    assert (words_before(facts(said), first), words_after(facts(said), last)) == ("", "")
    assert words_after(facts(said), first, 2) == "one two"
    assert words_before(facts(said), last, 2) == "two three"
