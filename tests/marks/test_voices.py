"""Claims and risky talk in many coaches' voices: every line invented, one voice after another."""

from __future__ import annotations

import pytest

from reviewkit.marks.promises import find_promises
from reviewkit.marks.risk import find_risky_talk
from reviewkit.marks.time_calls import find_time_calls
from tests.lexicon import flat_lexicon
from tests.talking import talk

_OTHER_NAMES = {"intervals": "moves", "kit_that_is_all": "kit_only", "rounds_again": "rounds"}
_CLAIMS = ("left", "gone", "halfway", "share")

NO_PROMISE = [
    "last summer i taught this for ninety minutes in a field",
    "if you only have ten minutes do the first two tracks",
    "imagine dancing for five hours",
    "i've got two left feet and one working knee",
    "yesterday i make training of one hour with my friend",
    "in my country the people make this every day for ten minutes",
    "i was up at four and then again at half five",
    "she slept for two hours yesterday miracle",
    "if the baby wakes up just do one round",
    "fifteen of these and then a rest",
    "it took me six months to get back to running",
    "used to do this for an hour when i were young",
    "me dad lifted three hundred kilo",
    "there's four of us in here and a dog",
    "if you've a heavier bell you can use it",
    "took ten minutes to find the chalk",
    "that's ten minutes we've been at it",
    "three rounds left",
    "the meeting ran forty minutes over",
    "we were going to do a thirty minute one but finance said no",
    "each of you has two minutes for questions afterwards",
    "i'd normally give you thirty seconds here",
    "our three o'clock is waiting",
    "i did this for like three hours straight once",
    "someone in the comments did six rounds what",
    "if you're a beginner do twenty seconds instead of thirty",
    "once down we stay down",
    "i've had three operations and a heart scare",
    "my wife gives me twenty minutes for my dinner",
    "at the hospital they had us do five minutes on a bike",
]

