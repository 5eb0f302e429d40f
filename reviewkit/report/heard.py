"""Everything heard, for showing: the marks, and the words behind findings as marks."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator

from reviewkit.model import Evidence, Mark, Review


def heard_marks(review: Review) -> tuple[Mark, ...]:
    """Give the marks of a class and one for each piece of evidence, in order of place.

    A point's words are of the kind of the point, those of prompts ``breathing`` or
    ``option``. What is both a mark and evidence appears twice.
    """
    starts = [word.start_ms for word in review.heard.talk.words]
    found = (evidence_mark(review, starts, kind, one) for kind, one in _evidence(review))
    marks = (*review.heard.marks, *(mark for mark in found if mark))
    return tuple(sorted(marks, key=lambda mark: (mark.first, mark.last, mark.kind)))


def _evidence(review: Review) -> Iterator[tuple[str, Evidence]]:
    for move in review.findings.moves:
        for point in move.points:
            yield from ((point.kind, one) for one in point.evidence)
        yield from (("breathing", one) for one in move.breathing.evidence)
        yield from (("option", one) for one in move.options.evidence)


def evidence_mark(review: Review, starts: list[int], kind: str, evidence: Evidence) -> Mark | None:
    """Find the words of evidence by the moment they begin and their number.

    Args:
        review: Where they were said.
        starts: When each word of the talk begins.
        kind: What to call them.
        evidence: What was found.
    """
    words = review.heard.talk.words
    first = bisect_left(starts, evidence.at_ms)
    last = min(first + max(len(evidence.text.split()), 1), len(words)) - 1
    if last < first:
        return None
    return Mark(kind, first, last, words[first].start_ms, words[last].end_ms, evidence.text)
