"""Tell kit that viewers were to get ready and that the class then never used.

A mat is used without a word and a towel may only wipe a brow, so silence alone tells
little. Each kind of kit named before the work gets its odds from signs of use (is it
spoken of in the work, is other kit, has a planned move its name, is it put back in the
end) and from the words it was asked for with, by weights fitted on labelled classes.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from reviewkit.findings.claims import name_words
from reviewkit.findings.kit_needed import FETCHED, NAMED, NO_KIT, is_denied
from reviewkit.findings.places import done_intervals, start_ms, work_end_ms
from reviewkit.findings.weighing import Surroundings, odds_of, those_that_hold
from reviewkit.language.matching import stem
from reviewkit.language.wordsets import word_set
from reviewkit.model import HeardClass, Mark

UNUSED_WEIGHTS = "kit_unused"
# Kit spoken of so often in the work was used.
_SPOKEN_OF = 2
_BEFORE, _AFTER = 7, 8
# What is said of kit that was not used, so near it.
_NEVER, _NEVER_WITHIN = word_set("never unused untouched didn't back away bother needed"), 8


@dataclass(frozen=True, slots=True)
class Readied:
    """Kit named before the work, by its first mention, and the signs that it stayed unused."""

    mark: Mark
    signs: Mapping[str, float]


def unused_kit(heard: HeardClass) -> tuple[Mark, ...]:
    """Give the first mentions of kit that was never used, the surest first."""
    weights = heard.lexicon.weights.get(UNUSED_WEIGHTS)
    if weights is None:
        return ()
    told = [(odds_of(one.signs, weights), one.mark) for one in find_readied(heard)]
    sure = [(odds, mark) for odds, mark in told if odds > 0]
    return tuple(mark for _, mark in sorted(sure, key=lambda one: (-one[0], one[1].first)))


def find_readied(heard: HeardClass) -> list[Readied]:
    """Give every kind of kit that was named before anything was done, and hardly after.

    Kit that was only named to say that nobody needs it is left out.
    """
    done = done_intervals(heard)
    if not done:
        return []
    begin, over = start_ms(done[0]), work_end_ms(heard)
    lines = Surroundings(heard)
    named = [one for one in heard.marks if one.kind == NAMED and one.ref not in NO_KIT]
    ready: dict[str, list[Mark]] = {}
    for mark in named:
        if mark.start_ms < begin and not is_denied(lines.of(mark)[0]):
            ready.setdefault(mark.ref, []).append(mark)
    planned = {stem(word) for row in heard.plan.rows for word in name_words(row.move)}
    during = Counter(one.ref for one in named if begin <= one.start_ms < over)
    return [
        Readied(
            marks[0],
            {
                **_signs_of_use(heard, named, kind, (begin, over)),
                **_signs_of_wording(heard, marks, lines),
                **those_that_hold(
                    {
                        f"kit: {kind}": True,
                        "in a planned move": not planned.isdisjoint(_stems(heard, marks)),
                        "other kit is spoken of": bool(during.keys() - {kind}),
                        "other kit was named": len(ready) > 1,
                    }
                ),
            },
        )
        for kind, marks in ready.items()
        if during[kind] < _SPOKEN_OF
    ]


def _stems(heard: HeardClass, marks: Iterable[Mark]) -> set[str]:
    """Give the stems of the words that name kit."""
    return {
        stem(word.norm) for mark in marks for word in heard.talk.words[mark.first : mark.last + 1]
    }


def _signs_of_use(
    heard: HeardClass, named: Sequence[Mark], kind: str, work: tuple[int, int]
) -> dict[str, float]:
    """Say how often kit is spoken of in the work, and how after it."""
    own = [one for one in named if one.ref == kind]
    during = sum(work[0] <= one.start_ms < work[1] for one in own)
    norms = [word.norm for word in heard.talk.words]
    after = [one for one in own if work[0] <= one.start_ms]
    is_never = any(
        not _NEVER.isdisjoint(norms[max(0, one.first - _NEVER_WITHIN) : one.last + _NEVER_WITHIN])
        for one in after
    )
    return those_that_hold(
        {
            "silence": during == 0,
            "spoken of once": during == 1,
            "spoken of after": during == 0 and bool(after),
            "never, or back": is_never,
            "never, and nothing else": is_never and during == 0,
        }
    )


def _signs_of_wording(
    heard: HeardClass, marks: Sequence[Mark], lines: Surroundings
) -> dict[str, float]:
    """Say how it was asked for, and with which words around it."""
    fetched = {one.first: one.weight for one in heard.marks if one.kind == FETCHED}
    signs = {
        "sent for": any(fetched.get(one.first, 0) >= 1 for one in marks),
        "offered": any(0 < fetched.get(one.first, 0) < 1 for one in marks),
        "named again": len(marks) > 1,
    }
    for mark in marks:
        before, after = lines.of(mark)
        signs |= {f"before: {stem(word)}": True for word in before[-_BEFORE:]}
        signs |= {f"after: {stem(word)}": True for word in after[:_AFTER]}
    return those_that_hold(signs)
