from __future__ import annotations

import pytest

from reviewkit.frames.around import AROUND, look_around
from reviewkit.frames.utterances import split_utterances
from tests.talking import talk


def around(text: str, said: str) -> dict[str, float]:
    """Look around the first utterance with some words, in a talk."""
    heard = talk(text)
    utterances = split_utterances(heard)
    place = next(at for at, one in enumerate(utterances) if said in one.line.text)
    row = look_around(utterances, heard)[place].tolist()
    return dict(zip(AROUND, row, strict=True))


def test_a_plain_cue_tells_no_story() -> None:
    found = around("keep the knees relaxed and the heels pressed down", "heels")
    assert found["told"] == found["again"] == found["anew"] == 0


@pytest.mark.parametrize(
    "story",
    [
        "our officer had arms as long as that by the ears",
        "arms by the ears and then he never once fell off",
        "she lifted her arms up by the ears",
    ],
)
def test_a_story_is_told_by_its_verbs(story: str) -> None:
    assert around(story, "ears")["told"] > 0


def test_a_story_beside_a_window_counts_up_to_a_pause() -> None:
    story = "we had a coach who went to sea and told us all about it each and every morning"
    cue = "arms by the ears now and stay there for a bit long neck"
    assert around(f"{story} {cue}", "by the ears now and stay there")["told"] > 0
    assert around(f"{story} [3] {cue}", "by the ears now and stay there")["told"] == 0


def test_what_is_said_first_has_a_longer_line_than_what_is_said_again() -> None:
    first = around("now one thing i never told you let the heels go heavy", "heels")
    again = around("heels heavy still", "heels")
    assert again["length"] < first["length"]
    assert again["again"] > 0
    assert first["anew"] > 0


def test_no_talk_has_nothing_around_it() -> None:
    assert look_around((), talk("")).shape == (0, len(AROUND))
