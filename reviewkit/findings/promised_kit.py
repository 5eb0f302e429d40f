"""Judge what was said about kit against what the class needed."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from reviewkit.findings.asked_for import is_owned_up
from reviewkit.findings.claims import claims, is_for_class, name_words, verdict_on
from reviewkit.findings.places import (
    done_intervals,
    end_ms,
    start_ms,
    work_end_ms,
    work_start_ms,
)
from reviewkit.language.matching import stem
from reviewkit.language.wordsets import word_set
from reviewkit.model import HeardClass, Mark, Promise

# Kit that any room has and that nobody counts as kit.
_ALWAYS = "always"
# Nor what everybody wears, when it is asked for later.
_NO_KIT = (_ALWAYS, "clothes")
_LIST_REACH_MS = 15_000
# Words between what begins a list of kit and what closes it.
_LIST_REACH = 8
# Words between a list of kit and the words that close or open it.
_LIST_BEFORE = 16
_LIST_AFTER = 12
# Words that rule out more than weights.
_BEYOND_WEIGHTS = ("no mat", "no chair", "no band", "nothing", "no kit", "equipment", "no cushion")
# What comes into a class is told by "a" and not by "the", this close before it.
_NEW = word_set("a an one some another two any each")
_KNOWN = word_set("the your my our that this those these")
_NEW_WITHIN = 4
# How soon kit that was fetched is used.
_USED_WITHIN_MS = 40_000
# "Nothing else" rules kit out where kit is named; "that's it" may be praise.
_RULES_OUT = word_set("nothing nowt else")
# How clear it must be that a coach owns up, where kit is asked for as well.
_LIKELY = 0.5
# Words that begin a list of kit, so close before it.
_LISTS_KIT = word_set(
    "need want bring get grab have use using just only no nae fetch require required one two all"
)
_LISTS_WITHIN = 7
# What is said of kit that was not used, so near it.
_PUT, _BACK = word_set("put take leave shove pop"), word_set("back away")
_NEVER = word_set("never unused untouched")
_BACK_WITHIN, _NEVER_WITHIN = 2, 8
# How far apart kit stands that may be taken instead of one another.
_OR_WITHIN = 6
_LISTS = ("kit_only", "kit_that_is_all", "kit_one", "kit_list")
# "Rope-free skip", "imaginary rope": kit in a move's name that is not there.
_PRETENDED = word_set("no imaginary invisible pretend air")
# Words in a move's name that say what it is done with.
_IN_NAMES = {
    "dumbbell": "dumbbell",
    "kettlebell": "kettlebell",
    "barbell": "barbell",
    "band": "band",
    "banded": "band",
    "rope": "rope",
}


def _named_before(heard: HeardClass, at_ms: int) -> frozenset[str]:
    """Give the families of kit named around a claim, before the work begins."""
    begin = work_start_ms(heard)
    return frozenset(
        mark.ref
        for mark in heard.marks
        if mark.kind == "kit_named"
        and mark.start_ms < begin
        and mark.start_ms - at_ms < _LIST_REACH_MS
    )


def _asked_later(heard: HeardClass) -> list[Mark]:
    """Give the calls for kit between the first start and the last end, offers left out."""
    done = done_intervals(heard)
    begin = start_ms(done[0]) if done else heard.talk.length_ms
    over = end_ms(done[-1]) if done else 0
    return [
        mark
        for mark in heard.marks
        if mark.kind in ("kit_fetched", "kit_second")
        and begin < mark.start_ms < over
        and (mark.weight >= 1.0 or is_owned_up(heard, mark.first, least=_LIKELY))
        and mark.ref not in _NO_KIT
        and (mark.kind == "kit_second" or _is_new(heard, mark))
    ]


def _is_new(heard: HeardClass, mark: Mark) -> bool:
    """Tell kit that comes as something new ("fetch a chair") from pictures ("get the broom up").

    It is new as well where the coach owns up to having promised otherwise, and where it is
    fetched and then used, though nobody has spoken of it before.
    """
    spoken = heard.talk.words[max(0, mark.first - _NEW_WITHIN) : mark.last + 1]
    told = (word.norm for word in reversed(spoken) if word.norm in _NEW | _KNOWN)
    return (
        not spoken
        or next(told, "") in _NEW
        or is_owned_up(heard, mark.first)
        or _comes_into_use(heard, mark)
    )


def _comes_into_use(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether kit is spoken of again soon after it was fetched, and never was before."""
    named = [one for one in heard.marks if one.kind == "kit_named" and one.ref == mark.ref]
    is_first = all(one.first >= mark.first for one in named)
    return is_first and any(0 < one.start_ms - mark.end_ms <= _USED_WITHIN_MS for one in named)


