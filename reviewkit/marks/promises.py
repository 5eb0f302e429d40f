"""Hear what a coach says the class will be: lengths, counts, kit, parts.

Amounts come first ("forty five seconds", "three", "twice", "a quarter of an hour"), then
the words around each amount say what it measures; an amount is claimed once. Amounts of
a story, of what is left, or taken back in the same breath are dropped.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from reviewkit.lines import split_lines
from reviewkit.marks.wording import Hit, Spoken, as_spoken, compile_wordings, find_wordings
from reviewkit.model import Lexicon, Mark, Talk
from reviewkit.numbers import find_lengths, find_numbers
from reviewkit.wordsets import word_set

KIND = "promise"
LIST = "promises"
# Kinds of amount in the order in which they may claim one.
_BY_AMOUNT = (
    "not_counted",
    "rest_rounds",
    "rest_sides",
    "warm_length",
    "cool_length",
    "part_length",
    "rest",
    "work",
    "rounds",
    "moves",
    "intervals",
)
_NO_PROMISE = word_set("not_counted part_length")
# Claims without an amount.
_PLAIN = (
    "rounds_again",
    "no_rest",
    "warm_up",
    "no_warm_up",
    "cool_down",
    "no_cool_down",
    "kit_none",
    "kit_only",
    "kit_that_is_all",
    "kit_list",
    "no_jumping",
    "no_floor",
)
_SURE = word_set("promise promised promising guarantee guaranteed always strict strictly exactly")
_HOURS = (
    (("three", "quarters", "of", "an", "hour"), 2700),
    (("a", "quarter", "of", "an", "hour"), 900),
    (("quarter", "of", "an", "hour"), 900),
    (("an", "hour", "and", "a", "half"), 5400),
    (("half", "an", "hour"), 1800),
    (("half", "hour"), 1800),
    (("an", "hour"), 3600),
)
_TIMES = {"twice": 2, "thrice": 3}
_OWNED = {"minute's": "minute", "minutes'": "minutes", "second's": "second", "seconds'": "seconds"}
_LEAST_CLASS_S = 240
# Lengths that can be meant, in seconds; "one, off we trot" is no rest of a second.
_SENSIBLE_S = {"work": (5, 300), "rest": (3, 239), "rest_sides": (3, 239), "rest_rounds": (5, 400)}
_STORY_REACH = 6
_REACH = 16
_PAUSE_MS = {"words": 1_500, "captions": 1_800, "blocks": 20_000}


@dataclass(frozen=True, slots=True)
class _Token:
    """One word, or one amount written ``#t45`` (seconds) or ``#n3``, and its words."""

    text: str
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class _Claim:
    """A claim in tokens ``first`` to ``last``; ``amount`` is the place of its amount."""

    what: str
    value: float | None
    first: int
    last: int
    amount: int | None = None


def _hours(norms: Sequence[str]) -> list[_Token]:
    """Find lengths in hours, which coaches use for whole classes."""
    found, at = [], 0
    while at < len(norms):
        for words, seconds in _HOURS:
            if tuple(norms[at : at + len(words)]) == words:
                found.append(_Token(f"#t{seconds}", at, at + len(words) - 1))
                at += len(words) - 1
                break
        at += 1
    return found


def _amounts(norms: Sequence[str]) -> dict[int, _Token]:
    """Find every amount, by its first word; the longer reading of a word wins."""
    found = _hours(norms)
    found += [_Token(f"#t{one.seconds:g}", one.first, one.last) for one in find_lengths(norms)]
    found += [_Token(f"#n{one.value:g}", one.first, one.last) for one in find_numbers(norms)]
    taken: dict[int, _Token] = {}
    used: set[int] = set()
    for token in found:
        span = set(range(token.first, token.last + 1))
        if not span & used:
            used |= span
            taken[token.first] = token
    return taken


