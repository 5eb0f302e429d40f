"""Compare words and phrases that a recogniser may have mis-heard or written another way.

Two questions are kept apart. *Is it the same word in another form?* is answered by
folding: ``singular`` and ``stem`` bring forms of a word together, ``fold_words`` also
brings "push-up", "push up" and "pushups" together. *May it be the same word,
mis-heard?* is answered by ``similarity``, which weighs letters and sound.

Similarities run from 0 to 1. Three thresholds are meant for callers:

* ``SURE`` (0.88): another spelling or a usual mis-hearing, such as "blank" for "plank"
  or "squad" for "squat".
* ``LIKELY`` (0.78): worth a second look when the surroundings agree, such as "niece"
  for "knees" or "that lift" for "deadlift".
* ``POSSIBLE`` (0.62): only next to a word that fits exactly, such as "goblin squat" for
  "goblet squat" or "loot bridge" for "glute bridge".

Sources: the sound key follows the idea of Soundex and Metaphone (L. Philips, 1990,
Computer Language 7(12)) with fewer classes; letters are compared by the normalised
insert-delete distance (longest common subsequence).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache

from rapidfuzz import fuzz, process

SURE = 0.88
LIKELY = 0.78
POSSIBLE = 0.62

Fold = Callable[[str], str]

_IRREGULAR = {
    "calves": "calf",
    "children": "child",
    "does": "do",
    "feet": "foot",
    "goes": "go",
    "halves": "half",
    "men": "man",
    "selves": "self",
    "teeth": "tooth",
    "ups": "up",
    "women": "woman",
    # Spelling alone cannot tell these from "hanging" and "breathing" (of "breath").
    "breathing": "breathe",
    "changing": "change",
    "hinged": "hinge",
    "hinging": "hinge",
    "lunged": "lunge",
    "lunging": "lunge",
    "plunging": "plunge",
}
_ES = re.compile(r"(?:ss|sh|ch|x|zz)es$")
_KEEPS_S = re.compile(r"(?:ss|us|is)$")
_SUFFIX = re.compile(r"(?<!e)(?:ing|ed)$")
_DOUBLED = re.compile(r"([bdgmnprt])\1$")
_SHORT = re.compile(r"[^aeiou]*[aeiou][^aeiouwxy]$")
_LOST_E = re.compile(r"(?:[^s]s|[cvzu]|[dr]g|[bcdfgkptz]l|[^aeiou]at)$")

# Second halves that are written apart, joined and with a hyphen.
_SPLITS = re.compile(
    r"^(?P<head>.{3,})(?P<tail>up|down|off|out|over|back|apart|lift|bell|weight|chop|kick|stand)$"
)
_JOINTS = re.compile(r"[-\u2010-\u2015/\s]+")

_SOUNDS: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern), sound)
    for pattern, sound in (
        (r"[^a-z0-9]", ""),
        (r"^(?:kn|gn)", "n"),
        (r"^wr", "r"),
        (r"^wh", "w"),
        (r"^[aeiou]+", "A"),
        (r"mb$", "m"),
        (r"(?:tch|dge|ch|sh|[st]ion|j)", "J"),
        (r"ge(?=s?$|d$)", "J"),
        (r"gh", ""),
        (r"ph", "f"),
        (r"th", "t"),
        (r"c(?=[eiy])", "s"),
        (r"x", "ks"),
        (r"qu?|[ckg]", "K"),
        (r"[bp]", "P"),
        (r"[dt]", "T"),
        (r"[fv]", "F"),
        (r"[sz]", "S"),
        (r"(?<=.)[aeiouwyh]", ""),
        (r"([A-Za-z])\1+", r"\1"),
    )
)


@lru_cache(maxsize=50_000)
def singular(word: str) -> str:
    """Fold the plural or possessive of one lower-case word into its plain form."""
    word = word.replace("\u2019", "'").rstrip("'")
    if len(word) > 5 and word.endswith("'s"):
        return word[:-2]
    if word in _IRREGULAR:
        return _IRREGULAR[word]
    if len(word) < 4 or not word.endswith("s") or _KEEPS_S.search(word):
        return word
    if len(word) > 4 and word.endswith("ies"):
        return word[:-3] + "y"
    return word[:-2] if _ES.search(word) else word[:-1]


@lru_cache(maxsize=50_000)
def stem(word: str) -> str:
    """Fold plurals and the endings -ing and -ed: "squatting" and "squats" give "squat".

    Spelling rules only; a word without a vowel before the ending is left ("swing").
    """
    word = singular(word)
    base = _SUFFIX.sub("", word)
    if base == word or len(base) < 3 or not re.search(r"[aeiouy]", base):
        return word
    undoubled = _DOUBLED.sub(r"\1", base)
    if undoubled != base:
        return undoubled
    return base + "e" if _SHORT.fullmatch(base) or _LOST_E.search(base) else base


def fold_words(words: Iterable[str], fold: Fold = singular) -> tuple[tuple[str, int], ...]:
    """Split and fold words, each part with the index of the word it came from.

    "push-ups" and "pushups" both become "push" and "up", so that they equal "push up".
    """
    return tuple(
        [(part, index) for index, word in enumerate(words) for part in _fold_word(word, fold)]
    )


@lru_cache(maxsize=50_000)
def fold_phrase(text: str, fold: Fold = singular) -> tuple[str, ...]:
    """Split a phrase into folded lower-case words, without punctuation."""
    bare = re.sub(r"[^\w\s'\u2019/\u2010-\u2015-]+", " ", text.lower())
    return tuple(part for part, _ in fold_words(bare.split(), fold))


@lru_cache(maxsize=50_000)
def _fold_word(word: str, fold: Fold) -> tuple[str, ...]:
    """Fold one word into the parts it is made of."""
    parts: list[str] = []
    for piece in _JOINTS.split(word):
        folded = fold(piece.strip("'"))
        if joined := _SPLITS.match(folded):
            parts += [fold(joined["head"]), joined["tail"]]
        elif folded:
            parts.append(folded)
    return tuple(parts)


@lru_cache(maxsize=50_000)
def sound_key(word: str) -> str:
    """Reduce a word to the consonants it sounds like, voiced and unvoiced alike.

    "plank" and "blank", "knees" and "niece", "skaters" and "scatters" share a key. A
    vowel counts only at the front. Spaces are ignored, so "that lift" sounds like
    "deadlift".
    """
    key = " ".join(word.lower().split())
    key = "".join(_sound_of(part) for part in key.split(" "))
    return re.sub(r"([A-Za-z])\1+", r"\1", key)


# Names and pairs of words are made of the same few words again and again.
@lru_cache(maxsize=20_000)
def _sound_of(word: str) -> str:
    """Give the sound key of a single word."""
    for pattern, sound in _SOUNDS:
        word = pattern.sub(sound, word)
    return word.upper()


@lru_cache(maxsize=50_000)
def similarity(one: str, other: str) -> float:
    """Say how much two words or phrases are alike, 0 to 1, by letters and by sound.

    The mean of both; spaces do not count. Equal letters give 1. See the module's
    thresholds. Words of one consonant sound ("row", "raw") are told apart by letters.
    """
    if one == other:
        return 1.0
    letters = fuzz.ratio(one.replace(" ", ""), other.replace(" ", "")) / 100
    sound = fuzz.ratio(sound_key(one), sound_key(other)) / 100
    return (letters + sound) / 2


def find_alike(
    words: Sequence[str], wanted: Sequence[str], *, at_least: float = LIKELY
) -> dict[str, dict[str, float]]:
    """Find, for each distinct word, the wanted words it may be a mis-hearing of.

    Args:
        words: Words or short phrases as heard, lower case.
        wanted: Words to look for, lower case.
        at_least: Smallest similarity that counts.

    Returns:
        For each heard word that is like at least one wanted word (equal ones too) the
        similarity to each of those. Words like nothing are left out.
    """
    heard, sought = sorted(set(words)), sorted(set(wanted))
    if not heard or not sought:
        return {}
    letters = process.cdist(
        [word.replace(" ", "") for word in heard],
        [word.replace(" ", "") for word in sought],
        scorer=fuzz.ratio,
    )
    sounds = process.cdist(
        [sound_key(word) for word in heard],
        [sound_key(word) for word in sought],
        scorer=fuzz.ratio,
    )
    scores = (letters + sounds) / 200
    found: dict[str, dict[str, float]] = {}
    for row, column in zip(*(scores >= at_least - 1e-6).nonzero(), strict=True):
        found.setdefault(heard[row], {})[sought[column]] = float(scores[row, column])
    return found
