from __future__ import annotations

import pytest

from reviewkit.findings.contradiction_weights import BLOCKS, FINE, PairWeights
from reviewkit.findings.contradictions import chance_of
from reviewkit.findings.cue_pairs import FEATURES, Pair, find_pairs
from reviewkit.findings.given_points import Given
from reviewkit.model import HeardClass, Lexicon, Plan, PlanRow, Talk
from reviewkit.read import read_lexicon
from tests.findings.classes import Row, interval
from tests.lexicon import flat_lexicon
from tests.talking import talk


def pairs(
    first: str,
    second: str,
    *,
    second_at_s: float = 65,
    lexicon: Lexicon | None = None,
    given: tuple[Given, ...] = (),
) -> tuple[Pair, ...]:
    """Say one line in the first of two intervals and one later; no words are fitted by default."""
    early, late = talk(first, start_ms=5_000), talk(second, start_ms=round(1000 * second_at_s))
    said = Talk((*early.words, *late.words), "words", 0, 120_000)
    rows = [Row("Lunge", 0), Row("Lunge", 60, round=2)]
    spans = tuple(interval(row, number + 1) for number, row in enumerate(rows))
    plan = Plan("plan.csv", tuple(PlanRow(row.move, 40_000) for row in rows))
    found = find_pairs(HeardClass(plan, said, (), spans, lexicon or flat_lexicon()), given)
    return found.get("Lunge", ())


def feature(pair: Pair, name: str) -> float:
    return pair.features[FEATURES.index(name)]


# What coaches ask for and then for its contrary, in several voices.
OPPOSED = [
    (
        "keep your heels rooted to the floor the whole way down",
        "now come right up onto your toes as you sink it'll feel lighter",
    ),
    (
        "eyes on a spot on the floor in front of you",
        "look up at the ceiling for these last ones",
    ),
    ("breathe out as you push up", "breathe in as you push up and out on the way back down"),
    (
        "pause at the bottom for a full second",
        "no stopping down there just bounce straight out of it",
    ),
    ("feet wider than your shoulders", "bring your feet right together for this lot"),
    ("a soft bend in the elbows at the top", "lock those elbows out hard at the top"),
    ("back as flat as a coffee table", "round your back and let it curl over"),
    (
        "hold the weight close against your chest",
        "push the bell away from you arms long and squat like that",
    ),
    (
        "knees follow your middle toes don't let them drop in",
        "let the knees kiss each other as you come up",
    ),
    ("toes pointing straight ahead", "turn your feet out like a ballet dancer"),
    ("keep your weight back in your heels", "lean into the balls of your feet on this one"),
    ("slow on the way down three whole counts", "just drop into it fast and pop up"),
    (
        "your hips stay low in line with your shoulders",
        "stick your bum up in the air it's a rest that way",
    ),
    (
        "squeeze your bottom at the top",
        "keep your bottom nice and loose at the top don't squeeze",
    ),
    (
        "shoulders away from your ears",
        "hitch your shoulders right up by your ears as you pull",
    ),
    ("chest lifted the entire time", "let your chest drop down towards your knees"),
    ("hands light on the rail hardly touching", "grab the rail and really hang off it"),
    ("sit down properly on the seat each time", "hover just above the seat don't touch it"),
    (
        "knees stay behind your toes",
        "it's fine to shove those knees way out past your toes let's see it",
    ),
    ("small steps keep it tidy", "massive steps now as big as you can get"),
    ("both feet stay on the floor throughout", "give me a hop in the middle"),
    ("belly drawn in ribs closed", "let your tummy hang right out and arch that back"),
    ("palms facing up", "flip your palms down to the floor"),
    ("lower back pressed into the mat no gap", "let a big arch come under your back now"),
    ("body stays upright like a lift", "tip your body right forward over your thighs"),
    ("stay on the spot", "travel across the room with it"),
    ("chin tucked make a double chin", "poke your chin up and forward"),
    ("arms dead straight", "bend your arms it's easier"),
    ("land quietly with bent knees", "land with your legs straight like a pogo stick"),
    ("front heel pushes into the ground", "lift that front heel up and push from the toe"),
    ("hinge from the hips with a flat back", "just bend your spine over and pick it up"),
    ("keep hold of the chair", "let go of the chair both hands in the air"),
    ("hips level like a tray of drinks", "let that hip drop down to the side"),
    ("tiny movement only an inch", "go for the biggest swing you can"),
    ("steady breathing never hold it", "hold your breath for these last three"),
    ("look straight ahead", "look down at your feet"),
    ("keep the band tight the whole time", "let the band go slack at the top"),
    ("whole foot on the step every time", "just put your toes on the step this time"),
    ("back knee stays off the floor", "put your back knee down on the floor each rep"),
    (
        "knees bent over the hips like a tabletop",
        "straighten your legs right out this time and lower them to the floor",
    ),
    ("thumbs point up to the ceiling", "turn your thumbs down to the floor"),
    (
        "keep the shoulder blades squeezed together",
        "let your shoulders roll forward and the blades come apart",
    ),
    ("sit tall away from the backrest", "lean back into the chair and slump"),
    ("heel first then roll to the toe", "toes hit the floor first this time"),
    ("one straight line from head to heels", "let the hips sag it's kinder on the tummy"),
    ("head down on the mat", "lift your head and shoulders up off the mat"),
    ("the feet are hip width apart", "please put the feet together now"),
    (
        "we inhale when the arms rise",
        "exhale when you lift the arms and inhale when they come down",
    ),
    ("the knee stays above the ankle", "now let the knee travel far in front of the foot"),
    ("you do not lock the knee", "push the knee completely straight and lock it"),
    ("the movement is slow like honey", "make it quick as quick as you can"),
    ("the hand rests on the wall", "take the hand away from the wall and stay without it"),
    ("open the knees outwards", "close the knees to the inside"),
    (
        "stop when the thigh is parallel to the floor",
        "go lower than parallel all the way down",
    ),
    ("keep the neck long and the face looking down", "look forward and lift the head high"),
    ("the back leg is straight", "bend the back leg as much as you can"),
]


