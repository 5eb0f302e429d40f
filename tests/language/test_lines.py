from hypothesis import given
from hypothesis import strategies as st

from reviewkit.language.lines import LONGEST_WORDS, split_lines
from tests.talking import talk


def texts(text: str) -> list[str]:
    return [line.text for line in split_lines(talk(text))]


def test_steady_talk_is_one_line() -> None:
    assert texts("push the floor away from you") == ["push the floor away from you"]


def test_opening_word_does_not_cut_a_short_line() -> None:
    assert texts("lower down now and hold") == ["lower down now and hold"]


def test_decimal_point_does_not_end_a_line() -> None:
    assert texts("take 2.5 kilos") == ["take 2.5 kilos"]


def test_pause_ends_a_line() -> None:
    assert texts("chest up [1] ten to go") == ["chest up", "ten to go"]


def test_full_stop_ends_a_line() -> None:
    assert texts("Chest up. Ten to go!") == ["Chest up.", "Ten to go!"]


def test_opening_word_cuts_a_long_line() -> None:
    said = "push the knees out and keep the heels heavy now we change legs"
    assert texts(said) == ["push the knees out and keep the heels heavy", "now we change legs"]


@given(st.lists(st.sampled_from(["up", "now", "so", "[0.3]", "[2]", "knees.", "the"])))
def test_every_word_is_in_exactly_one_line(parts: list[str]) -> None:
    said = talk(" ".join(parts))
    lines = split_lines(said)
    covered = [at for line in lines for at in range(line.first, line.last + 1)]
    assert covered == list(range(len(said.words)))
    assert all(line.last - line.first < LONGEST_WORDS for line in lines)
