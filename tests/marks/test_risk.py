"""Risky talk: what must be left alone first, then what must be heard, in many voices."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.marks.risk import find_risky_talk
from tests.lexicon import flat_lexicon
from tests.talking import talk

LEFT_ALONE = (
    "if anything hurts stop straight away",
    "never push through pain",
    "try not to hold your breath here",
    "if you feel dizzy sit down and have some water",
    "your legs are burning that's good keep going",
    "push through your heels",
    "if your knees hurt take the lower option and keep going",
    "hold it there breathe in and out",
    "and hold it hold it hold it",
    "no pain here just a nice stretch stay there",
    "a little discomfort in the muscle is fine sharp pain is not",
    "if you're pregnant ask your midwife",
    "we're not here to burn off cake",
    "i had cake for breakfast and i regret nothing",
    "don't force the stretch let it come",
    "no bouncing in the stretch",
    "don't snap the elbows straight keep them soft",
    "rest if you need to nobody is judging",
    "make sure the chair doesn't wobble",
    "we never skip the warm up in this house",
    "warm up done let's work",
    "stay there if it feels good",
    "my neck's clicking ignore the noise it's the microphone",
    "don't stop keep those feet moving",
    "this will be tough but stay with me",
    "that's the muscle working feel it",
    "you'll be sore tomorrow and that is normal",
    "chest up belly tight keep going",
    "fix your back position flat as a table",
    "i lost my place sorry",
    "melt into the floor",
    "drop the weights",
    "earn your rest",
    "you earned that break",
    "pain au chocolate for breakfast who's with me",
    "lock the wheels of your chair",
    "this is a pain to set up hold on",
    "if your back aches put a cushion under it",
    "ignore me i'm talking to the cat",
    "i'm not going to promise you a six pack",
    "squeeze like you're trying to burst a balloon",
    "i know it hurts but it's only ten seconds",
    "let's bin the dumbbells and go bodyweight",
    "if you lose your balance that's fine just start again",
    "you'll feel lighter and taller i promise",
    "this is great for your lower back",
    "you might ache tomorrow",
    "no need to hold your breath",
    "hold the plank and breathe don't hold your breath",
    "if it hurts your neck stop and tell me",
    "challenge yourself without pushing through pain",
    "i don't believe in no pain no gain",
    "give the wrists a shake if they're tired",
    "the burn you feel is your thighs working and it goes when you stop",
    "full lungs then a long slow breath out",
    "some of my ladies say it helps their backs ask your own physio",
    "pay for your coffee later",
    "whoever is next to you they're not your business",
    "keep going at your own pace until the bell",
    "check the chair doesn't wobble before you sit",
    "push the floor away and keep pushing",
    "no giving up stay with me",
    "if you need a break take a break",
    "you should be out of breath but able to talk",
    "pop the weights down and shake your hands out",
    "i'm dizzy just watching you",
    "squeeze and pinch the shoulder blades hold it there",
    "never hold your breath keep it flowing",
    "if your neck feels it support your head with a hand",
    "hold the breath no i mean hold the stretch and breathe",
    "oh it hurts to laugh keep going",
    "my husband beat me at cards",
    "the room goes quiet and you float",
    "belly soft belly breath",
    "no moaning i can hear you from here",
    "your body knows best so listen to it",
    "it might feel strange under the kneecap if it's sore come up higher",
    "this can ease a stiff back for some people",
    "legs on fire that's the lactic acid hold on",
)

RISKY = {
    "pain": (
        "push through the burn in your knee it's only pain",
        "if your shoulder is sore don't worry about it keep pressing",
        "come on ladies no pain no gain",
        "pain is just weakness leaving the body",
        "push it past the point where it hurts",
        "if your wrists hurt just grit your teeth it's nearly over",
        "knees hurting keep going we're nearly there",
        "that twinge in your back is just your muscles waking up",
        "if it's sharp it's working stay there",
    ),
    "breath": (
        "hold your breath and squeeze until i say",
        "deep breath in and hold it while you lift the bar all the way up keep that air locked in",
        "don't breathe till you're at the top",
        "big breath in trap it and push",
        "suck in a big breath hold it and don't breathe again till the bar is up",
        "lungs full lips shut no breathing till i count ten",
        "hold your breath for the last five it makes them easier",
        "keep the breath locked in your chest the whole plank",
        "no air out till you're standing",
    ),
    "warning": (
        "feeling dizzy that's fine keep moving you'll get used to it",
        "a little light headed is normal just keep going",
        "if you see stars you know you're doing it right keep pushing",
        "numb fingers are normal carry on",
        "pins and needles in the foot lovely stay with it",
        "chest feels a bit tight that's your lungs growing keep running",
        "when your legs shake and your vision goes a bit spotty that's the zone stay there",
        "you might feel faint in this heat don't sit down push on to the end",
        "ears ringing head light that's the endorphins keep the pace",
    ),
    "loss": (
        "you'll lose ten pounds in two weeks doing this",
        "i guarantee a flat stomach by summer",
        "this will burn all that belly fat right off you i promise",
        "two inches off your waist in ten days guaranteed",
        "drop two dress sizes before the wedding guaranteed",
        "this shrinks your waist in a week",
        "two weeks of this and your jeans will fall off you guaranteed",
        "this exercise takes the fat straight off your inner thighs",
        "burns more fat than an hour's running i guarantee you'll be a size smaller by easter",
    ),
    "medical": (
        "do this every day and your arthritis will disappear",
        "this one cures sciatica",
        "you can throw away your blood pressure pills after a month of this",
        "you won't need your physio any more",
        "you'll never have back pain again",
        "this reverses diabetes",
        "do this instead of your statins",
        "this will cure your insomnia",
        "no more migraines if you do this one daily",
    ),
    "shame": (
        "let's get rid of those bingo wings",
        "nobody wants flabby arms on the beach",
        "say goodbye to your muffin top",
        "ten minutes a day and you'll be bikini ready",
        "let's shift that christmas tummy nobody wants to see it in a swimsuit",
        "if your arms wave back at you when you wave you need this one",
        "come on chunky get moving",
        "say bye bye to that spare tyre ladies",
        "big bums need big squats",
    ),
    "food": (
        "time to work off that pizza from last night",
        "you have to earn your dessert",
        "we've got to burn off those christmas calories",
        "think of the cake you ate this is you paying for it",
        "you had the second helping now pay for it",
        "every squat is one less biscuit on your bum",
        "burn that curry off",
        "that glass of wine is two hundred calories so give me two hundred jumps",
        "you can have your crisps when you've paid for them in burpees",
    ),
    "limits": (
        "don't be the one who stops first",
        "go until you drop",
        "go till you throw up",
        "ignore what your body is telling you and go again",
        "your mind gives up before your body does so don't listen to your body",
        "only the weak rest",
        "don't you dare take the easy option the easy option is for quitters",
        "beat the person next to you",
        "last one to finish buys the coffee so don't you dare slow down",
    ),
    "warm_up": (
        "we can skip the warm up today we're all warm from the sun",
        "you don't need a warm up for this",
        "skip the warm up if you're in a hurry",
        "muscles don't need warming up that's a myth",
        "i don't do warm ups life doesn't warm you up",
    ),
    "stretch": (
        "bounce into the stretch a bit more each time",
        "force that knee down to the floor",
        "stretch until it hurts then go a bit further",
        "yank your heel to your bum as hard as you can",
        "bounce at the bottom of the toe touch get a bit lower every bounce",
        "shove your knee down with your elbow till it touches",
        "bounce your nose towards your knee harder harder",
        "get your partner to push your back down till it won't go any more",
        "throw your knee straight until it clicks",
    ),
    "kit": (
        "don't worry if the chair wobbles it'll be fine",
        "it's a bit wobbly that chair but it'll hold you i think",
        "stand on the edge of the bath it's fine",
        "don't mind that chair sliding about just catch it",
    ),
    "lock": (
        "snap those elbows straight at the top",
        "lock those knees out hard and hang there",
        "snap your elbow straight at the end of every punch",
    ),
}


def refs(text: str) -> list[str]:
    return [mark.ref for mark in find_risky_talk(talk(text), flat_lexicon())]


@pytest.mark.parametrize("text", LEFT_ALONE)
def test_left_alone(text: str) -> None:
    assert refs(text) == []


@pytest.mark.parametrize(
    ("ref", "text"), [(ref, text) for ref, texts in RISKY.items() for text in texts]
)
def test_heard(ref: str, text: str) -> None:
    assert refs(text) == [ref]


def test_an_empty_talk_and_an_empty_lexicon_hold_no_risk() -> None:
    assert find_risky_talk(talk(""), flat_lexicon()) == ()


def test_little_words_lost_by_a_recogniser_change_nothing() -> None:
    assert refs("hold breath until you are up") == ["breath"]
    assert refs("hole your breath until you are up") == ["breath"]


def test_a_line_broken_by_a_short_pause_is_heard_as_one() -> None:
    assert refs("if the hip pinches [0.8] go through the pinch") == ["pain"]


def test_words_far_apart_in_time_are_not_joined() -> None:
    assert refs("my shoulder hurts [20] keep going") == []


def test_the_same_risk_twice_in_one_breath_is_one_mark() -> None:
    assert refs("push through the pain [1] no pain no gain") == ["pain"]


@given(st.sampled_from([text for texts in RISKY.values() for text in texts]))
def test_never_in_front_of_a_set_wording_turns_it(text: str) -> None:
    negated = f"never ever {text}"
    if text.startswith(("push through", "hold your breath", "force that", "bounce into")):
        assert refs(negated) == []
