"""Prompts to breathe, with or without the word: "exhale", "big sigh", "out as you rise".

A mark of kind ``breathing`` has ``ref`` "in", "out", "in out" or "any" (a reminder
without a phase). Holding the breath is no prompt: such words give a mark of kind
``breath_hold`` instead. Getting the breath back after the work is rest.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from reviewkit.language.lines import split_lines
from reviewkit.language.numbers import find_numbers
from reviewkit.language.phrase_index import EMPTY, PhraseIndex, index_phrases
from reviewkit.language.wordsets import word_set
from reviewkit.model import Lexicon, Line, Mark, Talk

KIND = "breathing"
HOLD_KIND = "breath_hold"
LIST = "breathing"
# A bare "and out" is a prompt only this soon after a clear one.
CARRIES_MS = 14_000
_OPENS = word_set(
    "and then so now nice big long slow lovely again good okay right short all sharp strong deep "
    "let's yes soft it air"
)
_WITH = word_set("as when while on")
_SUBJECTS = word_set("you they it the your we i its she he a each every both my one")


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


def _overlaps(first: int, last: int, spans: Sequence[tuple[int, int]]) -> bool:
    return any(a <= last and first <= b for a, b in spans)


def _listed(words: Sequence[str], lists: dict[str, PhraseIndex]) -> list[Prompt]:
    """Find the phrases of the list, apart from those that only look like a prompt."""
    okay = lists.get("okay", EMPTY).find(words)
    holds = [span for span in lists.get("risk", EMPTY).find(words) if not _overlaps(*span, okay)]
    if holds:
        return [Prompt(first, last, "", is_hold=True) for first, last in holds]
    barred = [span for span in lists.get("not", EMPTY).find(words) if not _overlaps(*span, okay)]
    found = [Prompt(first, last, "any") for first, last in okay]
    for phase in ("in", "out", "any"):
        for first, last in lists.get(phase, EMPTY).find(words):
            if not _overlaps(first, last, [*barred, *((p.first, p.last) for p in found)]):
                found.append(Prompt(first, last, phase))
    return found


def _phases(words: Sequence[str]) -> Iterator[int]:
    """Give the places of "in" and "out" that open a clause."""
    for at, word in enumerate(words):
        if word in ("in", "out") and all(before in _OPENS for before in words[:at]):
            yield at


def _patterned(words: Sequence[str]) -> list[Prompt]:
    """Find "out as you rise", "out on the up", "in for four", "in to open out to close"."""
    found = []
    for at in _phases(words):
        nxt = words[at + 1] if at + 1 < len(words) else ""
        after = words[at + 2] if at + 2 < len(words) else ""
        is_timed = nxt in _WITH and (after in _SUBJECTS or nxt == "on")
        other = "out" if words[at] == "in" else "in"
        is_paired = other in words[at + 1 :] and nxt in ("to", "for", "up", "through")
        is_counted = (nxt == "for" and bool(find_numbers([after]))) or (
            nxt == "two" and after == "three"
        )
        if is_timed or is_paired or is_counted:
            phase = "in out" if other in words[at + 1 :] else words[at]
            found.append(Prompt(at, min(at + 2, len(words) - 1), phase))
            break
    return found


def _bare(words: Sequence[str]) -> list[Prompt]:
    """Find a line that says only "in", "and out" or "out and in"."""
    told = [word for word in words if word in ("in", "out")]
    if not told or len(words) > 5:
        return []
    if all(word in _OPENS or word in ("in", "out", "the") for word in words):
        at = next(i for i, word in enumerate(words) if word in ("in", "out"))
        return [Prompt(at, len(words) - 1, " ".join(dict.fromkeys(told)), is_bare=True)]
    return []


def read_prompts(words: Sequence[str], lexicon: Lexicon) -> tuple[Prompt, ...]:
    """Read the breathing prompts in the normalised words of one line, in order.

    Args:
        words: One utterance.
        lexicon: Its list ``breathing`` holds the phrases by phase ("in", "out", "any"),
            what only looks like a prompt ("not"), and the breath held ("risk").
    """
    found = _listed(words, index_phrases(lexicon.lists.get(LIST, ())))
    if not found:
        found = _patterned(words) or _bare(words)
    return tuple(sorted(found, key=lambda prompt: (prompt.first, prompt.last)))


def _mark(talk: Talk, line: Line, prompts: tuple[Prompt, ...]) -> Mark:
    first = line.first + prompts[0].first
    last = line.first + max(prompt.last for prompt in prompts)
    words = talk.words[first : last + 1]
    phases = " ".join(dict.fromkeys(prompt.phase for prompt in prompts))
    named = [phase for phase in ("in", "out") if phase in phases.split()]
    return Mark(
        kind=HOLD_KIND if prompts[0].is_hold else KIND,
        first=first,
        last=last,
        start_ms=words[0].start_ms,
        end_ms=words[-1].end_ms,
        text=line.text,
        ref="" if prompts[0].is_hold else " ".join(named) or "any",
        weight=0.5 if prompts[0].is_bare else 1.0,
    )


def _sounds(talk: Talk) -> Iterator[Mark]:
    """Give the breath sounds that the transcript writes in brackets."""
    for at, word in enumerate(talk.words):
        if word.is_sound and any(part in word.norm for part in ("hal", "breath", "sigh", "blow")):
            phase = "in" if "inhal" in word.norm else "out" if "exhal" in word.norm else "any"
            yield Mark(KIND, at, at, word.start_ms, word.end_ms, word.text, phase, None, 0.8)


def find_breathing(talk: Talk, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Find every breathing prompt of a class, one mark for a line, in time order."""
    marks = list(_sounds(talk))
    for line in split_lines(talk):
        words = [
            "" if word.is_sound else word.norm for word in talk.words[line.first : line.last + 1]
        ]
        prompts = read_prompts(words, lexicon)
        if prompts:
            marks.append(_mark(talk, line, prompts))
    marks.sort(key=lambda mark: (mark.first, mark.last))
    return tuple(mark for mark in marks if mark.weight > 0.5 or _is_carried(mark, marks))


def _is_carried(mark: Mark, marks: Sequence[Mark]) -> bool:
    """Tell whether a bare "in" or "out" stands near a clear prompt or its counterpart."""
    clear = (other for other in marks if other.weight > 0.5 and other.kind == KIND)
    if any(abs(other.start_ms - mark.start_ms) <= CARRIES_MS for other in clear):
        return True
    bare = [other for other in marks if other.weight <= 0.5]
    return any(
        mark in (a, b) and a.ref != b.ref and b.start_ms - a.end_ms <= CARRIES_MS
        for a, b in pairwise(bare)
    )
