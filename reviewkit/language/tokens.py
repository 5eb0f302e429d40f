"""What of a cue's text is speech: words, without sounds, names, dashes and notes."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from reviewkit.language.numbers import number_value
from reviewkit.language.wordsets import word_set
from reviewkit.model import Cue

_BREATH = re.compile(
    r"\b(?:(?:in|ex)hal(?:e|es|ed|ing|ation)|breath(?:s|e|es|ing)?|sigh(?:s|ing)?"
    r"|blows? out|blowing out|pant(?:s|ing)|gasp(?:s|ing)?|huff(?:s|ing)?|puff(?:s|ing)?)\b",
    re.IGNORECASE,
)
# Bounded, so that a text of brackets alone takes no longer than any other.
_ASIDE = re.compile(
    r"\[[^\[\]]{0,200}\]|\([^()]{0,200}\)|\*[a-zA-Z ]{1,40}\*"
    r"|[\u266a-\u266c][^\n\u266a-\u266c]{0,1000}[\u266a-\u266c]*"
)
_SOUNDS = word_set(
    "music applause laughter laughs laugh laughing chuckles chuckling giggles cheering cheers"
    " clapping claps beep beeps beeping bell ding whistle whistles silence pause crosstalk"
    " inaudible unintelligible indistinct foreign noise coughs coughing clears throat grunts"
    " grunting groans sniffs snaps snapping timer buzzer static singing humming crowd audience"
    " instrumental upbeat barking baby dog phone rings knocking door video audio"
)
_SPOKEN = word_set(
    "i i'm you you're your we we're our it it's that this the to and or not don't if with for of"
    " on in me my let's keep is are just do no yes"
)
_MOST_ASIDE_WORDS = 6
_NAME = re.compile(
    r"(?:\A|\n|>>)[ \t>\u2013\u2014-]{0,10}"
    r"(?P<name>[^\W\d][\w.'\u2019-]{0,30}(?:[ _][\w.'\u2019#-]{1,20}){0,3}):(?=\s|\Z)"
)
_ROLE = re.compile(
    r"(?:(?:the |head |lead |your )?(?:coach|instructor|trainer|teacher|host|narrator|speaker|"
    r"presenter|interviewer|participant|student|client|guest|moderator|man|woman|male|female|voice)"
    r"(?:[ _#]{0,2}\d{1,3}|[ _][a-z])?|speaker[_ ]?[\da-z]{1,3}|spk[_ ]?\d{1,3})",
    re.IGNORECASE,
)
_NO_NAME = word_set(
    "next now okay ok alright right so and then remember reminder note tip tips option options"
    " modification first second third last ready rest work round rounds exercise move moves cue"
    " set sets breathe inhale exhale warning again challenge safety form focus goal plan today"
    " here this that one two three four five six seven eight nine ten go stop switch"
    " left equipment time warm-up cool-down bonus finisher question answer example"
    " halfway amrap emom hiit tabata"
)
# Marks without a picture, and control characters that a terminal would obey.
_HIDDEN = re.compile(
    "[\x00-\x08\x0e-\x1f\x7f-\x9f\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2069\ud800-\udfff\ufeff]"
)
_OUTER = re.compile(r"\A[^\w]+|[^\w%\u00b0]+\Z")
_LEADING_DASH = re.compile("\\A[->\u2013\u2014\u2022]+")
_PLAIN_MARKS = str.maketrans(
    {"\u2019": "'", "\u2018": "'", "\u02bc": "'", "\u2013": "-", "\u2010": "-", "\u2011": "-"}
)
_JOINT = re.compile(
    r"(?<=\w)(?:\.{2,}|\u2026+|\u2014+|--+|[!?;]+|,(?=[^\W\d])|,(?=\d(?:\D|\Z)))(?=\w)"
)
_TOKEN = re.compile(r"\S+")
# Longer than any word or address; such a run of characters was not spoken.
_LONGEST_WORD = 100
# Of words that only marks join ("one...two...three"), no more than this is looked at.
_LONGEST_RUN = 1000


@dataclass(frozen=True, slots=True)
class Token:
    """A word as written; ``piece`` is the piece of the cue that it begins in."""

    text: str
    norm: str
    piece: int
    is_sound: bool = False


def norm(text: str) -> str:
    """Write a word for comparison: lower case, straight apostrophes, no outer marks."""
    plain = _HIDDEN.sub("", text).translate(_PLAIN_MARKS).lower()
    return _OUTER.sub("", plain).strip("_")


def speaker_names(cues: Iterable[Cue]) -> frozenset[str]:
    """Find what stands before a colon at the start of lines and clearly is a speaker.

    That is a role ("Coach", "Speaker 2"), capitals that come back in a text that is not
    all capitals, or a capitalised name that comes back again and again. "Next:" is none.
    """
    counts: Counter[str] = Counter()
    total = 0
    upper = lower = 0
    for cue in cues:
        total += 1
        text = cue.text
        upper += sum(map(str.isupper, text[:200]))
        lower += sum(map(str.islower, text[:200]))
        if ":" in text:
            counts.update(match["name"] for match in _NAME.finditer(text))
    is_shouted = upper > lower
    often = max(4, total // 8)
    return frozenset(
        name for name, count in counts.items() if _is_name(name, count, often, is_shouted)
    )


def _is_name(name: str, count: int, often: int, is_shouted: bool) -> bool:
    if _ROLE.fullmatch(name):
        return True
    words = name.replace("_", " ").split()
    if any(word.lower() in _NO_NAME or word.lower() in _SPOKEN for word in words):
        return False
    if name.isupper() and len(name) > 1 and count > 1 and not is_shouted:
        return True
    return count >= often and all(word[:1].isupper() or word.isdigit() for word in words)


def split_tokens(cue: Cue, names: frozenset[str]) -> list[Token]:
    """Cut the speech of a cue into words, breath sounds in brackets among them."""
    text = cue.text
    text, sounds = _without_asides(text)
    if ":" in text and names:
        text = _NAME.sub(lambda match: _blank_name(match, names), text)
    stops: list[int] = []
    total = 0
    for piece in cue.pieces:
        total += len(piece.text)
        stops.append(total)
    tokens: list[Token] = []
    piece_at = 0
    for match in _TOKEN.finditer(text):
        while stops[piece_at] <= match.start():
            piece_at += 1
        if match.start() in sounds:
            whole = sounds[match.start()]
            breath = _BREATH.search(whole)
            tokens.append(Token(whole, breath[0].lower() if breath else "", piece_at, True))
        else:
            tokens += _to_tokens(match[0][:_LONGEST_RUN], piece_at)
    return tokens


def _without_asides(text: str) -> tuple[str, dict[int, str]]:
    """Blank out what is in brackets and no speech; give breath sounds by their place."""
    if not _ASIDE.search(text):
        return text, {}
    parts: list[str] = []
    sounds: dict[int, str] = {}
    at = 0
    for match in _ASIDE.finditer(text):
        aside = match[0]
        parts.append(text[at : match.start()])
        at = match.end()
        if aside[0] in "[(*" and _BREATH.search(aside) and _is_sound(aside, has_breath=True):
            sounds[match.start()] = aside
            parts.append("\u00a4" + " " * (len(aside) - 1))
        elif _is_sound(aside):
            parts.append(" " * len(aside))
        else:
            parts.append(aside)
    parts.append(text[at:])
    return "".join(parts), sounds


def _is_sound(aside: str, *, has_breath: bool = False) -> bool:
    """Tell a sound or a note in brackets from words that an editor put in brackets."""
    if aside[0] != "(":
        return True
    words = [norm(word) for word in aside.split()]
    if len(words) > _MOST_ASIDE_WORDS:
        return False
    if any(word in _SOUNDS for word in words):
        return True
    return not any(word in _SPOKEN for word in words) and (
        has_breath or (len(words) <= 2 and not any(map(_is_number, words)))
    )


def _blank_name(match: re.Match[str], names: frozenset[str]) -> str:
    if match["name"] not in names:
        return match[0]
    return "".join("\n" if char == "\n" else " " for char in match[0])


def _is_number(word: str) -> bool:
    return word.isdecimal() or number_value([word]) is not None


def _to_tokens(raw: str, piece: int) -> list[Token]:
    """Cut what lies between spaces into words; joints like ``...`` or ``--`` part them."""
    return [Token(text, normed, piece) for text, normed in _words(raw)]


# A class says the same few hundred words again and again.
@lru_cache(maxsize=20_000)
def _words(raw: str) -> tuple[tuple[str, str], ...]:
    """Give what is written of each word, and the word for comparison."""
    normed = ((part, norm(part)) for part in _parts(raw) if len(part) <= _LONGEST_WORD)
    return tuple(
        (_HIDDEN.sub("", _LEADING_DASH.sub("", part)), word) for part, word in normed if word
    )


def _parts(raw: str) -> Iterator[str]:
    at = 0
    for match in _JOINT.finditer(raw):
        yield raw[at : match.end()]
        at = match.end()
    yield from _count_parts(raw[at:])


def _count_parts(part: str) -> list[str]:
    """Cut ``3-2-1`` into its numbers; other hyphens hold words together."""
    if "-" not in part:
        return [part]
    numbers = [norm(number) for number in part.split("-")]
    is_count = len(numbers) > 2 and all(map(_is_number, numbers))
    return part.split("-") if is_count else [part]
