"""Name each stretch of work as the coach announced it.

A move of the lexicon named around the start is the surest name; else the words after an
announcement ("next up is the ...") are taken as heard.
"""

from __future__ import annotations

from collections.abc import Sequence

from reviewkit.drafting.spans import WorkSpan
from reviewkit.language.wordsets import word_set
from reviewkit.model import Mark, Talk, Word

UNNAMED = "Move"
_ANNOUNCED_MS = 25_000
_NAMED_AFTER_MS = 10_000
_LEAST_WEIGHT = 0.15
_SURE_WEIGHT = 0.55
_PAUSE_MS = 500
_MOST_WORDS = 4
# What is said right before a move's name, longest first where one begins another.
_LEADS = tuple(
    tuple(line.split())
    for line in (
        "next up is", "next up we have", "next up", "next one is", "next one's", "next move is",
        "next is", "next it's", "then it's", "now it's", "up next is", "up next", "coming up is",
        "first up is", "first up", "first one is", "first move is", "first move", "first is",
        "second move is", "second move", "third move is", "third move", "last move is",
        "last one is", "final move is", "final one is", "number one is", "number two is",
        "number three is", "number four is", "number five is", "number six is", "we're going into",
        "going into", "moving into", "moving on to", "moving onto", "on to the", "straight into",
        "it's called", "this is called", "called the", "we start with", "starting with",
        "we'll start with", "followed by", "finish with", "finishing with", "this one is",
        "this one's", "time for", "here come the",
    )
)  # fmt: skip
_OPENERS = word_set("the a an our your my some those these with is it's that's of")
_CLOSERS = word_set(
    "and so then now but if you your we we're i it it's that's this is are for on in at to with "
    "go okay ok right let's come here there ready get set hold keep please folks everyone don't "
    "one two three four five six seven eight nine ten seconds which because like as when where "
    "from by up nice good again guys team they them not no yes just have was "
    "were can will gonna going another both same since until till while after before them us me"
)
_NO_NAME = word_set(
    "move exercise one set round side minute thing time rest middle last left right"
)


def name_spans(talk: Talk, spans: Sequence[WorkSpan], mentions: Sequence[Mark]) -> tuple[str, ...]:
    """Give a name to each span; those never named are "Move 1", "Move 2" and so on.

    Args:
        talk: The words of the class.
        spans: Stretches of work in time order.
        mentions: Marks of kind ``move``, in order of place.
    """
    names: list[str] = []
    free_ms, unnamed = 0, 0
    for span in spans:
        low = max(free_ms, span.start_ms - _ANNOUNCED_MS)
        high = min(span.end_ms, span.start_ms + _NAMED_AFTER_MS)
        name = _name(talk, low, high, mentions)
        if not name:
            unnamed += 1
            name = f"{UNNAMED} {unnamed}"
        names.append(name)
        free_ms = span.end_ms
    return tuple(names)


def _name(talk: Talk, low_ms: int, high_ms: int, mentions: Sequence[Mark]) -> str:
    near = [mark for mark in mentions if low_ms <= mark.start_ms < high_ms]
    best = max(near, key=lambda mark: (mark.weight, mark.start_ms), default=None)
    if best is not None and best.weight >= _SURE_WEIGHT:
        return best.ref
    words = [word for word in talk.words if low_ms <= word.start_ms < high_ms]
    heard = _announced(words)
    if not heard and best is not None and best.weight >= _LEAST_WEIGHT:
        return best.ref
    return heard


def _announced(words: Sequence[Word]) -> str:
    """Give the last name that follows an announcement, "" when there is none."""
    norms = [word.norm for word in words]
    for at in range(len(words) - 1, -1, -1):
        for lead in _LEADS:
            if tuple(norms[at : at + len(lead)]) == lead:
                name = _phrase(words[at + len(lead) :])
                if name:
                    return name
                break
    return ""


def _phrase(words: Sequence[Word]) -> str:
    """Give the noun phrase that words begin with, in the form of a plan's move."""
    taken: list[Word] = []
    for word in words:
        if not taken and word.norm in _OPENERS:
            continue
        has_paused = taken and word.start_ms - taken[-1].end_ms >= _PAUSE_MS
        if has_paused or word.norm in _CLOSERS or len(taken) == _MOST_WORDS:
            break
        taken.append(word)
        if word.text[-1:] in (".", ",", "?", "!"):
            break
    said = [word.norm for word in taken]
    if (
        not said
        or set(said) <= _NO_NAME
        or not all(one.strip("'-").isalpha() for one in " ".join(said).replace("-", " ").split())
    ):
        return ""
    return " ".join(said).capitalize()
