"""What speech recognition does to words: a table of mis-hearings, lost and glued words, figures.

Everything is seeded: the same class in the same form always comes out the same.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from reviewkit.model import Word

# As heard, never as meant: sound-alikes of class words, by the word that was said.
MISHEARD: Mapping[str, tuple[str, ...]] = {
    "abdominals": ("abominables", "add dominoes"),
    "abs": ("apps", "ads"),
    "ankle": ("uncle", "angle"),
    "ankles": ("uncles", "angles"),
    "arch": ("march", "art"),
    "arms": ("alms", "on"),
    "back": ("bag", "pack"),
    "balance": ("ballast",),
    "band": ("bend", "banned"),
    "bands": ("bends", "banns"),
    "barbell": ("bar bell", "barbel"),
    "bell": ("bill", "belle"),
    "belly": ("barely", "bailey"),
    "bend": ("band", "been"),
    "bent": ("bend", "went"),
    "biceps": ("buy seps", "bisects"),
    "bird": ("bud", "bid"),
    "block": ("black", "lock"),
    "brace": ("brase", "grace", "place"),
    "breath": ("breadth", "bread"),
    "breathe": ("bree the", "breeze", "breath"),
    "breathing": ("breeding", "breathe in"),
    "bridge": ("bridged", "brish"),
    "bridges": ("britches", "bridge is"),
    "burpee": ("burp he", "bur pea"),
    "burpees": ("burp ease", "bear peas"),
    "calf": ("cough", "half"),
    "calves": ("carves", "cars"),
    "cat": ("cut", "cap"),
    "chest": ("just", "jest"),
    "chin": ("gin", "shin"),
    "clam": ("clamp", "clan"),
    "climber": ("climb her", "clamber"),
    "climbers": ("climate", "timbers"),
    "clock": ("cloak", "o'clock"),
    "cobra": ("cobber", "copra"),
    "cool": ("call", "cold"),
    "core": ("call", "chor"),
    "cow": ("cower", "now"),
    "crunch": ("brunch", "crutch"),
    "crunches": ("brunches", "crutches"),
    "curl": ("kerl", "curled"),
    "curls": ("kerbs", "carols"),
    "deadbug": ("dead bug", "debug"),
    "deadlift": ("dead live", "dad lift"),
    "deadlifts": ("dead lift", "deadly"),
    "dip": ("deep", "tip"),
    "dips": ("deeps", "chips"),
    "donkey": ("don key", "monkey"),
    "dumbbell": ("dumb bell", "dumbell"),
    "dumbbells": ("dumb bells", "dumb belles"),
    "ease": ("he's", "is"),
    "elbow": ("el bow", "albo"),
    "elbows": ("el bows", "a bow"),
    "exhale": ("ex hail", "excel"),
    "feet": ("feed", "fit"),
    "fingers": ("figures",),
    "floor": ("flaw", "for"),
    "fly": ("flight", "fry"),
    "fold": ("hold", "fault"),
    "forearms": ("four arms", "firearms"),
    "forward": ("foreword", "for wood"),
    "glute": ("flute", "gloot"),
    "glutes": ("flutes", "gloops"),
    "goblet": ("gob let", "cobblet"),
    "halfway": ("half way", "hallway"),
    "hamstring": ("ham string", "hamster in"),
    "hamstrings": ("ham strings", "hand strings"),
    "hands": ("ants", "hens"),
    "heel": ("heal", "hill"),
    "heels": ("heel's", "eels"),
    "hiit": ("hit", "heat"),
    "hinge": ("hindge", "in"),
    "hip": ("heap", "hit"),
    "hips": ("hits", "heaps"),
    "hold": ("old", "holed"),
    "hop": ("hope", "up"),
    "inhale": ("in hail", "and hail"),
    "jack": ("jag", "check"),
    "jacks": ("jax", "checks"),
    "jump": ("chump", "jumper"),
    "kettlebell": ("kettle bill", "cattle bill"),
    "kick": ("cake", "quick"),
    "knee": ("need", "me"),
    "kneel": ("neil", "need"),
    "kneeling": ("nealing", "kneading"),
    "knees": ("nice", "needs"),
    "lat": ("lap", "let"),
    "lateral": ("literal", "latter all"),
    "legs": ("lex", "eggs"),
    "lift": ("left", "lived"),
    "lower": ("lore", "slower"),
    "lunge": ("lung", "plunge"),
    "lunges": ("lungs", "plunges"),
    "march": ("match", "larch"),
    "mat": ("map", "matt"),
    "mobility": ("nobility",),
    "mountain": ("mounting", "maintain"),
    "neck": ("next", "neg"),
    "neutral": ("new trail", "new troll"),
    "oblique": ("oblik", "a bleak"),
    "obliques": ("oh bleaks", "a bleaks"),
    "overhead": ("over head", "oh ahead"),
    "palms": ("pumps", "bombs"),
    "pelvic": ("public", "pelvis"),
    "pelvis": ("elvis", "pelvic"),
    "pigeon": ("pidgin", "pitch in"),
    "pike": ("pipe", "spike"),
    "pilates": ("pie latest", "pilots"),
    "plank": ("plan", "plink"),
    "planks": ("thanks", "plans"),
    "plie": ("plea a", "pleat"),
    "press": ("pressed", "dress"),
    "presses": ("dresses", "precious"),
    "pull": ("pole", "pool"),
    "pulse": ("pulls", "false"),
    "pulses": ("pulls is", "porches"),
    "punch": ("bunch", "lunch"),
    "push": ("bush", "pushed"),
    "quad": ("squad", "quod"),
    "quads": ("squads", "quotes"),
    "raise": ("raised", "rise"),
    "raises": ("rises", "raised"),
    "reach": ("rich", "reached"),
    "reps": ("wraps", "reaps"),
    "rest": ("wrist", "breast"),
    "reverse": ("rehearse", "river's"),
    "ribs": ("rips", "ribbs"),
    "romanian": ("remaining", "roman ian"),
    "rotate": ("rotated", "row take"),
    "row": ("rowe", "road"),
    "rows": ("roads", "rhos"),
    "sets": ("sits", "says"),
    "shin": ("chin", "sheen"),
    "shoulder": ("soldier", "holder"),
    "shoulders": ("soldiers", "holders"),
    "sit": ("set", "seat"),
    "skater": ("scatter", "skate her"),
    "skaters": ("skate is", "sweaters"),
    "soft": ("sort", "soften"),
    "spine": ("fine", "spy"),
    "squat": ("swat", "squatted", "scott"),
    "squats": ("swats", "what's"),
    "squeeze": ("squees", "skis"),
    "stance": ("stands", "dance"),
    "steady": ("study", "stead he"),
    "step": ("stepped", "steep"),
    "straight": ("strait", "strayed"),
    "stretch": ("stretched", "scratch"),
    "sumo": ("soon mo", "sue mo"),
    "superman": ("super men",),
    "swap": ("swamp", "swab"),
    "swing": ("swim", "sling"),
    "switch": ("which", "swish"),
    "tailbone": ("tail bone", "tale bone"),
    "tap": ("tab", "dap"),
    "taps": ("tabs", "caps"),
    "thigh": ("tie", "thy"),
    "thighs": ("ties", "size"),
    "thruster": ("thrust her", "trust her"),
    "thrusters": ("thrust us", "trust us"),
    "tilt": ("tilled", "till"),
    "toe": ("tow", "toad"),
    "toes": ("toast", "tows"),
    "tricep": ("try set", "tri step"),
    "triceps": ("try steps", "try sets"),
    "tuck": ("talk", "took"),
    "twist": ("twisted", "to wist"),
    "warrior": ("worrier", "lawyer"),
    "weight": ("wait", "way"),
    "weights": ("waits", "ways"),
    "wrist": ("rest", "risk"),
    "wrists": ("rests", "risks"),
    "yoga": ("yogurt", "your guy"),
}  # fmt: skip

_SMALL = """a an and are as at be but for i if in is it just of on or so that the them then there
this to up we with you your"""
_ONES = """zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen
fifteen sixteen seventeen eighteen nineteen"""
_TENS = """twenty thirty forty fifty sixty seventy eighty ninety"""
SMALL_WORDS = frozenset(_SMALL.split())
_NUMBERS: Mapping[str, int] = {
    **{word: value for value, word in enumerate(_ONES.split())},
    **{word: 10 * value for value, word in enumerate(_TENS.split(), 2)},
}


@dataclass(frozen=True, slots=True)
class Hearing:
    """How badly words are heard: chances from 0 to 1.

    ``mishears`` is for each word that the table knows, the others for each small word.
    """

    mishears: float = 0.2
    drops: float = 0.03
    glues: float = 0.006
    doubles: float = 0.004


GOOD_HEARING = Hearing(mishears=0.05, drops=0.01, glues=0.0, doubles=0.002)


def seeded(seed: str) -> random.Random:
    """Make a chance that always falls the same way for the same seed."""
    return random.Random(seed)  # noqa: S311 - for noise, not for secrets


def is_number(text: str) -> bool:
    """Tell whether a word is a number, in letters or figures."""
    return text in _NUMBERS or text.isdigit()


def mishear(words: Sequence[Word], rng: random.Random, hearing: Hearing) -> list[Word]:
    """Give the words as a recogniser would have heard them; times stay where they were."""
    heard: list[Word] = []
    glued = False
    for word, after in zip(words, [*words[1:], None], strict=True):
        if glued:
            glued = False
            continue
        options = MISHEARD.get(word.text)
        if options and rng.random() < hearing.mishears:
            heard += _split(word, rng.choice(options))
        elif word.text in SMALL_WORDS:
            fate = rng.random()
            glued = after is not None and 0 <= fate - hearing.drops < hearing.glues
            if glued and after is not None:
                heard.append(replace(word, text=word.text + after.text, end_ms=after.end_ms))
            elif fate >= hearing.drops:
                doubled = fate > 1 - hearing.doubles
                heard += _split(word, f"{word.text} {word.text}" if doubled else word.text)
        else:
            heard.append(word)
    return heard


def _split(word: Word, text: str) -> list[Word]:
    """Put a text in a word's place, its time shared out evenly."""
    parts = text.split()
    step_ms = (word.end_ms - word.start_ms) // len(parts)
    return [
        replace(
            word,
            text=part,
            start_ms=word.start_ms + place * step_ms,
            end_ms=word.start_ms + (place + 1) * step_ms,
        )
        for place, part in enumerate(parts)
    ]


