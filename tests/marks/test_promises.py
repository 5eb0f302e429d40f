"""Claims about the class: what is none first, then each kind in many voices."""

import pytest

from reviewkit.marks.promises import find_promises
from reviewkit.model import Clock
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
    "twenty five seconds off and fifty between rounds": "rest 25, rest_rounds 50",
    "twenty on ten off you've sixty seconds between the blocks": "maybe_rest 10, rest_rounds 60, "
    "work 20",
    "after that it is four of the six again": "",
    "all of the six again": "rounds_again",
    "five moves mats only": "kit_only, moves 5",
    "a short one eight minutes start to finish": "maybe_cool_down, minutes 8",
    "last week we did five rounds": "",
    "when i was twenty i did ten rounds a day": "",
    "i've been up since five this morning": "",
    "we had two hundred people last time": "",
    "three rounds no sorry two rounds": "rounds 2",
    "that's three minutes of warm up done": "",
    "two more rounds to go": "",
    "when i was in wales we walked four times round the lake": "",
    "the circle gets walked four times tonight": "maybe_rounds 4",
    "you'll meet each of these four times": "rounds 4",
    "there are seven of them on my card": "maybe_moves 7",
    "nobody is asked to get down on the carpet": "no_floor",
    "i've taken all the jumps out": "no_jumping",
    "there'll be no planks today": "no_move",
    "that's fourteen and not a single lot more": "maybe_moves 14",
    "eight of them makes a set": "intervals 8",
    "i've had that said twenty five minutes is what i've got down for this": "minutes 25",
    "three rounds we'll do and then the three again": "rounds 3, rounds_again",
    "we don't turn today nobody turns": "no_move",
    "i'm giving you three minutes of warming up first": "warm_length 180, warm_up",
    "forty five seconds you work fifteen you rest": "rest 15, work 45",
    "it's a ten minuter": "minutes 10",
    "a soft twist before we part": "cool_down",
    "then we even things up on the other side": "both_sides",
    "and a minute and a half off before we head back to the top": "rest_rounds 90",
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
    "then ninety seconds of stretching before i let you go": "cool_down, cool_length 90",
    "we'll bring the heart rate down together at the end": "cool_down",
    "last five minutes are all stretching": "cool_down, cool_length 300",
    "two minutes to cool down at the end": "cool_down, cool_length 120",
    "the first three minutes are nice and easy to warm you through": "warm_length 180, warm_up",
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
    "hold it for ten": "",
    "all the standing ones come first": "",
    "i won't lie about it this one burns": "",
    "all you need is a pair of dumbbells": "kit_list, kit_one, kit_only",
}


