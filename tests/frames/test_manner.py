import pytest

from reviewkit.frames.manner import MANNERS, manner


def named(text: str) -> dict[str, float]:
    return dict(zip(MANNERS, manner(text.split()), strict=True))


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("my sister was here on monday", "people"),
        ("my shoulders have had enough", "mine"),
        ("you can take it easier if you like", "option"),
        ("blow out as you push", "breath"),
        ("keep your knees soft", "order"),
        ("ten seconds left", "time"),
        ("i can feel it burn", "feeling"),
    ],
)
def test_little_words_tell_how_it_is_meant(text: str, name: str) -> None:
    assert named(text)[name] > 0


def test_what_the_coach_wants_or_shows_is_no_story() -> None:
    assert named("i want your heels down")["oneself"] == 0
    assert named("see how my elbows slope")["mine"] == 0


def test_counts_are_capped_and_nothing_has_no_manner() -> None:
    assert max(manner(["keep"] * 9)) == 3
    assert set(manner([])) == {0.0}