def _needed_by_moves(heard: HeardClass) -> dict[str, str]:
    """Give kit that the names of moves done speak of, by family, with the move."""
    return {
        family: one.move_done
        for one in done_intervals(heard)
        for word, family in _IN_NAMES.items()
        if _is_done_with(name_words(one.move_done), word)
    }


def _is_done_with(name: Sequence[str], word: str) -> bool:
    """Tell whether a move's name asks for kit; "rope skip without rope" does not."""
    if word not in name:
        return False
    at = name.index(word)
    is_pretended = not _PRETENDED.isdisjoint(name[max(0, at - 1) : at])
    is_free = name[at + 1 : at + 2] == ["free"]
    is_without = "without" in name and word in name[name.index("without") :]
    return not (is_pretended or is_free or is_without)


def _judge_none(heard: HeardClass, mark: Mark) -> Promise:
    """Judge "no kit": broken by the first call for kit, or by a move made with it.

    Kit named beside it is let through: "no bands, just the dumbbells".
    """
    named = _named_before(heard, mark.start_ms)
    later = [
        one for one in _asked_later(heard) if one.kind == "kit_fetched" and one.ref not in named
    ]
    said = mark.text.lower()
    speaks_of_weights = "weight" in said and not any(word in said for word in _BEYOND_WEIGHTS)
    if speaks_of_weights:
        weights = ("dumbbell", "kettlebell", "barbell")
        later = [one for one in later if one.ref in weights]
    if later:
        return verdict_on("equipment", mark, later[0].text, "broken", "kit was needed", said="none")
    moves = {
        family: move for family, move in _needed_by_moves(heard).items() if family not in named
    }
    if moves:
        family, move = next(iter(moves.items()))
        why = f"{move} is done with a {family}"
        return verdict_on("equipment", mark, family, "broken", why, said="none")
    return verdict_on("equipment", mark, "none", "kept", said="none")


def _is_about_kit(heard: HeardClass, claim: Mark) -> bool:
    """Tell whether kit was named around a claim; "that's it" needs it to be asked for.

    Words that begin a list of kit tell it as well, whatever the kit is.
    """
    if any(0 < claim.first - one.last <= _LIST_REACH for one in claims(heard, "kit_list")):
        return True
    ends_list = claim.ref == "kit_that_is_all" and not _RULES_OUT & set(claim.text.lower().split())
    kinds = ("kit_fetched",) if ends_list else ("kit_named",)
    return any(
        mark.kind in kinds
        and claim.first - _LIST_BEFORE <= mark.first
        and mark.last <= claim.last + _LIST_AFTER
        for mark in heard.marks
    )


def _judge_only(heard: HeardClass, claim: Mark) -> Promise | None:
    """Judge a list of kit: broken by kit of another family or by a second one."""
    named = _named_before(heard, claim.start_ms)
    if not _is_about_kit(heard, claim):
        return None
    said = ", ".join(sorted(named - {_ALWAYS})) or "what any room has"
    later = _asked_later(heard)
    begin = work_start_ms(heard)
    had_second = any(one.kind == "kit_second" and one.start_ms < begin for one in heard.marks)
    beyond = [
        one
        for one in later
        if (one.kind == "kit_second" and not had_second)
        or (
            one.kind == "kit_fetched"
            and claim.ref != "kit_one"
            and one.ref not in named
            and not _has_instead(heard, one, named)
        )
    ]
    if beyond:
        why = "more was needed than was named"
        return verdict_on("equipment", claim, beyond[0].text, "broken", why, said=said)
    return verdict_on("equipment", claim, said, "kept", said=said)


