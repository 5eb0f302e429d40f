"""Compare spoken words with written wordings that leave room for how people talk.

A wording is a few lower-case words. ``*`` stands for up to three words, a ``~`` for any
letters ("melt~", "~ing"), ``a|b`` for either word. Little words such as "the" and
"your" may be missing from the talk, because recognisers drop them, or stand where the
wording has none. ``{t}`` stands for a length of time and ``{n}`` for a number, when the
words were read with ``as_amounts``.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from reviewkit.language.wordsets import word_set
from reviewkit.model import Phrase

LITTLE = word_set("a an the to and of in it is your that on")
_LITTLE_GAP = r"(?:(?:a|an|the|to|of|in|it|is|your|that|on) ){0,2}"
# Never over an amount: "forty five on fifteen off" has no forty five off.
_ANY_GAP = r"(?:[^#\s]\S* ){0,3}"
Patterns = dict[str, re.Pattern[str] | None]
_SLOTS = {"{t}": r"#t[\d.]+ ", "{n}": r"#n[\d.]+ "}


@dataclass(frozen=True, slots=True)
class Spoken:
    """Words as one text, each followed by a blank, and where each word starts in it."""

    text: str
    starts: tuple[int, ...]

    def word_at(self, offset: int) -> int:
        """Give the position of the word that holds a character of the text."""
        return bisect_right(self.starts, offset) - 1


@dataclass(frozen=True, slots=True)
class Hit:
    """A wording heard in words ``first`` to ``last`` (inclusive) of the words given."""

    first: int
    last: int
    text: str


def as_spoken(words: Sequence[str]) -> Spoken:
    """Join normalised words into a text that wordings can be looked up in."""
    starts, length = [], 0
    for word in words:
        starts.append(length)
        length += len(word) + 1
    return Spoken("".join(f"{word} " for word in words), tuple(starts))


def _word_pattern(word: str, *, may_miss: bool) -> str:
    """Write one word of a wording, its alternatives and open ending, as a pattern."""
    if word in _SLOTS:
        return _SLOTS[word]
    choices = [
        re.escape(choice).replace("\\~", "~").replace("~", r"\S*") for choice in word.split("|")
    ]
    pattern = f"(?:{'|'.join(choices)}) "
    return f"(?:{pattern})?" if may_miss and word in LITTLE else pattern


def wording_pattern(wording: str) -> str:
    """Write a wording as a regular expression over the text of a ``Spoken``.

    Little words inside it may be missing when two other words hold it together; its first
    and last word never are.
    """
    words = wording.split()
    is_held = sum(word not in LITTLE and word not in ("*", *_SLOTS) for word in words) >= 2
    parts = [
        _ANY_GAP
        if word == "*"
        else _word_pattern(word, may_miss=is_held and 0 < at < len(words) - 1)
        for at, word in enumerate(words)
    ]
    return _LITTLE_GAP.join(parts)


def compile_list(lines: Iterable[Phrase], said: Collection[str]) -> Patterns:
    """Make one pattern for each label of a word list, for a talk of the words ``said``.

    Wordings that need a word nobody said are left out: to compile them all would take
    longer than to review a class.
    """
    by_label: dict[str, list[str]] = {}
    for line in lines:
        by_label.setdefault(line.label, [])
        if _may_be_heard(line.phrase, said):
            by_label[line.label].append(line.phrase)
    return {label: compile_wordings(phrases) for label, phrases in by_label.items()}


def _may_be_heard(wording: str, said: Collection[str]) -> bool:
    """Tell whether no word is missing that the wording cannot do without."""
    return all(
        word in LITTLE
        or word in ("*", *_SLOTS)
        or any("~" in choice or choice in said for choice in word.split("|"))
        for word in wording.split()
    )


def compile_wordings(wordings: Iterable[str]) -> re.Pattern[str] | None:
    """Join wordings into one pattern, the longest first; ``None`` when there are none."""
    patterns = [wording_pattern(one) for one in sorted(set(wordings), key=len, reverse=True)]
    return re.compile(rf"(?<!\S)(?:{'|'.join(patterns)})") if patterns else None


def find_wordings(spoken: Spoken, pattern: re.Pattern[str] | None) -> tuple[Hit, ...]:
    """Find every place where one of the wordings is heard, none overlapping."""
    if pattern is None:
        return ()
    return tuple(
        Hit(spoken.word_at(match.start()), spoken.word_at(match.end() - 1), match.group().strip())
        for match in pattern.finditer(spoken.text)
        if match.group()
    )
