import pytest

from reviewkit.frames.grammar import OPPOSITES, are_opposite, frame_book, parse_frames
from reviewkit.frames.terms import words_of
from tests.lexicon import flat_lexicon

BOOK = frame_book(flat_lexicon())


def poles(text: str, part: str) -> set[str]:
    return {frame.pole for frame in parse_frames(words_of(text), BOOK) if part in frame.parts}


@pytest.mark.parametrize(
    ("text", "part", "pole"),
    [
        ("heels stay glued to the floor", "heel", "height:down"),
        ("don't let the heels lift", "heel", "height:down"),
        ("knees wide", "knee", "width:out"),
        ("never let those knees touch", "knee", "width:out"),
        ("a little bend in the knee please", "knee", "bend:soft"),
        ("your knees want to snap together", "knee", "width:out"),
        ("elbows brush your sides", "elbow", "width:in"),
    ],
)
def test_a_cue_is_parsed_to_part_and_pole(text: str, part: str, pole: str) -> None:
    assert pole in poles(text, part)


@pytest.mark.parametrize("text", ["how was your morning", "", "three two one"])
def test_talk_about_nothing_has_no_frames(text: str) -> None:
    assert parse_frames(words_of(text), BOOK) == ()


def test_a_turn_ends_with_the_clause() -> None:
    assert "height:up" in poles("don't slump and keep your chest lifted", "chest")


def test_a_turn_does_not_reach_past_another_pole() -> None:
    turned = [frame.is_turned for frame in parse_frames(words_of("not up but down"), BOOK)]
    assert turned == [True, False]


def test_opposites_go_both_ways() -> None:
    assert all(OPPOSITES[other] == one for one, other in OPPOSITES.items())


def test_every_pole_of_the_list_has_an_opposite() -> None:
    labels = {label for line in flat_lexicon().lists["axes"] for label in line.label.split()}
    assert labels <= set(OPPOSITES)


def test_holding_the_breath_is_the_opposite_of_breathing_out() -> None:
    (held,) = parse_frames(words_of("hold your breath"), BOOK)
    (out,) = parse_frames(words_of("exhale"), BOOK)
    assert are_opposite(held, out)


def test_a_turn_goes_on_over_words_that_say_the_same() -> None:
    words = words_of("don't let the heels lift off the floor")
    assert {frame.pole for frame in parse_frames(words, BOOK) if frame.axis == "height"} == {
        "height:down"
    }


def test_whose_part_it_is_makes_no_difference() -> None:
    for owner in ("my", "the", "your", "those"):
        words = words_of(f"let the knee go past {owner} toes")
        assert "past:past" in {frame.pole for frame in parse_frames(words, BOOK)}


def test_the_nearest_part_is_told_from_those_farther_off() -> None:
    words = words_of("arms long by your ears and the heels down")
    (frame,) = [one for one in parse_frames(words, BOOK) if one.pole == "height:down"]
    assert "heel" in frame.close
    assert "arm" in frame.parts - frame.close


@pytest.mark.parametrize(
    "text", ["send it back up", "as low as you can", "palms face the wall", "come back in"]
)
def test_words_that_only_sound_like_a_part_are_none(text: str) -> None:
    near = {part for frame in parse_frames(words_of(text), BOOK) for part in frame.parts}
    assert not near & {"back", "torso", "weight", "face"}


@pytest.mark.parametrize("text", ["keep your back flat", "long flat back", "back stays flat"])
def test_a_part_that_is_owned_or_described_is_one(text: str) -> None:
    assert "round:flat" in poles(text, "back")


def test_whom_a_ban_is_for_may_stand_before_what_is_banned() -> None:
    frames = parse_frames(words_of("nobody with a bad back is lying flat today"), BOOK)
    assert "prop:up" in {frame.pole for frame in frames}