# What must be heard, among other things, in lines of many other voices; nothing where empty.
# A length that only the plan can tell is "length", "maybe_work" or "maybe_rest".
OTHER_VOICES = {
    "it's forty in the thick of it and twenty to mop your brow": "length 20, length 40",
    "you'll be grafting for fifty seconds then i let you off for ten": "rest 10, work 50",
    "every station lasts a minute with half a minute of standing about after": "rest 30, work 60",
    "half a minute of breathing after each one of those": "rest 30",
    "a whole minute at the end of each lap for a drink": "rest_rounds 60",
    "after every lap there's ninety seconds where nobody talks to you": "rest_rounds 90",
    "between the three rounds there's a full minute": "rest_rounds 60",
    "then a full minute off before we go round again": "rest_rounds 60",
    "and there's a minute's peace between one circuit and the next": "rest_rounds 60",
    "in between you've got twenty to find your water": "rest 20",
    "each hold is thirty seconds and i give you ten to come out of it": "maybe_rest 10, work 30",
    "we hang about in each shape for forty five seconds": "work 45",
    "fifty seconds on the move ten on the spot": "maybe_rest 10, work 50",
    "fifty seconds in each place then ten to wander to the next": "maybe_rest 10, work 50",
    "twenty seconds is all the break you're getting": "rest 20",
    "your break is fifteen seconds not sixteen": "rest 15",
    "the rest's always thirty seconds": "rest 30",
    "a breather of twenty seconds after each": "rest 20",
    "you'll get your thirty seconds back after every set": "rest 30",
    "the work bits are forty seconds the quiet bits are twenty": "work 40",
    "we lift for a minute and we stand around for a minute": "work 60, rest 60",
    "no rest till the round's over": "no_rest",
    "one move runs into another there's no gap": "no_rest",
    "and i'll wind us all down when it's over": "cool_down",
    "then a nice lie on the floor to finish off": "cool_down",
    "and we'll end with something slow for the hips": "cool_down",
    "and for dessert there's a long slow stretch": "cool_down",
    "last of all we stretch everything we've used": "cool_down",
    "before i let you go we'll stretch those calves": "cool_down",
    "stick around for the stretch at the close": "cool_down",
    "and afterwards we let the heart come back down": "cool_down",
    "three easy stretches round it off": "cool_down",
    "we finish up with legs up the wall": "cool_down",
    "then two minutes on your back to come down": "cool_length 120",
    "and a ninety second lie down at the end": "cool_length 90",
    "and at the finish a whole two minutes where nobody moves": "cool_length 120",
    "i am giving you two minutes of child's pose at the end": "cool_length 120",
    "i'll see you through a couple of minutes of stretching after": "cool_length 120",
    "whatever we do on the left we'll do on the right": "both_sides",
    "both legs get the same i promise": "both_sides",
    "we always do both sides": "both_sides",
    "left side first and then the right every single time": "both_sides",
    "if one side gets it the other side gets it": "both_sides",
    "nobody leaves here lopsided we do each side": "both_sides",
    "everything on one arm we repeat on the other arm": "both_sides",
    "each move gets done on each leg": "both_sides",
    "we do one side then we do the other side no favourites": "both_sides",
    "first a few loosening bits to get the blood going": "warm_up",
    "we'll ease in with a couple of minutes of marching to warm up": "warm_up",
    "six moves and you'll see the lot of them three times": "moves 6, rounds 3",
    "it's eight rounds all told": "rounds 8",
    "there are five jobs and we do the list twice": "rounds 2",
    "four trips through the list": "rounds 4",
    "three laps of six stations": "moves 6, rounds 3",
    "we run the whole thing a second time": "rounds_again",
    "seven tasks today": "intervals 7",
    "in and out in eighteen minutes": "minutes 18",
    "you'll be in the shower in twenty five minutes": "minutes 25",
    "all you need is a mat": "kit_only",
    "one mat nothing else": "kit_that_is_all",
    "just the mat today": "kit_only",
    "a chair is the only thing you'll want": "kit_only",
    "a pair of weights and that's the shopping list": "kit_only",
    "nothing in your hands today": "kit_none",
    "there's nothing to fetch": "kit_none",
    "bring nothing but yourself": "kit_none",
    "i stretched for twenty seconds once and called it a career": "",
    "my bus was forty minutes late": "",
    "stretch that knee out if it's stiff": "",
    "put your left hand on your right shoulder": "",
    "my left knee is older than my right knee": "",
    "at the end of the street there's a bakery": "",
    "he did thirty seconds and then went home for his tea": "",
    "the other side of town got snow": "",
    "forty five on the go fifteen on the sofa arm that's the deal": "length 15, length 45",
    "i'd like thirty seconds out of you and then i'll leave you be for thirty": "work 30",
    "each one is a minute long and there's ten seconds to get to the next": "rest 10, work 60",
    "you've fifty seconds at the coalface then ten with your feet up": "length 10, length 50",
    "half a minute on half a minute off": "rest 30, work 30",
    "once we've been round you get a minute on the wall": "rest_rounds 60",
    "between laps you've a whole ninety seconds": "rest_rounds 90",
    "round one then a minute off then round two": "rest 60",
    "the gaps are ten seconds so don't put the kettle on": "rest 10",
    "twenty to catch your breath": "rest 20",
    "fifteen seconds to shake it out after every one": "rest 15",
    "nobody gets a break between moves": "no_rest",
    "you won't be resting between these": "no_rest",
    "we go straight from one to the next": "no_rest",
    "i've saved the last few minutes for a stretch": "cool_down",
    "and we'll let everything settle at the close": "cool_down",
    "then we'll take it all down a notch and lie on the mat": "cool_down",
    "we won't leave without a stretch": "cool_down",
    "the very last thing we do is a long hamstring stretch": "cool_down",
    "then it's calves and quads and home": "cool_down",
    "and we shut the shop with two slow stretches": "cool_down",
    "there'll be a bit of calm when it's all over": "cool_down",
    "a minute and a half of lying flat to end on": "cool_length 90",
    "the left gets what the right gets": "both_sides",
    "anything your right arm does your left arm's doing too": "both_sides",
    "one leg then its twin always": "both_sides",
    "we'll turn round and do the other side each time": "both_sides",
    "we get the shoulders moving before anything heavy": "warm_up",
    "let's wake the joints up first": "warm_up",
    "the opening few minutes are gentle to get you warm": "warm_up",
    "five rounds no more no less": "rounds 5",
    "we're going round four times": "rounds 4",
    "six stations and three goes at each": "moves 6",
    "seven shapes twice over": "moves 7, rounds 2",
    "the whole lot comes to twenty two minutes": "minutes 22",
    "give or take sixteen minutes": "minutes 16",
    "a towel is the only kit": "kit_only",
    "all i want you to have is a cushion": "kit_only",
    "no gear whatsoever": "kit_none",
    "you want a broom handle and that's it": "kit_that_is_all",
    "we did forty at the old place": "",
    "i can hear the other side of the street": "",
    "right so where were we left of the window": "",
    "on the left of your screen you'll see the dog": "",
    "he finished with a flourish": "",
    "my shift finishes at six": "",
    "that's the end of the story": "",
    "breathe out at the end of each rep": "",
    "stretch the arm long": "",
    "start by standing tall": "",
    "the first one's a squat": "",
    "wiggle your toes": "",
    "hands on the mat and ease back": "",
    "it'll be over before you know it": "",
    "no left no right just forward": "",
    "you're left holding the bag": "",
}


