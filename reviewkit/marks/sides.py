"""Hear the calls that change sides inside an interval, and those that keep the side."""

from __future__ import annotations

from collections.abc import Sequence

from reviewkit.language.lines import split_lines
from reviewkit.language.wordsets import word_set
from reviewkit.marks.wording import Hit, find_wordings, index_wordings
from reviewkit.model import Lexicon, Mark, Talk, Word

LIST = "sides"
KINDS = {
    "switch": "side_switch",
    "same": "side_same",
    "turn": "side_turn",
    "late": "side_late",
}
# What a side is said of, and what stands before a side that is named by itself: "and right". A
# "right" without either is mostly a filler, and so is a "left" of time.
_SIDED = word_set("side leg legs arm arms hand foot knee hip elbow heel shoulder lead")
_BEFORE_SIDES = word_set("and the to on now your other then over side step tap back lean go swing")
_MOST_NAMING = 8
# A line of no more words that begins with "other" changes sides, whatever the other is of.
_FEW = 4
# Words that turn to the other side only where a short line begins with them: "and the left".
_MOST_WORDS = 11
_AFTER_BARE = word_set("left right now please it them over in legs arms feet hands let")
_BEFORE_TURNS = word_set(
    "and now then so okay ok right righto please good oh ah hm yes well next come on good "
    "three two one thirty twenty halfway half there here let's we go och ach er um "
    "whoops sorry aye"
)


def _turns(words: Sequence[Word], hit: Hit) -> bool:
    """Tell whether a short line begins with the words; "change the music" changes no side."""
    before = {word.norm for word in words[: hit.first]}
    after = {word.norm for word in words[hit.last + 1 : hit.last + 2]}
    is_bare = " " not in hit.text and after and not after <= _AFTER_BARE
    return len(words) <= _MOST_WORDS and before <= _BEFORE_TURNS and not is_bare


def _is_of_pair(words: Sequence[Word], hit: Hit) -> bool:
    """Tell whether "one hand on the box, other hand on the knee" places both of a pair."""
    own = [word.norm for word in words[hit.first : hit.last + 1]]
    return "other" in own[:-1] and own[-1] in {word.norm for word in words[: hit.first]}


def _named(words: Sequence[Word]) -> str:
    """Give the one side that a short line names, if it names just one."""
    own = [word.norm for word in words]
    named = {
        norm
        for at, norm in enumerate(own)
        if norm in ("left", "right")
        and (
            (at + 1 < len(own) and own[at + 1] in _SIDED)
            or (at + 1 == len(own) and at > 0 and own[at - 1] in _BEFORE_SIDES)
            or (norm == "left" and at == 0 and own[1:2] != ["over"])
        )
    }
    return named.pop() if len(own) <= _MOST_NAMING and len(named) == 1 else ""


def _begins_with_other(words: Sequence[Word]) -> bool:
    """Tell whether a line of a few words is about the other: "and the other ankle"."""
    own = [word.norm for word in words]
    while own and own[0] in _BEFORE_TURNS | {"the", "your"}:
        own.pop(0)
    return len(own) < _FEW and own[:1] == ["other"]


def find_side_calls(talk: Talk, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Mark each line with a call to change sides (``side_switch``) or not to (``side_same``).

    ``side_turn`` are short lines that begin with a side or a word of change: inside an
    interval for both sides they are most likely calls, elsewhere they say nothing.
    ``side_left`` and ``side_right`` are short lines that name one side: where an interval
    began with the other one, they change it.
    ``side_late`` are lines that own up to a late change: "oh, we never changed".
    """
    wordings = index_wordings(lexicon.lists.get(LIST, ()))
    marks = []
    for line in split_lines(talk):
        words = talk.words[line.first : line.last + 1]
        if side := _named(words):
            start, end = line.start_ms, line.end_ms
            marks.append(Mark(f"side_{side}", line.first, line.last, start, end, line.text, side))
        found = find_wordings([word.norm for word in words], wordings)
        if _begins_with_other(words) and not found.keys() & KINDS.keys():
            start, end = line.start_ms, line.end_ms
            marks.append(Mark(KINDS["turn"], line.first, line.last, start, end, line.text, "turn"))
        for label, hits in found.items():
            is_turn = label == "turn"
            if (
                label not in KINDS
                or _is_of_pair(words, hits[0])
                or (is_turn and ("switch" in found or not _turns(words, hits[0])))
            ):
                continue
            first, last = line.first + hits[0].first, line.first + hits[0].last
            start, end = talk.words[first].start_ms, talk.words[last].end_ms
            marks.append(Mark(KINDS[label], first, last, start, end, line.text, label))
    return tuple(sorted(marks, key=lambda mark: (mark.first, mark.kind)))