@pytest.mark.parametrize(("first", "second"), OPPOSED)
def test_opposites_meet_in_whatever_words(first: str, second: str) -> None:
    assert pairs(first, second)


@pytest.mark.parametrize("first", [first for first, _ in OPPOSED[::4]])
def test_the_same_cue_twice_is_no_pair(first: str) -> None:
    assert pairs(first, first) == ()


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("keep the heels down on the floor", "heels stay down please"),
        ("lift the heels up", "look up at the ceiling"),
        ("lovely day for it", "how was your weekend"),
    ],
    ids=["same pole", "nothing opposed", "chat"],
)
def test_no_pair(first: str, second: str) -> None:
    assert pairs(first, second) == ()


def test_cues_close_together_describe_one_movement() -> None:
    assert pairs("keep the heels down", "lift the heels up", second_at_s=9) == ()


def test_a_pair_is_measured() -> None:
    (pair,) = pairs("keep the heels down", "now let the heels lift up if you like")
    assert len(pair.features) == len(FEATURES)
    assert feature(pair, "same region, close by") == 1
    assert feature(pair, "axis height") == 1
    assert feature(pair, "change in second") == 1
    assert feature(pair, "option in second") == 1
    assert feature(pair, "same interval") == 0


def test_a_cue_just_before_an_interval_belongs_to_it() -> None:
    (pair,) = pairs("keep the heels down", "this time lift the heels up", second_at_s=50)
    assert feature(pair, "second before its interval") == 1


@pytest.mark.parametrize("weights", [FINE, BLOCKS], ids=["fine", "blocks"])
def test_weights_name_every_feature_and_opposition_counts(weights: PairWeights) -> None:
    assert set(weights.by_feature) == set(FEATURES)
    low = chance_of([0.0] * len(FEATURES), weights)
    named = [float(name == "length of pole words") * 6 for name in FEATURES]
    assert 0 < low < chance_of(named, weights) < 1


def test_one_part_is_enough_for_what_sounds_like_going_back_on_something() -> None:
    first = "aim those elbows at the cupboard behind you"
    second = "this time let your elbows fly right out as far as they'll go"
    fitted = read_lexicon()
    (pair,) = pairs(first, second, lexicon=fitted)
    assert feature(pair, "part alone") == 1
    assert feature(pair, "goes back on something in second") > 0
    assert pairs(first, second) == ()
    assert pairs(first, "lovely elbows everyone keep going", lexicon=fitted) == ()
    assert pairs("aim those knees at the cupboard behind you", second, lexicon=fitted) == ()


def test_a_cue_that_gives_a_point_asks_for_what_the_plan_says() -> None:
    first, second = "the board the board the board", "let your back round right over now"
    (pair,) = pairs(first, second, given=(Given("Lunge", "flat back", 5_000, 7_000),))
    assert feature(pair, "first gives a point") == 1
    assert feature(pair, "opposed to the point") == 1
    assert feature(pair, "part of the point") == 1
    assert feature(pair, "words of the point") == 1
    assert feature(pair, "point alone") == 0
    assert pairs(first, second) == ()
    assert pairs(first, second, given=(Given("Squat", "flat back", 5_000, 7_000),)) == ()


def test_a_point_is_enough_for_what_sounds_like_going_back_on_something() -> None:
    first, second = "like a library shelf please", "this time let it be as messy as you like"
    given = (Given("Lunge", "nice and tidy", 5_000, 7_000),)
    (pair,) = pairs(first, second, lexicon=read_lexicon(), given=given)
    assert feature(pair, "first gives a point") == 1
    assert feature(pair, "opposed to the point") == 0
    assert feature(pair, "point alone") == 1