def claims(text: str, clock: Clock = "words") -> set[str]:
    return {
        mark.ref if mark.value is None else f"{mark.ref} {mark.value:g}"
        for mark in find_promises(talk(text, clock=clock), flat_lexicon())
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


@pytest.mark.parametrize(("text", "expected"), OTHER_VOICES.items())
def test_heard_in_other_voices(text: str, expected: str) -> None:
    found = claims(text)
    if expected:
        assert set(expected.split(", ")) <= found
    else:
        assert {one for one in found if not one.startswith("length")} == set()


@pytest.mark.parametrize(
    ("text", "is_firm"),
    [
        ("thirty seconds of rest between moves and no more than thirty", True),
        ("sixty seconds rest between rounds on the dot", True),
        ("you get a minute of rest between rounds you can hold me to that", True),
        ("it's twelve minutes flat pinky swear", True),
        ("thirty seconds of rest between moves", False),
        ("it'll be twelve minutes or so", False),
    ],
)
def test_what_makes_a_promise_firm(text: str, is_firm: bool) -> None:
    marks = find_promises(talk(text), flat_lexicon())
    assert marks
    assert all((mark.weight == 1) == is_firm for mark in marks)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "after the second round you get a long break i'm talking a whole minute",
            "rest_rounds 60",
        ),
        ("thirty seconds with fifteen seconds between each a warm up before", "rest 15"),
        ("two rounds no i changed it it's three rounds", "rounds 3"),
        ("six stops on the route and the bus goes round three times", "rounds 3"),
        ("four frames today and we lift each of them twice", "rounds 2"),
        ("it goes four minutes no longer four exercises", "minutes 4"),
        ("and at the terminus we roll the neck", "cool_down"),
        ("a stout chair and a wall is the whole orchestra", "kit_only"),
    ],
)
def test_coined_things_places_and_corrections(text: str, expected: str) -> None:
    assert expected in {one.replace("maybe_", "") for one in claims(text)}


@pytest.mark.parametrize(
    "text",
    [
        "you ring me not an hour later now",
        "half a minute on the clock",
        "the dye takes forty minutes to set",
        "we stop by the river and low impact is the same price as high",
    ],
)
def test_amounts_of_other_things_promise_nothing(text: str) -> None:
    assert claims(text) == set()


@pytest.mark.parametrize(
    "text",
    [
        "and five six seven eight off we stroll",
        "four's the hook five six them's your uppercuts",
        "supper ain't for an hour",
        "you ring me not in an hour",
        "it's common but it's not nothing kneel down and sit back on your heels",
        "if you've a twinge anywhere don't run fast on it no exceptions",
    ],
)
def test_numbers_counted_out_and_denied_promise_nothing(text: str) -> None:
    assert claims(text) == set()


def test_a_count_after_a_story_is_left_to_the_plan_where_there_are_no_full_stops() -> None:
    text = "all I've been told about that six exercises one lap"
    assert claims(text) == set()
    assert claims(text, "captions") == {"maybe_moves 6"}


def test_what_is_ruled_out_behind_a_story_where_there_are_no_full_stops() -> None:
    text = "even flour bags i did that for years and no jumping you guys"
    assert claims(text, "captions") == {"no_jumping"}


@pytest.mark.parametrize(
    ("said", "quoted"),
    [
        ("Three rounds and no more.", "Three rounds and no more."),
        (
            "Three rounds of the four things on my list tonight",
            "Three rounds of the four things on my …",
        ),
        (
            "so here we all are in the hall again for three rounds.",
            "… are in the hall again for three rounds.",
        ),
    ],
)
def test_a_claim_is_quoted_and_shows_where_it_is_cut(said: str, quoted: str) -> None:
    rounds = [mark for mark in find_promises(talk(said), flat_lexicon()) if mark.ref == "rounds"]
    assert [mark.text for mark in rounds] == [quoted]
