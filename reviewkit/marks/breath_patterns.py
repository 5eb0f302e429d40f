"""Ways of asking for breath that no list can hold: phases, puffs, sounds, talk of air.

Coaches say "in going down out coming up", "puff", "hoo as it comes up" and "take the air
slowly" and never the word breath. Each is found by how it is built.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from reviewkit.language.numbers import find_numbers
from reviewkit.language.wordsets import word_set


@dataclass(frozen=True, slots=True)
class Prompt:
    """A prompt inside one line: words ``first`` to ``last`` and its phase.

    ``is_bare`` marks a lone "in" or "out", which counts only near a clear prompt.
    """

    first: int
    last: int
    phase: str
    is_bare: bool = False
    is_hold: bool = False


_OTHER = {"in": "out", "out": "in"}
_OPENS = word_set(
    "and then so now nice big long slow slower longer lovely again good okay right short all sharp "
    "strong deep let's yes soft it air a one"
)
_TIMED = word_set("as when while whenever on")
_ENDS_OF_WAY = word_set("top bottom end")
# "Out facing the door" is where to stand.
_NOT_BREATHED = word_set("facing looking pointing reaching stepping walking being training")
_SLOW = word_set("slow slower slowly long longer deep deeper easy softly quiet even")
# What goes in and out besides breath.
_LIMBS = word_set(
    "leg legs arm arms foot feet knee knees hand hands elbow elbows heel heels toe toes hip hips "
    "weight weights dumbbell dumbbells bell bells bar band towel mat chair jump jumps step steps "
    "hop hops tap taps left right"
)
_STEPS = word_set("out in and again now then so")
# What else takes "out" to itself, and who or what a breath goes with.
_TAKES_OUT = word_set(
    "it em 'em them him that this you not left right turn turns lean leans creep reach roll "
    "rolling slide pull push pushing run running walk walked work worked pop come came go goes "
    "pass straight flat body belly bum chest chin head thigh thighs some even like he'd i'm "
    "you're was were"
)
_WITH_WHAT = word_set("you the it we they he she i your every each that top effort impact")
_PLACES = word_set("the a your side left right front this that")
_MOST_WORDS = 12
_MOST_BARE_WORDS = 8

_PUFFS = word_set("puff puffing blow blowing huff whoof wheeze puffs")
_NO_PUFF = word_set("chest chests whistle whistles horn wind fuse")
_SOUND = re.compile(
    r"h+o{2,}h*|h+a{2,}h*|hah|h+u+h|f{2,}\w{0,3}|fu{2,}|p+f+|phew+|wh?oo+(?:sh|f)?|whoosh|"
    r"s{3,}h*|s+h{2,}|ts+s|puh+|h+s{2,}|h{2,}a+"
)
_LAUGHS = word_set("hah huh haa haha")
_WITH_EACH = word_set("as when while on with every each if say")
# How far from a sound its "as" or "every" may stand.
_TIMED_REACH = 3
_FEWEST_SOUNDS = 2
_FEWEST_LAUGHS = 3

_AIR_MOVES = word_set(
    "take takes taking give gives giving let lets leave leaves release receive fill fills enter "
    "enters go goes going come comes coming move moves moving empty empties send suck draw draws "
    "sip drink exit exits forget keep keeps use drop bring breathe get out in"
)
_AIR_KINDS = word_set("slow small long calm big quiet warm easy soft")
# How far from "air" its verb may stand.
_AIR_REACH = 4


def find_patterns(words: Sequence[str]) -> list[Prompt]:
    """Find the first kind of prompt that a line is built as, the clearest kinds first.

    Args:
        words: One line, normalised.
    """
    words = ["out" if word == "oot" else word for word in words]
    return (
        _phased(words)
        or _puffed(words)
        or _sounded(words)
        or _aired(words)
        or _bare(words)
        or _timed_within(words)
    )


def _may_be_steps(words: Sequence[str], at: int) -> bool:
    """Tell whether "out and in" may be feet: breath is mostly called the other way round."""
    return words[at] == "out" and set(words[at:]) <= _STEPS


def _phases(words: Sequence[str]) -> Iterator[int]:
    """Give the places of "in" and "out" that open a clause."""
    for at, word in enumerate(words):
        if word in _OTHER and all(before in _OPENS for before in words[:at]):
            yield at


def _phased(words: Sequence[str]) -> list[Prompt]:
    """Find "out as you rise", "in going down", "in to open out to close", "out with it"."""
    for at in _phases(words):
        other = _OTHER[words[at]]
        has_both = other in words[at + 1 :] and len(words) <= _MOST_WORDS
        has_both = has_both and not _LIMBS.intersection(words)
        if _is_timed(words, at) or (has_both and _is_paired(words, at)):
            phase = "in out" if other in words[at + 1 :] else words[at]
            last = min(at + 2, len(words) - 1)
            return [Prompt(at, last, phase, is_bare=_may_be_steps(words, at))]
        if _word(words, at + 1) == "to" and _word(words, at + 2) not in _PLACES | _LIMBS | {""}:
            return [Prompt(at, at + 2, words[at], is_bare=True)]
    return []


def _timed_within(words: Sequence[str]) -> list[Prompt]:
    """Find "out as you rise" inside a line, where nothing before it is what goes out."""
    for at, word in enumerate(words):
        if word != "out" or _word(words, at - 1) in _LIMBS | _TAKES_OUT:
            continue
        after, then = _word(words, at + 1), _word(words, at + 2)
        if after in _TIMED and (then in _WITH_WHAT or then.endswith("ing")):
            return [Prompt(at, at + 2, "out")]
    return []


def _word(words: Sequence[str], at: int) -> str:
    return words[at] if 0 <= at < len(words) else ""


def _is_timed(words: Sequence[str], at: int) -> bool:
    """Tell whether a phase comes with when it is: "as you rise", "on the way", "for four"."""
    after, then, last = (_word(words, at + step) for step in (1, 2, 3))
    if after in _TIMED:
        return bool(then)
    if after == "at":
        return then == "the" and last in _ENDS_OF_WAY
    if after in ("with", "wi"):
        return bool(then) and not _LIMBS.intersection((then, last))
    if after == "for" and find_numbers([then]):
        return True
    return (after == "two" and then == "three") or (
        len(after) > len("ring") and after.endswith(("ing", "in'")) and after not in _NOT_BREATHED
    )


def _is_paired(words: Sequence[str], at: int) -> bool:
    """Tell whether both phases have a movement each, or are said to be slow."""
    told = [word for word in words[at:] if word not in (*_OTHER, *_OPENS, "the", "is")]
    return bool(told or _SLOW.intersection(words))


def _bare(words: Sequence[str]) -> list[Prompt]:
    """Find a line that says only "in", "and out" or "out and in softly"."""
    told = [word for word in words if word in _OTHER]
    if not told or len(words) > _MOST_BARE_WORDS or any(a == b for a, b in pairwise(told)):
        # "Out out in in" is where the feet go.
        return []
    if all(word in _OPENS or word in _OTHER or word in _SLOW or word == "the" for word in words):
        at = next(i for i, word in enumerate(words) if word in _OTHER)
        return [Prompt(at, len(words) - 1, " ".join(dict.fromkeys(told)), is_bare=True)]
    return []


def _puffed(words: Sequence[str]) -> list[Prompt]:
    """Find "puff" and "blow as you stand"; chests are puffed out and whistles blown, too."""
    at = next((at for at, word in enumerate(words) if word in _PUFFS), None)
    if at is None or not _NO_PUFF.isdisjoint(words):
        return []
    return [Prompt(at, at, "out")]


def _sounded(words: Sequence[str]) -> list[Prompt]:
    """Find breath made loud: "hoo as it comes up", "fff when you rise", "huh huh huh"."""
    sounds = [at for at, word in enumerate(words) if _SOUND.fullmatch(word)]
    if not sounds:
        return []
    at = sounds[0]
    is_timed = any(_WITH_EACH.intersection(_around(words, s)) for s in sounds)
    fewest = _FEWEST_LAUGHS if words[at] in _LAUGHS else _FEWEST_SOUNDS
    return [Prompt(at, sounds[-1], "out")] if is_timed or len(sounds) >= fewest else []


def _around(words: Sequence[str], at: int) -> Sequence[str]:
    return words[max(0, at - _TIMED_REACH) : at + _TIMED_REACH + 1]


def _aired(words: Sequence[str]) -> list[Prompt]:
    """Find "take the air slowly", "slow air", "lungs empty on top"."""
    for at, word in enumerate(words):
        if word == "lungs":
            return [Prompt(at, at, "any")]
        if word != "air":
            continue
        near = {*words[max(0, at - _AIR_REACH) : at], *words[at + 1 : at + _AIR_REACH]}
        before = words[at - 1] if at else ""
        if len(words) <= _AIR_REACH or before in _AIR_KINDS or near & _AIR_MOVES:
            return [Prompt(at, at, "any")]
    return []
