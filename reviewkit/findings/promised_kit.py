"""Judge what was said about kit against what the class needed."""

from __future__ import annotations

from collections.abc import Sequence

from reviewkit.findings.claims import claims, is_for_class, name_words, verdict_on
from reviewkit.findings.kit_needed import FETCHED, LISTS, NAMED, NO_KIT, NONE, SECOND, needed_kit
from reviewkit.findings.kit_unused import unused_kit
from reviewkit.findings.places import (
    done_intervals,
    start_ms,
    work_start_ms,
)
from reviewkit.language.wordsets import word_set
from reviewkit.model import HeardClass, Mark, Promise

_LIST_REACH_MS = 15_000
# Words between what begins a list of kit and what closes it.
_LIST_REACH = 8
# Words between a list of kit and the words that close or open it.
_LIST_BEFORE = 16
_LIST_AFTER = 12
# Words that rule out more than weights.
_BEYOND_WEIGHTS = ("no mat", "no chair", "no band", "nothing", "no kit", "equipment", "no cushion")
# "Nothing else" rules kit out where kit is named; "that's it" may be praise.
_RULES_OUT = word_set("nothing nowt else")
_MORE = "more was needed than was named"
# Words that begin a list of kit, so close before it.
_LISTS_KIT = word_set(
    "need want bring get grab have use using just only no nae fetch require required one two all"
)
_LISTS_WITHIN = 7
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
        if mark.kind == NAMED and mark.start_ms < begin and mark.start_ms - at_ms < _LIST_REACH_MS
    )


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


def _judge_none(heard: HeardClass, mark: Mark, needed: Sequence[Mark]) -> Promise:
    """Judge "no kit": broken by kit that came to be needed, or by a move made with it.

    Kit named beside it is let through: "no bands, just the dumbbells".
    """
    named = _named_before(heard, mark.start_ms)
    later = [one for one in needed if one.kind == NAMED]
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
    kind = FETCHED if ends_list else NAMED
    return any(
        mark.kind == kind
        and claim.first - _LIST_BEFORE <= mark.first
        and mark.last <= claim.last + _LIST_AFTER
        for mark in heard.marks
    )


def _judge_only(heard: HeardClass, claim: Mark, needed: Sequence[Mark]) -> Promise | None:
    """Judge a list of kit: broken by kit of another family or by a second one."""
    if not _is_about_kit(heard, claim):
        return None
    named = _named_before(heard, claim.start_ms)
    said = ", ".join(sorted(named - NO_KIT)) or "what any room has"
    beyond = [one for one in needed if claim.ref != "kit_one" or one.kind == SECOND]
    if beyond:
        return verdict_on("equipment", claim, beyond[0].text, "broken", _MORE, said=said)
    return verdict_on("equipment", claim, said, "kept", said=said)


def _judge_named(heard: HeardClass, needed: Sequence[Mark]) -> Promise | None:
    """Judge what was named to be got ready: broken by what was needed beside it.

    Who names a chair promises, though not in so many words, that a chair will do; and who
    names nothing, that nothing is needed.
    """
    if not needed:
        return None
    done = done_intervals(heard)
    begin = start_ms(done[0]) if done else heard.talk.length_ms
    listed = [
        mark
        for mark in heard.marks
        if mark.kind == NAMED
        and mark.start_ms < begin
        and mark.ref not in NO_KIT
        and _is_of_list(heard, mark)
    ]
    named = _named_before(heard, begin) - NO_KIT
    said = ", ".join(sorted(named)) or "no kit named"
    claim = listed[0] if listed else needed[0]
    return verdict_on("equipment", claim, needed[0].text, "broken", _MORE, said=said)


def _is_of_list(heard: HeardClass, mark: Mark) -> bool:
    """Tell kit that is to be got ready, or left alone, from kit in a story: "I bought a bench"."""
    before = heard.talk.words[max(0, mark.first - _LISTS_WITHIN) : mark.first]
    return any(word.norm in _LISTS_KIT for word in before)


def _judge_unused(unused: Sequence[Mark]) -> Promise | None:
    """Judge what viewers were to get ready: broken by kit that was never used."""
    if not unused:
        return None
    why = "it was never used"
    kit = unused[0].ref
    return verdict_on("equipment", unused[0], f"{kit} not used", "broken", why, said=kit)


def judge_kit(heard: HeardClass) -> list[Promise]:
    """Judge every promise about kit, made before the work began or by naming none."""
    needed = needed_kit(heard)
    none = [
        _judge_none(heard, mark, needed)
        for mark in claims(heard, NONE)
        if is_for_class(heard, mark)
    ]
    only = [
        _judge_only(heard, mark, needed)
        for mark in claims(heard, *LISTS)
        if is_for_class(heard, mark)
    ]
    judged = [*none, *(one for one in only if one is not None)]
    if all(one.verdict != "broken" for one in judged):
        named = _judge_named(heard, needed) or _judge_unused(unused_kit(heard))
        judged += [named] if named is not None else []
    return judged