PROMISES = [
    ("this is a thirty five minute party and you're invited", "minutes"),
    ("six tracks six routines", "moves"),
    ("every routine's about a minute long", "work"),
    ("we run the whole setlist two times through", "rounds"),
    ("bring nothing but your sass", "kit_none"),
    ("nobody's jumping tonight i've got downstairs neighbours", "no_jumping"),
    ("we keep it all upright no rolling around on the floor", "no_floor"),
    ("first we get those hips warm nice and easy", "warm_up"),
    ("and we bring it all the way down with a slow song and a stretch", "cool_down"),
    ("you get a whole minute for water when the set's done", "rest_rounds"),
    ("no stopping between tracks the music just rolls", "no_rest"),
    ("what we do on the right we do on the left", "both_sides"),
    ("today we make twenty two minutes of training", "minutes"),
    ("we have five exercise and we make three round", "moves rounds"),
    ("one exercise is forty second work and after twenty second pause", "rest work"),
    ("for the pause between the rounds you have one minute and half", "rest_rounds"),
    ("you don't need nothing only your body", "kit_none"),
    ("we don't go to the floor today everything is standing", "no_floor"),
    ("we don't make the jump so is good for the knee", "no_jumping"),
    ("first we make little warming of the body", "warm_up"),
    ("in the end we make the stretching together", "cool_down"),
    ("you need only the two small dumbbell and water", "kit_only"),
    ("the pause is of thirty seconds", "rest"),
    ("we make all without pause", "no_rest"),
    ("we've only got nap time so eighteen minutes tops", "minutes"),
    ("it's just five moves", "moves"),
    ("we'll spend forty five seconds on each of those", "work"),
    ("and there's a good fifteen seconds in between for a breather", "rest"),
    ("then we come back and go round a second time", "rounds"),
    ("no weights needed baby's heavy enough", "kit_none"),
    ("nothing bouncy at all for the pelvic floor", "no_jumping"),
    ("we start really gently with some breathing and rolling the shoulders", "warm_up"),
    (
        "and there's a couple of minutes to stretch and unwind before you go back to the laundry",
        "cool_down",
    ),
    ("you'll get a full minute to drink something in between the rounds", "rest_rounds"),
    ("we'll do the other side too don't worry", "both_sides"),
    ("you'll want a cushion and a light pair of dumbbells", "kit_list"),
    ("that's all the kit", "kit_only"),
    ("we never come off our feet today", "no_floor"),
    ("half an hour lads and that's you done", "minutes"),
    ("five bits of work twice through", "moves rounds"),
    ("minute and a half between rounds get a brew", "rest_rounds"),
    ("you want one bell that's your lot", "kit_one"),
    ("no jumping about the ceiling's too low", "no_jumping"),
    ("we're stood up all session", "no_floor"),
    ("quick loosen up first nowt fancy", "warm_up"),
    ("and a stretch after so you can drive home", "cool_down"),
    ("no stops between lifts straight on to the next", "no_rest"),
    ("left hand gets the same as the right", "both_sides"),
    ("you're on for thirty five seconds a go", "work"),
    ("we've scheduled twenty minutes and i'll respect that", "minutes"),
    (
        "there are four movements on the agenda and we'll repeat the agenda three times",
        "moves rounds",
    ),
    ("with a twenty second transition", "rest"),
    ("in between repeats there'll be a forty five second water break", "rest_rounds"),
    ("no equipment is necessary", "kit_none"),
    ("all of this can be done in office clothes without touching the floor", "no_floor"),
    ("it's all quiet no impact so the team below won't hear", "no_jumping"),
    ("we open with a brief warm up", "warm_up"),
    ("and close with a brief cool down", "cool_down"),
    ("your only equipment is a chair", "kit_only"),
    ("everything is repeated on the opposite side", "both_sides"),
    ("ok so fifteen minutes that's literally it", "minutes"),
    ("ten secs to switch", "rest"),
    ("we go again from the top so two rounds total", "rounds"),
    ("zero equipment zero excuses", "kit_none"),
    ("zero jumps today my mum's asleep", "no_jumping"),
    ("we're not even getting on the floor", "no_floor"),
    ("lil warm up first", "warm_up"),
    ("stretchy bit at the end obvs", "cool_down"),
    ("like a minute off between round one and round two", "rest_rounds"),
    ("no breaks we're animals", "no_rest"),
    ("same on the other leg every time", "both_sides"),
    ("you only need a band", "kit_only"),
    ("it'll be five and twenty minutes gentlemen", "minutes"),
    ("half a dozen exercises", "moves"),
    ("we do the full set three times over", "rounds"),
    ("three quarters of a minute at each", "work"),
    ("and a quarter minute to get over it", "rest"),
    ("you'll have two minutes sat down after the first go round", "rest_rounds"),
    ("there's nowt to bring bar yourselves", "kit_none"),
    ("we'll take the chill off first", "warm_up"),
    ("then we'll ease everything off before home time", "cool_down"),
    ("no leaping about at our age", "no_jumping"),
    ("one side then its brother", "both_sides"),
    ("you'll not stop between them mind", "no_rest"),
]

NO_RISK = [
    "if the hip's sore just march it out small",
    "shake it off whatever week you had",
    "i ate a whole cake last night and i regret nothing",
    "these jeans don't fit me anymore",
    "sit down whenever you like",
    "this one will blow your socks off",
    "when you feel the pain you must stop",
    "don't keep the air inside",
    "is not a race everyone his tempo",
    "if the head turns please sit",
    "take the air when you go down",
    "the medicine you ask your doctor",
    "if the scar pulls stop and try again next week",
    "your body did something amazing",
    "if you leak make it smaller",
    "exhale as you lift the baby",
    "no rushing back there's no bouncing back here",
    "talk to your midwife first",
    "i'd never tell you to push through pain",
    "if your back's gone put it down",
    "it's nobbut a bit of sweat",
    "no heroes put it down when you're done",
    "breathe out at the top sharp",
    "handle's wet dry it first",
    "my old boss were all no pain no gain daft beggar",
    "hold it by the horns",
    "if your wrist tingles stop and shake it out",
    "chairs with wheels stay parked please",
    "nobody's keeping score",
    "we still have time for the cool down",
    "a stiff neck is common at desks",
    "the biscuits are in the kitchen",
    "legs are screaming i love it",
    "tbh if your knees hurt do the easy one",
    "don't stop believing",
    "no pain no gain is so last century",
    "i'm literally dead",
    "you're allowed to stop",
    "if you get chest pain stop and ring somebody",
    "me doctor said rest so i rested",
    "don't hold your wind",
    "spare tyre's in the boot",
    "lean into the wall",
    "lift nice and slow",
]