def write_figures(words: Sequence[Word]) -> list[Word]:
    """Write numbers as figures from two up: ``twenty five`` is 25, ``three two one`` is 3 2 1.

    A single "one" stays a word, since it is most often no number.
    """
    written: list[Word] = []
    left = list(words)
    while left:
        word = left.pop(0)
        value = _NUMBERS.get(word.text)
        if value is None or (value < 2 and not (written and written[-1].text.isdigit())):
            written.append(word)
            continue
        ones = _NUMBERS.get(left[0].text, 0) if left else 0
        is_joined = value >= 20 and 1 <= ones <= 9
        last = left.pop(0) if is_joined else word
        text = str(value + ones if is_joined else value)
        written.append(replace(word, text=text, end_ms=last.end_ms))
    return written


def punctuate(
    words: Sequence[Word], line_starts_ms: Iterable[int], rng: random.Random
) -> list[Word]:
    """Write words as the large recognisers do: capitals, full stops, commas inside counts.

    They are not always right: a line may run on into the next behind a comma.
    """
    starts = set(line_starts_ms)
    written: list[Word] = []
    is_capital = True
    for word, after in zip(words, [*words[1:], None], strict=True):
        text = _cased(word.text, is_capital=is_capital)
        is_capital = False
        if after is None or after.start_ms in starts:
            mark = rng.choices((".", ",", "!"), (85, 10, 5))[0] if after else "."
            is_capital = mark != ","
            text += mark
        elif is_number(word.text) and is_number(after.text):
            text += ","
        written.append(replace(word, text=text))
    return written


def _cased(text: str, *, is_capital: bool) -> str:
    is_i = text == "i" or text.startswith("i'")
    return text[:1].upper() + text[1:] if is_capital or is_i else text
