import pytest

from reviewkit.marks.breathing import find_breathing
from reviewkit.model import Lexicon
from tests.lexicon import flat_lexicon
from tests.talking import talk


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return flat_lexicon()


@pytest.mark.parametrize(
    "text",
    [
        "hold your breath and grind it out",
        "catch your breath",
        "the view takes my breath away",
        "you may see small stars it is only the oxygen we stay anyway",
        "push your knees out as you sit",
        "and now we turn out as you go",
        "the stars were out when i left",
        "walk it out on the floor",
        "in three in two in one",
        "in and out",
        "legs up in the air",
        "it's only the warm air in here",
        "i breathe on them and they move",
        "out out in in",
        "out with the left leg",
        "out facing the window",
        "it's blowing a gale out there",
        "ha ha very funny",
        "bear with the blow by blow",
        "puff your chest up like a pigeon",
        "nobody breathe he has just gone to sleep",
        "chest up like the best of the breed",
        "don't let the chest go puffing out",
    ],
)
def test_no_prompt(text: str, lexicon: Lexicon) -> None:
    assert [mark for mark in find_breathing(talk(text), lexicon) if mark.kind == "breathing"] == []


@pytest.mark.parametrize(
    ("text", "phase"),
    [
        ("breathe", "any"),
        ("keep breathing", "any"),
        ("don't hold your breath", "any"),
        ("exhale as you lift", "out"),
        ("x hale as you push", "out"),
        ("in hale arms up", "in"),
        ("inhale to open exhale to close", "in out"),
        ("big sigh", "out"),
        ("huff it out", "out"),
        ("hoo out when they go long", "out"),
        ("i breathe in i grow i breathe out i fold", "any"),
        ("out as you rise", "out"),
        ("down to the chair and then out as you rise", "out"),
        ("small steps for the lighthouse out on the rise", "out"),
        ("and out on the push", "out"),
        ("in two three four out two three four", "in out"),
        ("in through the nose out through the mouth", "in out"),
        ("smell the flowers", "in"),
        ("excel into the stretch", "out"),
        ("bree the out on the tap", "out"),
        ("puff as it comes up", "out"),
        ("out with the air as you press", "out"),
        ("sh sh sh with each one", "out"),
        ("in going down out coming up", "in out"),
        ("in to sit out to rise", "in out"),
        ("a slow one in and a slower one out", "in out"),
        ("out at the top", "out"),
        ("out with the pull", "out"),
        ("oot as ye turn", "out"),
        ("puff", "out"),
        ("come up blow", "out"),
        ("fff when you come up", "out"),
        ("huh huh huh on every one", "out"),
        ("let the air enter slowly", "any"),
        ("lungs empty on top", "any"),
        ("small air small air", "any"),
        ("keep your breath going", "any"),
    ],
)
def test_prompt(text: str, phase: str, lexicon: Lexicon) -> None:
    assert [(mark.kind, mark.ref) for mark in find_breathing(talk(text), lexicon)] == [
        ("breathing", phase)
    ]


def test_sound_in_brackets_is_a_prompt(lexicon: Lexicon) -> None:
    (mark,) = find_breathing(talk("(exhales)"), lexicon)
    assert mark.kind == "breathing"


def test_lone_out_counts_after_a_clear_prompt(lexicon: Lexicon) -> None:
    said = talk("breathe in [3] and out [60] and out")
    assert [mark.first for mark in find_breathing(said, lexicon)] == [0, 3]


def test_breath_held_is_marked_as_such(lexicon: Lexicon) -> None:
    (mark,) = find_breathing(talk("hold your breath all the way down"), lexicon)
    assert mark.kind == "breath_hold"
