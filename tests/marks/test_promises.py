"""Claims about the class: what is none first, then each kind in many voices."""

import pytest

from reviewkit.marks.promises import find_promises
from tests.lexicon import flat_lexicon
from tests.talking import talk

# What is said, and the claims in it ("work 40": forty seconds of work).
SAID = {
    "we've got fifteen minutes together today": "minutes 15",
    "this is a thirty minute full body burner": "minutes 30",
    "it'll only take you twelve minutes": "minutes 12",
    "half an hour and you're done": "minutes 30",
    "give me twenty minutes and i'll give you a good sweat": "minutes 20",
    "welcome to your 25 minute hiit class": "minutes 25",
    "a quick 10 minute blast before lunch": "minutes 10",
    "three rounds of four exercises": "moves 4, rounds 3",
    "five exercises forty on twenty off three rounds": "moves 5, rest 20, rounds 3, work 40",
    "45 seconds work 15 seconds rest": "rest 15, work 45",
    "thirty on thirty off eight moves": "moves 8, rest 30, work 30",
    "each exercise is forty five seconds with fifteen seconds to recover": "rest 15, work 45",
    "you'll work for fifty seconds and rest for ten": "rest 10, work 50",
    "you'll work for fifty seconds then take ten seconds rest": "rest 10, work 50",
    "one minute per exercise no rest in between": "no_rest, work 60",
    "we'll go through the whole thing twice": "rounds 2",
    "repeat the circuit three times": "rounds 3",
    "we do that four times in total": "rounds 4",
    "two sets of six movements": "moves 6, rounds 2",
    "six different moves and we repeat them": "moves 6",
    "there are ten moves in today's workout": "moves 10",
    "you'll get a minute's rest between rounds": "rest_rounds 60",
    "you get a full minute between rounds i promise": "rest_rounds 60",
    "between each round we take ninety seconds": "rest_rounds 90",
    "we'll start with a little warm up": "warm_up",
    "let's get you warmed up first": "warm_up",
    "i've put a proper warm up at the start": "warm_up",
    "three minute warm up then straight into it": "warm_length 180, warm_up",
    "there'll be a cool down and a stretch at the end": "cool_down",
    "we'll finish with a stretch": "cool_down",
    "and then we'll stretch it all out at the end": "cool_down",
    "i promise we'll stretch after": "cool_down",
    "five minutes of stretching to finish": "cool_down, cool_length 300",
    "no equipment needed just you and your mat": "kit_none",
    "you don't need any equipment today": "kit_none",
    "you'll need a chair and a towel": "kit_list",
    "bodyweight only today": "kit_none",
    "there's no jumping today so your neighbours will love you": "no_jumping",
    "it's all low impact": "no_jumping",
    "no jumping in this one i promise": "no_jumping",
    "we're staying on our feet the whole time no floor work": "no_floor",
    "everything is standing today": "no_floor",
    "if you don't want to jump no jumping version is a step": "",
    "last week we did five rounds": "",
    "when i was twenty i did ten rounds a day": "",
    "i've been up since five this morning": "",
    "we had two hundred people last time": "",
    "three rounds no sorry two rounds": "rounds 2",
    "that's three minutes of warm up done": "",
    "two more rounds to go": "",
    "twenty seconds left": "",
    "it took me ten minutes to park": "",
    "four moves sorry five moves thirty seconds each": "moves 5, work 30",
    "twenty seconds of work ten seconds of rest eight times": "rest 10, rounds 8, work 20",
    "ten exercises a minute each ten minutes job done": "minutes 10, moves 10, work 60",
    "we're going to do 3 rounds": "rounds 3",
    "3 rounds 5 moves 40 on 20 off": "moves 5, rest 20, rounds 3, work 40",
    "it's a four minute block": "minutes 4",
    "thirty seconds rest after every move": "rest 30",
    "you've got fifteen seconds to get into position": "rest 15",
    "no rest between moves just keep flowing": "no_rest",
    "it's non stop": "no_rest",
    "we won't stop until the end": "no_rest",
    "hold every pose for a minute": "work 60",
    "we hold for a minute each side": "work 60",
    "the class is about forty minutes long": "minutes 40",
    "i'll have you done in under twenty minutes": "minutes 20",
    "and at the end you get your stretch no skipping it": "cool_down",
    "save some energy for the cool down": "cool_down",
    "there's a lovely long stretch waiting for you afterwards": "cool_down",
    "we wind right down with some stretches before you go": "cool_down",
    "then ninety seconds of stretching before i let you go": "cool_length 90",
    "we'll bring the heart rate down together at the end": "cool_down",
    "last five minutes are all stretching": "cool_down",
    "two minutes to cool down at the end": "cool_down, cool_length 120",
    "the first three minutes are nice and easy to warm you through": "warm_up",
    "we ease in with a few minutes of warming up": "warm_up",
    "gentle warm up coming first": "warm_up",
    "nothing to warm up today we go straight in": "no_warm_up",
    "leave the dumbbells in the cupboard today you won't need them": "kit_none",
    "it's just you today no kit no fuss": "kit_none",
    "bring a towel a chair and that's your lot": "kit_that_is_all",
    "just one dumbbell that's the only thing you'll touch": "kit_one",
    "we only use a band and a chair today": "kit_only",
    "a mat is all i'm asking for": "kit_only",
    "there's five moves in this and each one lasts a minute": "moves 5, work 60",
    "we've a dozen moves to get through": "moves 12",
    "four stations fifty on ten off": "moves 4, rest 10, work 50",
    "seven little exercises and then the same seven again": "moves 7, rounds_again",
    "there are three laps of this": "rounds 3",
    "we're doing this circuit four times over": "rounds 4",
    "two trips round the block": "rounds 2",
    "you get twenty seconds to swap over": "rest 20",
    "a fifteen second turnaround between moves": "rest 15",
    "and you never get more than ten seconds off": "rest 10",
    "i'm giving you thirty seconds between exercises": "rest 30",
    "rest is short only ten seconds": "rest 10",
    "after each move there's a twenty second rest": "rest 20",
    "you will get a ninety second rest after every round": "rest_rounds 90",
    "no pausing between moves today": "no_rest",
    "there's no break in this it just flows": "no_rest",
    "we're in and out in eighteen minutes": "minutes 18",
    "eighteen minutes and not a second more": "minutes 18",
    "i've got you for twenty two minutes": "minutes 22",
    "this won't take longer than quarter of an hour": "minutes 15",
    "in half an hour you'll be in the shower": "minutes 30",
    "nothing with a jump in it today": "no_jumping",
    "feet stay on the floor today nobody jumps": "no_jumping",
    "we never get down on the ground": "no_floor",
    "you won't have to get on the floor at all": "no_floor",
    "it's standing only today": "no_floor",
    "the dog jumped on me three times this morning": "",
    "my rest day is tomorrow": "",
    "two of you asked for more planks": "",
    "we're on round two": "",
    "a hundred people joined us": "",
    "it's ten past nine": "",
    "that's ten minutes gone already": "",
    "three two one go": "",
    "one more minute of this": "",
    "hold it for ten": "",
    "all you need is a pair of dumbbells": "kit_list, kit_one, kit_only",
}


def claims(text: str) -> set[str]:
    return {
        mark.ref if mark.value is None else f"{mark.ref} {mark.value:g}"
        for mark in find_promises(talk(text), flat_lexicon())
    }


@pytest.mark.parametrize("text", [text for text, expected in SAID.items() if not expected])
def test_left_alone(text: str) -> None:
    assert claims(text) == set()


@pytest.mark.parametrize(
    ("text", "expected"), [(text, expected) for text, expected in SAID.items() if expected]
)
def test_heard(text: str, expected: str) -> None:
    assert claims(text) == set(expected.split(", "))


def test_an_empty_talk_claims_nothing() -> None:
    assert find_promises(talk(""), flat_lexicon()) == ()


def test_figures_are_heard_like_words() -> None:
    assert claims("3 rounds 40 seconds on 20 seconds off") == {"rounds 3", "work 40", "rest 20"}


def test_a_claim_over_a_line_break_is_heard_whole() -> None:
    text = "you will be back in the kitchen in a quarter [0.6] of an hour"
    assert claims(text) == {"minutes 15"}


def test_i_promise_makes_a_claim_sure() -> None:
    (mark,) = find_promises(talk("a full minute between rounds I promise"), flat_lexicon())
    assert mark.weight == 1.0