def _judge_named(heard: HeardClass) -> Promise | None:
    """Judge what was named to be got ready: broken by kit of another family asked for later.

    Who names a chair promises, though not in so many words, that a chair will do.
    """
    done = done_intervals(heard)
    begin = start_ms(done[0]) if done else heard.talk.length_ms
    listed = [
        mark
        for mark in heard.marks
        if mark.kind == "kit_named"
        and mark.start_ms < begin
        and mark.ref != _ALWAYS
        and _is_of_list(heard, mark)
    ]
    if not listed:
        return None
    named = _named_before(heard, begin)
    beyond = [one for one in _asked_later(heard) if _is_beyond(heard, one, named)]
    if not beyond:
        return None
    said = ", ".join(sorted(named - {_ALWAYS}))
    why = "more was needed than was named"
    return verdict_on("equipment", listed[0], beyond[0].text, "broken", why, said=said)


def _is_of_list(heard: HeardClass, mark: Mark) -> bool:
    """Tell kit that is to be got ready, or left alone, from kit in a story: "I bought a bench"."""
    before = heard.talk.words[max(0, mark.first - _LISTS_WITHIN) : mark.first]
    return any(word.norm in _LISTS_KIT for word in before)


def _is_beyond(heard: HeardClass, mark: Mark, named: frozenset[str]) -> bool:
    """Tell whether kit is none that was named, nor any that a planned move speaks of."""
    if mark.kind == "kit_second":
        return is_owned_up(heard, mark.first, least=_LIKELY)
    is_planned = not _words(heard, mark).isdisjoint(_planned_words(heard))
    return mark.ref not in named and not is_planned and not _has_instead(heard, mark, named)


def _has_instead(heard: HeardClass, mark: Mark, named: frozenset[str]) -> bool:
    """Tell whether kit is asked for that was named or some other: "a bucket or a bag"."""
    others = (
        one
        for one in heard.marks
        if one.kind == "kit_named"
        and one.ref in named | {_ALWAYS}
        and abs(one.first - mark.first) <= _OR_WITHIN
    )
    words = heard.talk.words
    return any(
        "or" in {word.norm for word in words[min(one.last, mark.last) : max(one.first, mark.first)]}
        for one in others
    )


def _planned_words(heard: HeardClass) -> set[str]:
    """Give the stems of the words of the plan's moves."""
    return {stem(word) for row in heard.plan.rows for word in name_words(row.move)}


def _judge_unused(heard: HeardClass) -> Promise | None:
    """Judge what viewers were sent for: broken by kit that is put back and was never used.

    It was asked for before anything began and is spoken of again only once the work is over.
    """
    done = done_intervals(heard)
    begin = start_ms(done[0]) if done else 0
    over = work_end_ms(heard)
    named = [mark for mark in heard.marks if mark.kind == "kit_named" and mark.ref != _ALWAYS]
    planned = _planned_words(heard)
    for mark in named:
        said = _words(heard, mark)
        later = [one for one in named if begin <= one.start_ms and said & _words(heard, one)]
        if (
            mark.start_ms < begin
            and _is_of_list(heard, mark)
            and said.isdisjoint(planned)
            and later
            and over <= later[0].start_ms
            and _is_put_back(heard, later[0])
        ):
            why = "it was never used"
            return verdict_on("equipment", mark, later[0].text, "broken", why, said=mark.ref)
    return None


def _words(heard: HeardClass, mark: Mark) -> set[str]:
    """Give the stems of the words that name kit."""
    return {stem(word.norm) for word in heard.talk.words[mark.first : mark.last + 1]}


def _is_put_back(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether kit is sent back with the words: "put the step back, we never used it"."""
    words = heard.talk.words
    before = [word.norm for word in words[max(0, mark.first - _NEVER_WITHIN) : mark.first]]
    after = [word.norm for word in words[mark.last + 1 : mark.last + 1 + _NEVER_WITHIN]]
    is_back = not _BACK.isdisjoint(after[:_BACK_WITHIN])
    is_put_back = any(a in _PUT and b in _BACK for a, b in pairwise(before))
    return is_back or is_put_back or not _NEVER.isdisjoint((*before, *after))


def judge_kit(heard: HeardClass) -> list[Promise]:
    """Judge every promise about kit made before the work began."""
    named = _judge_named(heard) or _judge_unused(heard)
    none = [
        _judge_none(heard, mark) for mark in claims(heard, "kit_none") if is_for_class(heard, mark)
    ]
    only = [
        _judge_only(heard, mark) for mark in claims(heard, *_LISTS) if is_for_class(heard, mark)
    ]
    return [*none, *(one for one in (*only, named) if one is not None)]
