"""Prompts to breathe, with or without the word: "exhale", "big sigh", "out as you rise".

A mark of kind ``breathing`` has ``ref`` "in", "out", "in out" or "any" (a reminder
without a phase). Holding the breath is no prompt: such words give a mark of kind
``breath_hold`` instead. Getting the breath back after the work is rest.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from reviewkit.language.lines import split_lines
from reviewkit.language.phrase_index import EMPTY, PhraseIndex, index_phrases
from reviewkit.marks.breath_patterns import Prompt, find_patterns
from reviewkit.model import Lexicon, Line, Mark, Talk

KIND = "breathing"
HOLD_KIND = "breath_hold"
LIST = "breathing"
# A bare "and out" is a prompt only this soon after a clear one.
CARRIES_MS = 14_000


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


def _built(words: Sequence[str], lists: dict[str, PhraseIndex]) -> list[Prompt]:
    """Find prompts by how they are built, apart from those that only look like one."""
    barred = [
        span for ref in ("not", "risk") for span in lists.get(ref, EMPTY).find(words)
    ]  # fmt: skip
    found = find_patterns(words)
    return [one for one in found if not _overlaps(one.first, one.last, barred)]


def read_prompts(words: Sequence[str], lexicon: Lexicon) -> tuple[Prompt, ...]:
    """Read the breathing prompts in the normalised words of one line, in order.

    Args:
        words: One utterance.
        lexicon: Its list ``breathing`` holds the phrases by phase ("in", "out", "any"),
            what only looks like a prompt ("not"), and the breath held ("risk").
    """
    lists = index_phrases(lexicon.lists.get(LIST, ()))
    found = _listed(words, lists) or _built(words, lists)
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
