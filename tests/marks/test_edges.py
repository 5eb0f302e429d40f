from __future__ import annotations

from functools import cache

import pytest

from reviewkit.marks.edges import weigh_edges
from reviewkit.model import EdgeEvidence, Lexicon, Talk
from reviewkit.read import read_lexicon
from tests.coach import class_talk, even
from tests.talking import talk


@cache
def lexicon() -> Lexicon:
    return read_lexicon()


def at_word(evidence: EdgeEvidence, said: Talk, word: int) -> tuple[float, float]:
    """Give the log-odds of a start and an end right before a word."""
    (moment,) = (
        one
        for one in evidence.moments
        if one.word == word and one.at_ms == said.words[word].start_ms
    )
    return moment.start, moment.end


def test_nothing_said_gives_no_word_and_no_odds() -> None:
    evidence = weigh_edges(Talk((), "words", 0, 5000), None, lexicon())
    assert evidence.work == ()
    assert all(moment.word == 0 for moment in evidence.moments)


def test_moments_are_as_sure_as_the_words_they_hang_on() -> None:
    said = talk("and go now", spread_ms=900)
    assert {one.spread_ms for one in weigh_edges(said, None, lexicon()).moments} == {900}


def test_moments_come_in_time_order() -> None:
    evidence = weigh_edges(class_talk(even(3, work_s=40, rest_s=20)), None, lexicon())
    at_ms = [moment.at_ms for moment in evidence.moments]
    assert at_ms == sorted(at_ms)


@pytest.mark.parametrize("opening", ["three two one go", "three two one off we go"])
def test_a_count_and_a_go_speak_for_a_start(opening: str) -> None:
    # A break's talk comes first: how busy the talk is says part of what a count is for.
    rest = "shake it out and get a drink we have a short break here"
    said = talk(f"{rest} [3] squats are next [2] {opening} chest up nice and tall")
    evidence = weigh_edges(said, None, lexicon())
    go = next(at for at, word in enumerate(said.words) if word.norm == "one") + 1
    start, end = at_word(evidence, said, go)
    assert start > end
    assert start > max(at_word(evidence, said, go + away)[0] for away in (-5, -4, 2, 3))


@pytest.mark.parametrize("closing", ["three two one and rest", "two one and stop there"])
def test_a_count_and_a_rest_speak_for_an_end(closing: str) -> None:
    said = talk(f"chest up nice and tall [2] {closing} grab some water")
    last_number = next(at for at, word in enumerate(said.words) if word.norm == "one")
    start, end = at_word(weigh_edges(said, None, lexicon()), said, last_number + 1)
    assert end > start
    assert end > 0


def test_cues_sound_like_work_and_chat_like_rest() -> None:
    def average(text: str) -> float:
        work = weigh_edges(talk(text), None, lexicon()).work
        return sum(work) / len(work)

    cues = "push the floor away keep the chest up drive through the heels breathe out"
    chat = "grab some water have a sip and shake it out next up we have a lovely stretch"
    assert average(cues) > average(chat)