def _tokens(norms: Sequence[str]) -> tuple[_Token, ...]:
    """Read words with every amount as one token; "twice" is "2 times"."""
    amounts = _amounts(norms)
    tokens: list[_Token] = []
    at = 0
    while at < len(norms):
        token = amounts.get(at)
        if token is not None:
            tokens.append(token)
            at = token.last + 1
            continue
        if norms[at] in _TIMES:
            tokens.append(_Token(f"#n{_TIMES[norms[at]]}", at, at))
            tokens.append(_Token("times", at, at))
        else:
            tokens.append(_Token(norms[at], at, at))
        at += 1
    return tuple(tokens)


def _patterns(lexicon: Lexicon) -> dict[str, re.Pattern[str] | None]:
    by_label: dict[str, list[str]] = {}
    for line in lexicon.lists.get(LIST, ()):
        by_label.setdefault(line.label, []).append(line.phrase)
    return {label: compile_wordings(phrases) for label, phrases in by_label.items()}


def _amount_in(tokens: Sequence[_Token], hit: Hit) -> int | None:
    """Give the place of the amount that a wording claims."""
    places = [at for at in range(hit.first, hit.last + 1) if tokens[at].text.startswith("#")]
    return places[0] if places else None


def _taken_back(tokens: Sequence[_Token], corrections: Sequence[Hit]) -> set[int]:
    """Find amounts that the coach corrects at once: "three no two rounds"."""
    amounts = [at for at, token in enumerate(tokens) if token.text.startswith("#")]
    return {
        at
        for at, following in pairwise(amounts)
        for one in corrections
        if at < one.first <= at + 3 and one.last < following <= one.last + 2
        if tokens[at].text[:2] == tokens[following].text[:2]
    }


def _in_story(hits: Sequence[Hit], at: int) -> bool:
    """Tell whether a place follows words about another day."""
    return any(
        hit.last < at <= hit.last + _STORY_REACH or hit.first <= at <= hit.last for hit in hits
    )


def _amount_claims(
    tokens: Sequence[_Token], spoken: Spoken, patterns: dict[str, re.Pattern[str] | None]
) -> list[_Claim]:
    """Say of each amount what it measures, by the first kind whose wording holds it."""
    back = _taken_back(tokens, find_wordings(spoken, patterns.get("correction")))
    claimed: dict[int, _Claim] = {}
    for label in _BY_AMOUNT:
        low, high = _SENSIBLE_S.get(label, (0, 10_000))
        for hit in find_wordings(spoken, patterns.get(label)):
            at = _amount_in(tokens, hit)
            if at is None or at in claimed:
                continue
            value = float(tokens[at].text[2:])
            if low <= value <= high:
                claimed[at] = _Claim(label, value, hit.first, hit.last, at)
    for at, token in enumerate(tokens):
        seconds = float(token.text[2:]) if token.text.startswith("#t") else 0.0
        if at not in claimed and seconds >= _LEAST_CLASS_S:
            claimed[at] = _Claim("minutes", seconds / 60, at, at, at)
    return [claim for at, claim in sorted(claimed.items()) if at not in back]


def _plain_claims(spoken: Spoken, patterns: dict[str, re.Pattern[str] | None]) -> list[_Claim]:
    """Find claims that need no amount."""
    hits = {label: find_wordings(spoken, patterns.get(label)) for label in _PLAIN}
    denied = {
        at
        for label in ("no_warm_up", "no_cool_down")
        for hit in hits[label]
        for at in range(hit.first, hit.last + 1)
    }
    return [
        _Claim(label, None, hit.first, hit.last)
        for label, found in hits.items()
        for hit in found
        if label.startswith("no_") or not denied & set(range(hit.first, hit.last + 1))
    ]


def _is_offer(label: str, hit: _Claim, offers: Sequence[Hit]) -> bool:
    """Tell whether "no jumping" is meant for some viewers only."""
    return label in ("no_jumping", "no_floor", "kit_none") and any(
        hit.first - 4 <= one.first <= hit.last + 4 for one in offers
    )


