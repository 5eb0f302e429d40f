from __future__ import annotations

from reviewkit.frames.evidence import Ask, Evidence, weigh_evidence
from reviewkit.frames.terms import words_of
from reviewkit.frames.utterances import Utterance
from reviewkit.model import Line, Phrase
from reviewkit.read import read_lexicon


def utterance(text: str) -> Utterance:
    words = tuple(words_of(text))
    return Utterance(Line(0, len(words) - 1, 0, 1_000, text), words)


def weighed(text: str, point: str, *lines: Phrase) -> Evidence:
    """Weigh one utterance for one point, beside lines that have nothing to do with it."""
    said = [utterance(text), utterance("hello everybody"), utterance("lovely to see you")]
    return weigh_evidence(said, [Ask(point)], read_lexicon(), lines=lines)


def test_talk_about_something_else_gives_nothing() -> None:
    assert weighed("my sister rang about the cake", "heels stay down").closest[0, 0] < 0.3


def test_a_point_is_found_through_the_lexicon_in_other_words() -> None:
    found = weighed("you should be able to wiggle your toes", "heels stay down")
    assert found.link_ids == ("weight-in-heels",)
    assert found.cover[0, 0] < 0.5 < found.closest[0, 0]


def test_a_line_by_which_coaches_gave_a_point_counts_like_the_lexicons_own() -> None:
    text = "purple marmalade underneath the boots"
    line = Phrase(text, "weight-in-heels")
    assert weighed(text, "heels stay down").closest[0, 0] < 0.5
    assert weighed(text, "heels stay down", line).closest[0, 0] > 0.8


def test_a_line_of_an_unknown_point_is_passed_over() -> None:
    text = "purple marmalade underneath the boots"
    before, after = (
        weighed(text, "heels stay down", *lines) for lines in ((), (Phrase(text, "no-such-point"),))
    )
    assert before.closest[0, 0] == after.closest[0, 0]


def test_a_point_as_plans_write_it_is_linked_to_the_lexicons() -> None:
    for text, point in (
        ("talk test", "talk-test"),
        ("pivot", "pivot-foot"),
        ("core on", "brace-core"),
    ):
        found = weighed("hello there", text)
        assert found.link_ids == (point,)
        assert found.link[0] > 0.9
