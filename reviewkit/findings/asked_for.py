"""Find where the talk asks for what a class was to do without: a jump, the floor, a burpee.

What is said is read word by word and not by lines, as captions have no full stops. A
mention that is denied, left to the viewer or part of a picture asks for nothing. One
mention alone may be chat; with a second one, with a word that goes with the thing, or
beside a confession ("I know what I said"), it was asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reviewkit.findings.places import work_start_ms
from reviewkit.language.wordsets import word_set
from reviewkit.model import HeardClass, Mark

_CONFESSION = "confession"
_DENIED_WITHIN, _OPEN_WITHIN, _PICTURE_WITHIN = 3, 6, 3
_DENIED = word_set(
    "no not don't never without nor isn't doesn't didn't won't can't nobody stop no-one"
)
_OPEN = word_set("if or option instead could might unless prefer rather version don't")
_PICTURE = word_set("like as imagine pretend")
_AGAIN_WITHIN = 12
_BESIDE = 5
_CONFESSED_WITHIN = 22
_AROUND = 5


@dataclass(frozen=True, slots=True)
class Sought:
    """What a thing is called: single words, and words beside one that show it is meant.

    ``kind`` names the marks that ask for the thing by themselves; empty without any.
    """

    names: frozenset[str]
    beside: frozenset[str]
    kind: str = ""


def asked_at(heard: HeardClass, sought: Sought, after_ms: int = 0) -> tuple[int, str] | None:
    """Give when and by which words a thing is first asked for, once the work began and after."""
    words, begin = heard.talk.words, max(after_ms, work_start_ms(heard))
    norms = [word.norm for word in words]
    sure = {mark.first for mark in heard.marks if mark.kind == sought.kind}
    named = sure | {at for at, norm in enumerate(norms) if norm in sought.names}
    asked = [at for at in sorted(named) if begin <= words[at].start_ms and _is_meant(norms, at)]
    for nth, at in enumerate(asked):
        around = norms[max(0, at - _BESIDE) : at] + norms[at + 1 : at + 1 + _BESIDE]
        is_again = any(other - at <= _AGAIN_WITHIN for other in asked[nth + 1 :])
        if at in sure or is_again or is_owned_up(heard, at) or not sought.beside.isdisjoint(around):
            said = words[max(0, at - _AROUND) : at + _AROUND + 1]
            return words[at].start_ms, " ".join(word.text for word in said)
    return None


def is_owned_up(heard: HeardClass, at: int, *, least: float = 1.0) -> bool:
    """Tell whether the coach owns up, near a word, to having promised otherwise.

    ``least`` is how clear that must be: below 1 where something else speaks for it too.
    """
    return any(
        mark.weight >= least and abs(mark.first - at) <= _CONFESSED_WITHIN
        for mark in confessions(heard)
    )


def confessions(heard: HeardClass) -> tuple[Mark, ...]:
    """Give the words in which the coach owns up to something, or may do."""
    return tuple(mark for mark in heard.marks if mark.kind == _CONFESSION)


def _is_meant(norms: Sequence[str], at: int) -> bool:
    """Tell whether a mention is none that is denied, left to the viewer, or a likeness."""
    windows = ((_DENIED, _DENIED_WITHIN), (_OPEN, _OPEN_WITHIN), (_PICTURE, _PICTURE_WITHIN))
    return all(words.isdisjoint(norms[max(0, at - within) : at]) for words, within in windows)
