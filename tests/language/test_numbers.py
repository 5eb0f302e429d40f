import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.language.numbers import find_lengths, find_numbers, number_value

TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
ONES = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]


@pytest.mark.parametrize(
    "text",
    ["the second move", "push for home", "and a half turn", "once more", "at the top", ""],
)
def test_words_that_are_no_number(text: str) -> None:
    assert find_numbers(text.split()) == ()


@pytest.mark.parametrize(
    "text",
    ["twenty", "ten more reps", "wait a second", "half of it", "the minutes fly", "a half turn"],
)
def test_words_that_are_no_length(text: str) -> None:
    assert find_lengths(text.split()) == ()


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("twenty five", [25]),
        ("25", [25]),
        ("twenty-five", [25]),
        ("ninety", [90]),
        ("a couple", [2]),
        ("a dozen", [12]),
        ("half a dozen", [6]),
        ("a hundred and ten", [110]),
        ("two hundred", [200]),
        ("one and a half", [1.5]),
        ("twenny", [20]),
        ("five four three", [5, 4, 3]),
        ("twenty ten", [20, 10]),
        ("thirty nine forty", [39, 40]),
    ],
)
def test_numbers(text: str, values: list[float]) -> None:
    assert [number.value for number in find_numbers(text.split())] == values


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("45 seconds", 45),
        ("45-second hold", 45),
        ("twenty more little seconds", 20),
        ("fifteen or so of these seconds", 15),
        ("half a minute", 30),
        ("three quarters of a minute", 45),
        ("minute and a half", 90),
        ("one minute and half", 90),
        ("a minute and a half", 90),
        ("a minute and a quarter", 75),
        ("two minutes and a quarter", 135),
        ("one and a half minutes", 90),
        ("a minute thirty", 90),
        ("one minute and ten seconds", 70),
        ("another minute", 60),
        ("1:30", 90),
        ("thirtyseconds", 30),
        ("five ticks", 5),
        ("30s", 30),
    ],
)
def test_lengths(text: str, seconds: float) -> None:
    assert [length.seconds for length in find_lengths(text.split())] == [seconds]


@given(st.sampled_from(TENS), st.sampled_from(ONES))
def test_words_and_figures_agree(tens: str, ones: str) -> None:
    value = 10 * (TENS.index(tens) + 2) + ONES.index(ones) + 1
    assert number_value([tens, ones]) == number_value([f"{tens}-{ones}"]) == value
    assert number_value([str(value)]) == value


@given(st.lists(st.sampled_from([*TENS, *ONES, "a", "half", "minute", "seconds", "and", "more"])))
def test_finds_never_overlap_and_stay_inside(words: list[str]) -> None:
    for found in (find_numbers(words), find_lengths(words)):
        ends = [-1]
        for item in found:
            assert ends[-1] < item.first <= item.last < len(words)
            ends.append(item.last)
