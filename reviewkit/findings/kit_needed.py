"""Tell kit that the class came to need, of all that is spoken of during the work.

A cushion may be fetched, offered to sore knees, a picture ("as if on a cushion") or part
of a story. Each mention of kit that nobody had named before the work gets its odds from
signs about it (was it sent for, is it spoken of again, does the line announce or explain)
and from the words around it, by weights fitted on labelled classes.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from reviewkit.findings.asked_for import is_owned_up
from reviewkit.findings.claims import claims, is_for_class, name_words
from reviewkit.findings.places import done_intervals, end_ms, interval_at, start_ms
from reviewkit.findings.weighing import Surroundings, odds_of, those_that_hold
from reviewkit.language.matching import stem
from reviewkit.language.wordsets import word_set
from reviewkit.model import HeardClass, Interval, Mark

NEEDED_WEIGHTS = "kit_needed"
NAMED, SECOND, FETCHED = "kit_named", "kit_second", "kit_fetched"
LISTS = ("kit_only", "kit_that_is_all", "kit_one", "kit_list")
NONE = "kit_none"
# Kit that any room has and what everybody wears: nobody counts it as kit.
NO_KIT = word_set("always clothes")
# What comes into a class is told by "a" and not by "the", this close before it.
_NEW = word_set("a an one some another two any each")
_KNOWN = word_set("the your my our that this those these")
_NEW_WITHIN = 4
_IF, _IF_BEFORE, _IF_AFTER = word_set("if unless"), 12, 7
_WITHOUT, _WITHOUT_WITHIN = word_set("no not without nor never don't"), 2
_DENIED_WITHIN = 5
_DENIALS = word_set(
    "no not don't won't without never nor haven't hasn't leave isn't nothing shan't"
)
_PICTURE, _PICTURE_WITHIN = word_set("like as imagine pretend though picture"), 8
# How soon kit that was sent for is spoken of again, and how soon the work with it begins.
_SOON_MS, _LATER_MS, _NEXT_MS = 40_000, 120_000, 25_000
_OFTEN = 3
# How clear it must be, at the least, that a coach owns up to something beside it.
_LIKELY = 0.5
_LABELS = ("announcement", "form", "option", "move", "point")
_BEFORE, _AFTER = 7, 5


@dataclass(frozen=True, slots=True)
class Mention:
    """Kit spoken of during the work, and the signs that the class needs it."""

    mark: Mark
    signs: Mapping[str, float]


def needed_kit(heard: HeardClass) -> tuple[Mark, ...]:
    """Give the mentions of kit that the class came to need, the surest first."""
    weights = heard.lexicon.weights.get(NEEDED_WEIGHTS)
    if weights is None:
        return ()
    told = [(odds_of(one.signs, weights), one.mark) for one in find_mentions(heard)]
    sure = [(odds, mark) for odds, mark in told if odds > 0]
    return tuple(mark for _, mark in sorted(sure, key=lambda one: (-one[0], one[1].first)))


def find_mentions(heard: HeardClass) -> list[Mention]:
    """Give every mention, during the work, of kit that was not named before it.

    Kit that was named only to say that nobody needs it counts as not named.
    """
    done = done_intervals(heard)
    if not done:
        return []
    begin, over = start_ms(done[0]), end_ms(done[-1])
    spoken = [mark for mark in heard.marks if mark.kind in (NAMED, SECOND)]
    lines = Surroundings(heard)
    said = [mark for mark in spoken if mark.start_ms < begin]
    denied = [mark for mark in said if is_denied(lines.of(mark)[0])]
    before = frozenset(mark.ref for mark in said if mark not in denied)
    ruled_out = {mark.ref for mark in denied}
    of_class = _signs_of_class(heard, before)
    planned = {stem(word) for row in heard.plan.rows for word in name_words(row.move)}
    return [
        Mention(
            mark,
            {
                **of_class,
                **_signs_of_place(heard, mark, done),
                **_signs_of_use(heard, mark, spoken, planned),
                **those_that_hold({"denied before the work": mark.ref in ruled_out}),
                **_signs_of_wording(heard, mark, lines.of(mark), of_class),
            },
        )
        for mark in spoken
        if begin < mark.start_ms < over and mark.ref not in before | NO_KIT
    ]


def is_denied(before: Sequence[str]) -> bool:
    """Tell by the words before kit whether it is said not to be needed: "leave the chairs"."""
    return not _DENIALS.isdisjoint(before[-_DENIED_WITHIN:])


def _signs_of_class(heard: HeardClass, before: frozenset[str]) -> dict[str, float]:
    """Say what was promised of kit, and whether any was named before the work."""
    none, only = (
        any(is_for_class(heard, mark) for mark in claims(heard, *kinds))
        for kinds in ((NONE,), LISTS)
    )
    return those_that_hold(
        {
            "class: no kit promised": none,
            "class: list of kit": only,
            "class: either": none or only,
            "class: kit named": bool(before - NO_KIT),
        }
    )


def _signs_of_place(heard: HeardClass, mark: Mark, done: Sequence[Interval]) -> dict[str, float]:
    """Say where in the class it is spoken of."""
    within = interval_at(heard, mark.start_ms)
    following = (start_ms(one) - mark.start_ms for one in done if start_ms(one) >= mark.start_ms)
    return those_that_hold(
        {
            "inside an interval": within is not None,
            "right before one": within is None and next(iter(following), _NEXT_MS) < _NEXT_MS,
        }
    )


def _signs_of_use(
    heard: HeardClass, mark: Mark, spoken: Iterable[Mark], planned: set[str]
) -> dict[str, float]:
    """Say whether it is spoken of again, and whether the plan's moves speak of it."""
    own = [one for one in spoken if one.ref == mark.ref and one.kind == NAMED]
    waits = [one.start_ms - mark.end_ms for one in own if one.first > mark.last]
    words = {stem(word.norm) for word in heard.talk.words[mark.first : mark.last + 1]}
    return those_that_hold(
        {
            "again soon": any(wait <= _SOON_MS for wait in waits),
            "again later": any(wait <= _LATER_MS for wait in waits),
            "again often": len(waits) >= _OFTEN,
            "for the first time": all(one.first >= mark.first for one in own),
            "in a planned move": not words.isdisjoint(planned),
        }
    )


