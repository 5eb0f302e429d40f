from __future__ import annotations

from functools import cache

import pytest

from reviewkit.marks.edge_features import Place, TalkFacts, gather_facts, list_places
from reviewkit.marks.edge_reasons import (
    ALL_ELSE,
    ONE_COUNTED,
    edge_reasons,
    words_after,
    words_before,
)
from reviewkit.marks.edges import fitted_net, weigh_edges
from reviewkit.model import Lexicon, Talk
from reviewkit.read import read_lexicon
from tests.coach import class_talk, even
from tests.talking import talk


@cache
def lexicon() -> Lexicon:
    return read_lexicon()


def facts(said: Talk) -> TalkFacts:
    return gather_facts(said, lexicon().lists["word_classes"])


def texts(text: str, word: int) -> list[str]:
    """List all that could be told of the moment before a word."""
    said = talk(text)
    place = Place(said.words[word].start_ms, "W", word)
    net = fitted_net(lexicon())
    found = [edge_reasons(net, facts(said), place, output) for output in ("start", "end")]
    return [reason.text for reasons in found for reason in reasons]


@pytest.mark.parametrize(
    ("text", "word", "told"),
    [
        ("squats three two one go chest up", 4, 'the words before: "squats three two one"'),
        ("squats three two one go chest up", 4, 'the words after: "go chest up"'),
        ("squats three two one go chest up", 4, "a count came down to one"),
        ("five four three hold it", 3, 'a count came down to "three"'),
        ("one two three hold it", 3, 'a count went up to "three"'),
        ("give me four of those", 3, 'the number "four" before'),
        ("two one and [4] there we are", 3, "a count came down to one 5 s before"),
        ("ten seconds [9.4] and rest", 2, '"ten seconds" said 10 s before'),
        ("that is it [1.2] next", 3, "a pause of 1.2 s before"),
        ("that is it next", 3, "no pause before"),
    ],
)
def test_what_was_heard_is_told(text: str, word: int, told: str) -> None:
    assert any(one.startswith(told) for one in texts(text, word)), texts(text, word)


def test_reasons_add_up_to_the_odds_of_the_moment() -> None:
    said = class_talk(even(2, work_s=40, rest_s=20))
    gathered, net = facts(said), fitted_net(lexicon())
    moments = weigh_edges(said, None, lexicon()).moments
    for place, moment in list(zip(list_places(said), moments, strict=True))[::7]:
        for output, odds in (("start", moment.start), ("end", moment.end)):
            reasons = edge_reasons(net, gathered, place, output)
            assert sum(reason.weight for reason in reasons) == pytest.approx(odds, abs=2e-3)


def test_a_count_and_a_go_speak_for_a_start() -> None:
    said = talk("next up is squats [2] three two one go [1] sit back and stand tall chest up")
    place = Place(said.words[7].start_ms, "W", 7)
    reasons = edge_reasons(fitted_net(lexicon()), facts(said), place, "start")
    told = {reason.text: reason.weight for reason in reasons}
    assert told[ONE_COUNTED] > 2
    assert told['the words after: "go sit back and"'] > 0
    assert told[ALL_ELSE] < -3


def test_the_strongest_reason_comes_first_and_each_comes_once() -> None:
    said = talk("squats three two one go chest up")
    place = Place(said.words[4].start_ms, "W", 4)
    reasons = edge_reasons(fitted_net(lexicon()), facts(said), place, "start")
    sizes = [abs(reason.weight) for reason in reasons]
    assert sizes == sorted(sizes, reverse=True)
    assert len({reason.text for reason in reasons}) == len(reasons)


def test_every_place_of_a_talk_can_be_told() -> None:
    for text in ("", "go", "[5] ten seconds [9] two one [8] rest"):
        said = talk(text)
        for place in list_places(said):
            assert edge_reasons(fitted_net(lexicon()), facts(said), place, "end")


def test_words_on_both_sides_stop_at_the_ends() -> None:
    said = talk("one two three")
    first, last = Place(0, "W", 0), Place(1200, "E", 3)
    assert (words_before(facts(said), first), words_after(facts(said), last)) == ("", "")
    assert words_after(facts(said), first, 2) == "one two"
    assert words_before(facts(said), last, 2) == "two three"
