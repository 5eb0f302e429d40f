from reviewkit.frames.utterances import split_utterances
from tests.talking import talk


def test_lines_apart_are_not_joined() -> None:
    found = split_utterances(talk("knees out [3] chest up"))
    assert [one.line.text for one in found] == ["knees out", "chest up"]
    assert not any(one.is_joined for one in found)


def test_lines_that_run_on_are_also_given_together() -> None:
    words = " ".join(["push"] * 30)
    found = split_utterances(talk(words))
    joined = [one for one in found if one.is_joined]
    assert joined
    assert len(joined[0].words) == 30


def test_no_talk_has_no_utterances() -> None:
    assert split_utterances(talk("")) == ()