RISKS = [
    ("your feet are bleeding so what dance", "pain"),
    ("if that hip's clicking and sore just dance harder", "pain"),
    ("we're gonna shake off those love handles for good", "loss"),
    ("three weeks and you'll be in those skinny jeans i promise", "loss"),
    ("shake what you shouldn't have eaten", "food"),
    ("nobody sits down while i'm up here", "limits"),
    ("head's swimming love it stay with me", "warning"),
    ("skip the warm up we've got the music for that", "warm_up"),
    ("when you feel the pain you must go more strong", "pain"),
    ("the pain is good the pain is your friend", "pain"),
    ("don't take the air until you are up", "breath"),
    ("keep the air inside when you push", "breath"),
    ("with this exercise the belly goes away in ten days", "loss"),
    ("if the head turns is normal continue", "warning"),
    ("this is better than the medicine for the back", "medical"),
    ("you must be faster than your neighbour", "limits"),
    ("who stops is weak", "limits"),
    ("your legs are too fat for this trousers we change it", "shame"),
    ("today we don't make the warming is not necessary", "warm_up"),
    ("push the knee with the hand until it makes crack", "stretch"),
    ("if the scar's pulling just breathe through it and carry on mama", "pain"),
    ("this closes the tummy gap guaranteed in two weeks", "medical"),
    ("let's get rid of that mummy pouch", "shame"),
    ("you'll have your body back by christmas trust me", "loss"),
    ("hold that breath and bear down", "breath"),
    ("the doctor said wait six weeks but you know better", "medical"),
    ("bad back swing it anyway it'll loosen off", "pain"),
    ("back's gone twang keep swinging", "pain"),
    ("grip's numb good squeeze harder", "warning"),
    ("big breath hold it and don't let go till it's overhead", "breath"),
    ("if you're not being sick you're not trying", "limits"),
    ("last man standing wins loser buys the brew", "limits"),
    ("we don't do warm ups in this garage", "warm_up"),
    ("handle's cracked but it'll hold", "kit"),
    ("shift that beer gut", "shame"),
    ("earn your sunday roast", "food"),
    ("snap them elbows straight and lock em", "lock"),
    ("whoever finishes last presents the budget so push past your limits", "limits"),
    ("ignore the tingling in your wrist everyone gets that", "warning"),
    ("this fixes carpal tunnel in a week", "medical"),
    ("you can sit on the swivel chair for this it's fine that it rolls", "kit"),
    ("burn the biscuits from the ten o'clock meeting", "food"),
    ("your doctor doesn't know what desk work does", "medical"),
    ("no pain no gain besties", "pain"),
    ("legs are screaming knees are screaming don't care go", "pain"),
    ("if you're gonna puke puke and come back", "limits"),
    ("don't breathe just go go go", "breath"),
    ("flat stomach in seven days let's get it", "loss"),
    ("summer body loading bye bye belly", "loss"),
    ("ew look at those bingo wings let's fix that", "shame"),
    ("my vision's going black ha keep going", "warning"),
    ("a bit of chest pain never hurt a miner carry on", "warning"),
    ("me doctor said rest and i said rubbish and so should you", "medical"),
    ("hold your wind while you lift", "breath"),
    ("if it cracks it's working lean into it", "stretch"),
    ("no need to limber up we walked here", "warm_up"),
    ("get rid of them spare tyres gents", "shame"),
    ("grit your teeth and go through it the hip'll follow", "pain"),
    ("beat the fella next to you", "limits"),
]

NO_CALL = [
    "five six seven eight",
    "we make this forty second",
    "the leg goes in ninety degree",
    "she slept twenty minutes",
    "twelve kilo in each hand",
    "five reps then swap",
    "revenue is up twenty percent",
    "let's allow forty for this",
    "twenty k followers wow",
    "i was in the navy twenty years",
]

