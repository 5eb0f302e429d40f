"""Hear kit: what is named, what is asked for during the class, what goes beyond it."""

from __future__ import annotations

from collections.abc import Sequence

from reviewkit.language.lines import split_lines
from reviewkit.language.wordsets import word_set
from reviewkit.marks.wording import Hit, find_wordings, index_wordings
from reviewkit.model import Lexicon, Line, Mark, Talk

NAMED = "kit_named"
FETCHED = "kit_fetched"
SECOND = "kit_second"
KIT_LIST = "equipment"
WORDS_LIST = "promises"
# Farthest that "grab", "you need" may stand before the kit.
_FETCH_REACH = 5
_CHOICE_REACH = 7
# "If your knees are tender put the fold of a blanket under them"; "grab one, if you've got one".
_IF_BEFORE = 12
_IF = word_set("if unless")
_POSES = word_set("pressing presser pose squat squats dip dips position top stretch twist")
_WITHOUT = word_set("no not without nor never don't")
# "Like you carry a tray"; who else fetches, and what nobody can: "let me get a rag", "you
# couldn't get a piece of paper under it".
_PICTURE_WITHIN, _PICTURE = 8, word_set("like as imagine pretend though picture")
_OTHERS = word_set("me lemme i i'll he she they couldn't can't")
# Kit behind these is a place: "up you get, behind the chair".
_PLACES, _PLACE_WITHIN = word_set("behind beside onto off from around round"), 2
# What is to be fetched on another day: "next week bring a rope".
_ANOTHER_DAY, _DAY_WITHIN = word_set("week tomorrow monday tuesday wednesday thursday friday"), 12
_FEET = word_set("foot feet")
_STANDS_FOR_IT = word_set("one it them")
# How far from the kit a coach may own up to having promised otherwise.
_CONFESS_REACH = 12
_ASKED = 1.0
_OFFERED = 0.3


def _mark(talk: Talk, kind: str, hit: Hit, low: int, family: str, weight: float) -> Mark:
    first, last = low + hit.first, low + hit.last
    around = talk.words[max(0, first - 8) : last + 7]
    return Mark(
        kind,
        first,
        last,
        talk.words[first].start_ms,
        talk.words[last].end_ms,
        " ".join(word.text for word in around),
        ref=family,
        weight=weight,
    )


def _is_pose(norms: Sequence[str], hit: Hit) -> bool:
    """Tell whether kit only lends its name: "chair pose", "table top", "the ball of the foot"."""
    after = norms[hit.last + 1 : hit.last + 4]
    return bool(_POSES & set(after[:1])) or (after[:1] == ["of"] and bool(_FEET & set(after)))


def _is_only_named(norms: Sequence[str], hit: Hit) -> bool:
    """Tell whether kit is a likeness, a place, or of another day, and not to be fetched now."""
    windows = (
        (_PICTURE, _PICTURE_WITHIN),
        (_PLACES, _PLACE_WITHIN),
        (_ANOTHER_DAY, _DAY_WITHIN),
    )
    return any(
        words & set(norms[max(0, hit.first - reach) : hit.first]) for words, reach in windows
    )


def _is_for_viewers(norms: Sequence[str], call: Hit) -> bool:
    """Tell a call for kit from what the coach or somebody else fetches."""
    return call.first == 0 or norms[call.first - 1] not in _OTHERS


def _is_ruled_out(norms: Sequence[str], hit: Hit) -> bool:
    """Tell whether kit is named only to say that it is not needed: "no bench no bands"."""
    return bool(_WITHOUT & set(norms[max(0, hit.first - 2) : hit.first]))


def _is_near(hits: Sequence[Hit], at: Hit, before: int, after: int) -> bool:
    return any(at.first - before <= one.last and one.first <= at.last + after for one in hits)


def _fetches(hits: Sequence[Hit], kit: Hit) -> bool:
    """Tell whether kit is asked for: the call comes first and close before it."""
    return any(0 <= kit.first - one.last - 1 <= _FETCH_REACH for one in hits)


def _is_fetched_after(norms: Sequence[str], hits: Sequence[Hit], kit: Hit) -> bool:
    """Tell whether kit is named and then asked for: "wanting a chair, go and fetch one"."""
    return any(
        0 <= one.first - kit.last - 1 <= _FETCH_REACH
        and not _STANDS_FOR_IT.isdisjoint(norms[one.last : one.last + 2])
        for one in hits
    )


def _is_supposed(talk: Talk, line: Line, hit: Hit) -> bool:
    """Tell whether kit is only for those of whom something holds, said before it or right after.

    What is said after it may be a line of its own.
    """
    norms = [word.norm for word in talk.words[line.first : line.last + 2]]
    goes_on = len(norms) - hit.last <= _CHOICE_REACH + 1 and norms[-1] in _IF
    before = norms[max(0, hit.first - _IF_BEFORE) : hit.first]
    after = norms[hit.last + 1 : hit.last + 1 + _CHOICE_REACH]
    return goes_on or not _IF.isdisjoint((*before, *after))


def find_kit(talk: Talk, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Mark every mention of kit, in the order spoken.

    ``kit_named`` is any mention, ``kit_fetched`` one that asks viewers to get it
    (``weight`` below 1 when it is only offered), ``kit_second`` another pair or size;
    ``ref`` is the family of the kit ("dumbbell").
    """
    families = index_wordings(lexicon.lists.get(KIT_LIST, ()))
    words = index_wordings(lexicon.lists.get(WORDS_LIST, ()))
    marks: list[Mark] = []
    for line in split_lines(talk):
        norms = [word.norm for word in talk.words[line.first : line.last + 1]]
        said = find_wordings(norms, words)
        calls = [
            hit
            for label in ("kit_fetch", "kit_list")
            for hit in said.get(label, ())
            if _is_for_viewers(norms, hit)
        ]
        confessed = said.get("confession", ())
        choices = [
            hit
            for label in ("kit_choice", "offer")
            for hit in said.get(label, ())
            if norms[hit.last : hit.last + 2] != ["instead", "of"]
        ]
        for family, hits in find_wordings(norms, families).items():
            for hit in hits:
                owned_up = _is_near(confessed, hit, _CONFESS_REACH, _CONFESS_REACH)
                if _is_pose(norms, hit) or (_is_ruled_out(norms, hit) and not owned_up):
                    continue
                marks.append(_mark(talk, NAMED, hit, line.first, family, _ASKED))
                if _is_only_named(norms, hit) and not owned_up:
                    continue
                if owned_up or _fetches(calls, hit) or _is_fetched_after(norms, calls, hit):
                    offered = not owned_up and (
                        _is_near(choices, hit, _CHOICE_REACH, _CHOICE_REACH)
                        or _is_supposed(talk, line, hit)
                    )
                    weight = _OFFERED if offered else _ASKED
                    marks.append(_mark(talk, FETCHED, hit, line.first, family, weight))
        for hit in said.get("kit_second", ()):
            offered = _is_near(choices, hit, _CHOICE_REACH, _CHOICE_REACH)
            owned_up = _is_near(confessed, hit, _CONFESS_REACH, _CONFESS_REACH)
            is_asked = owned_up or (not offered and _is_near(calls, hit, _FETCH_REACH, 0))
            weight = _ASKED if is_asked else _OFFERED
            marks.append(_mark(talk, SECOND, hit, line.first, "second", weight))
    return tuple(sorted(marks, key=lambda mark: (mark.first, mark.last, mark.kind)))
