from reviewkit.frames.utterances import split_cues, split_utterances
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


def test_a_long_run_is_also_given_in_windows() -> None:
    words = " ".join(f"word{number}" for number in range(30))
    said = talk(words)
    lengths = {len(one.words) for one in split_utterances(said)}
    assert 11 in lengths
    heard = {word for one in split_utterances(said) for word in one.words}
    assert len(heard) == 30


def test_a_coarse_clock_gives_windows_alone() -> None:
    said = talk("word " * 40, clock="blocks")
    assert max(len(one.words) for one in split_utterances(said)) == 11
    assert split_cues(said) == split_utterances(said)


def test_cues_hold_every_word_once() -> None:
    said = talk("knees out [3] chest up and heels down now")
    assert [word for one in split_cues(said) for word in one.words] == [
        word.norm for word in said.words
    ]