def _signs_of_wording(
    heard: HeardClass,
    mark: Mark,
    line: tuple[list[str], list[str]],
    of_class: Mapping[str, float],
) -> dict[str, float]:
    """Say how it is spoken of, and with which words around it."""
    before, after = line
    kind = SECOND if mark.kind == SECOND else FETCHED
    fetched = [one.weight for one in heard.marks if one.kind == kind and one.first == mark.first]
    close = heard.talk.words[max(0, mark.first - _NEW_WITHIN) : mark.first]
    article = next((w.norm for w in reversed(close) if w.norm in _NEW | _KNOWN), "")
    is_new, is_again = article in _NEW, mark.kind == SECOND
    labels = Counter(
        one.kind
        for one in heard.marks
        if one.kind in _LABELS and one.first <= mark.last and mark.first <= one.last
    )
    signs = {
        "another one": is_again,
        "a": is_new,
        "a, where none was promised": is_new and bool(of_class.get("class: no kit promised")),
        "a, beside a list": is_new and bool(of_class.get("class: list of kit")),
        "sent for": max(fetched, default=0) >= 1,
        "offered": 0 < max(fetched, default=0) < 1,
        "if": not _IF.isdisjoint((*before[-_IF_BEFORE:], *after[:_IF_AFTER])),
        "ruled out": not _WITHOUT.isdisjoint(before[-_WITHOUT_WITHIN:]),
        "picture": not _PICTURE.isdisjoint(before[-_PICTURE_WITHIN:]),
        "owned up": is_owned_up(heard, mark.first),
        "perhaps owned up": is_owned_up(heard, mark.first, least=_LIKELY),
        **{f"in {label}": bool(labels[label]) for label in _LABELS},
        **{f"before: {stem(word)}": True for word in before[-_BEFORE:]},
        **{f"after: {stem(word)}": True for word in after[:_AFTER]},
    }
    return those_that_hold(signs)