CALLS = [
    ("thirty more seconds of this hook", "left", 30.0),
    ("we're halfway through the chorus babes", "halfway", None),
    ("ten seconds till the drop", "left", 10.0),
    ("last twenty make it sassy", "left", 20.0),
    ("and we're out in ten", "left", 10.0),
    ("got fifteen in you", "left", 15.0),
    ("fifteen in the tank", "left", 15.0),
    ("half the song to go", "halfway", None),
    ("that's us halfway", "halfway", None),
    ("you have still twenty second", "left", 20.0),
    ("still ten second please", "left", 10.0),
    ("the half is finished", "halfway", None),
    ("now is the half", "halfway", None),
    ("rest ten seconds until the end", "left", 10.0),
    ("there stay fifteen second", "left", 15.0),
    ("only five second", "left", 5.0),
    ("you're halfway lovely", "halfway", None),
    ("another twenty seconds if you can", "left", 20.0),
    ("ten little seconds", "left", 10.0),
    ("that's fifteen seconds done already", "gone", 15.0),
    ("half a minute more", "left", 30.0),
    ("ten more if baby lets you", "left", 10.0),
    ("five and rest", "left", 5.0),
    ("twenty left lads", "left", 20.0),
    ("that's thirty done", "gone", 30.0),
    ("thirty in the bank twenty to come", "left", 20.0),
    ("halfway mark", "halfway", None),
    ("over halfway lads", "halfway", None),
    ("ten to go and then a brew", "left", 10.0),
    ("quarter of a minute lads", "left", 15.0),
    ("we have thirty seconds remaining on this item", "left", 30.0),
    ("we are fifty percent through", "halfway", None),
    ("ten seconds to close", "left", 10.0),
    ("that's half our allotted time", "halfway", None),
    ("a further twenty seconds", "left", 20.0),
    ("fifteen seconds on the agenda", "left", 15.0),
    ("twenty secs hold on", "left", 20.0),
    ("ten secs ten secs", "left", 10.0),
    ("halfway omg", "halfway", None),
    ("bro we're halfway", "halfway", None),
    ("like fifteen more", "left", 15.0),
    ("last ten go go go", "left", 10.0),
    ("twenty seconds to go gentlemen", "left", 20.0),
    ("that's the half", "halfway", None),
    ("half time", "halfway", None),
    ("ten ticks more", "left", 10.0),
    ("we've thirty seconds under our belts", "gone", 30.0),
    ("just shy of ten seconds", "left", 10.0),
]


def _promised(text: str) -> set[str]:
    found = find_promises(talk(text), flat_lexicon())
    return {_OTHER_NAMES.get(mark.ref, mark.ref) for mark in found}


def _claimed(text: str) -> list[tuple[str, float | None]]:
    found = find_time_calls(talk(text), flat_lexicon())
    return [
        (mark.ref, mark.value) for mark in found if mark.kind == "time_call" and mark.ref in _CLAIMS
    ]


@pytest.mark.parametrize("text", NO_PROMISE)
def test_other_classes_other_people_and_what_is_supposed_promise_nothing(text: str) -> None:
    assert _promised(text) == set()


@pytest.mark.parametrize(("text", "expected"), PROMISES)
def test_promises_in_many_voices(text: str, expected: str) -> None:
    assert set(expected.split()) <= _promised(text)


@pytest.mark.parametrize("text", NO_RISK)
def test_care_jokes_and_negations_are_no_risk(text: str) -> None:
    assert find_risky_talk(talk(text), flat_lexicon()) == ()


@pytest.mark.parametrize(("text", "reason"), RISKS)
def test_risky_talk_in_many_voices(text: str, reason: str) -> None:
    assert [mark.ref for mark in find_risky_talk(talk(text), flat_lexicon())] == [reason]


@pytest.mark.parametrize("text", NO_CALL)
def test_doses_and_stories_claim_no_time(text: str) -> None:
    assert _claimed(text) == []


@pytest.mark.parametrize(("text", "ref", "value"), CALLS)
def test_time_calls_in_many_voices(text: str, ref: str, value: float | None) -> None:
    assert _claimed(text) == [(ref, value)]