def _stretches(talk: Talk) -> Iterator[tuple[int, int, int]]:
    """Give each line with the words after it that may complete a claim begun in it.

    Yields first word and last word of the line, and the last word of the stretch.
    """
    lines = split_lines(talk)
    for at, line in enumerate(lines):
        end = line.last
        for following in lines[at + 1 : at + 5]:
            if _PAUSE_MS[talk.clock] < following.start_ms - talk.words[end].end_ms:
                break
            end = following.last
        yield line.first, line.last, min(end, line.last + _REACH)


def _mark(talk: Talk, first: int, last: int, claim: _Claim) -> Mark:
    """Make a mark of a claim; its text is the claim with some words around it."""
    words = talk.words[max(0, first - 6) : last + 7]
    is_sure = any(word.norm in _SURE for word in talk.words[max(0, first - 12) : last + 13])
    return Mark(
        KIND,
        first,
        last,
        talk.words[first].start_ms,
        talk.words[last].end_ms,
        " ".join(word.text for word in words),
        ref=claim.what,
        value=claim.value,
        weight=1.0 if is_sure else 0.8,
    )


def find_promises(talk: Talk, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Mark every claim about the class, in the order spoken.

    ``ref`` is what is claimed: ``minutes``, ``rounds``, ``rounds_again``, ``moves``,
    ``intervals``, ``work``, ``rest``, ``rest_rounds``, ``rest_sides``, ``no_rest``,
    ``warm_up``, ``warm_length``, ``no_warm_up``, ``cool_down``, ``cool_length``, ``no_cool_down``,
    ``kit_none``, ``kit_only``, ``kit_that_is_all``, ``kit_one``, ``kit_list``,
    ``no_jumping`` or ``no_floor``; ``value`` the amount, in
    seconds (whole classes: minutes) or as a count.
    """
    patterns = _patterns(lexicon)
    marks: list[Mark] = []
    taken: set[int] = set()
    for low, line_last, high in _stretches(talk):
        marks += _pairs_of_kit(talk, low, line_last, patterns)
        norms = [_OWNED.get(word.norm, word.norm) for word in talk.words[low : high + 1]]
        tokens = _tokens(norms)
        for claim in _claims(tokens, patterns):
            first, last = low + tokens[claim.first].first, low + tokens[claim.last].last
            if line_last < first or taken & _amount_words(tokens, claim, low):
                continue
            taken |= _amount_words(tokens, claim, low)
            if claim.what not in _NO_PROMISE:
                marks.append(_mark(talk, first, last, claim))
    return tuple(sorted(marks, key=lambda mark: (mark.first, mark.last)))


def _pairs_of_kit(
    talk: Talk, low: int, line_last: int, patterns: dict[str, re.Pattern[str] | None]
) -> list[Mark]:
    """Mark "one pair of", read in words because a pair is an amount as well."""
    spoken = as_spoken([word.norm for word in talk.words[low : line_last + 4]])
    return [
        _mark(talk, low + hit.first, low + hit.last, _Claim("kit_one", None, hit.first, hit.last))
        for hit in find_wordings(spoken, patterns.get("kit_one"))
        if low + hit.first <= line_last
    ]


def _amount_words(tokens: Sequence[_Token], claim: _Claim, low: int) -> set[int]:
    """Give the words of a claim's amount, none for a claim without one."""
    if claim.amount is None:
        return set()
    token = tokens[claim.amount]
    return set(range(low + token.first, low + token.last + 1))


def _claims(
    tokens: Sequence[_Token], patterns: dict[str, re.Pattern[str] | None]
) -> Iterator[_Claim]:
    """Give the claims of one stretch, stories and offers to some viewers left out."""
    spoken = as_spoken([token.text for token in tokens])
    stories = find_wordings(spoken, patterns.get("story"))
    offers = find_wordings(spoken, patterns.get("offer"))
    for claim in [*_amount_claims(tokens, spoken, patterns), *_plain_claims(spoken, patterns)]:
        is_told = _in_story(stories, claim.first)
        if not is_told and not _is_offer(claim.what, claim, offers):
            yield claim
