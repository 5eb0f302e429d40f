"""Find talk that says once more what was said before, and that nothing else is lost with.

A line may go where an earlier line has the same words, little ones apart, and where every
point, breath and option that it gives was also given earlier, in talk that stays.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from reviewkit.findings.places import interval_at
from reviewkit.language.lines import split_lines
from reviewkit.language.matching import fold_words, stem
from reviewkit.language.overlap import overlaps
from reviewkit.language.wordsets import word_set
from reviewkit.measures import CUE_LABELS
from reviewkit.model import Evidence, Line, Mark, Review
from reviewkit.report.heard import evidence_mark

# A line of fewer telling words ("and again") is no repetition of anything.
FEWEST_WORDS = 3
# Words that may differ. No negation, number or side is among them.
_LITTLE = word_set(
    "a an the and so now just okay ok well oh then that this these those your you it it's is are"
    " um uh er erm really very i we"
)
# What tells of time, counts, names and announces has its place and is no repetition.
_KEEPS_ITS_PLACE = frozenset(
    {"count", "time_call", "maybe_call", "move", "promise", "announcement", "rest", "swap_call"}
)


@dataclass(frozen=True, slots=True)
class Repeat:
    """A line that may go, and when the same was said before."""

    line: Line
    said_before_ms: int


@dataclass(frozen=True, slots=True)
class _Given:
    """Words that give something, and all words of the class that give the same."""

    mark: Mark
    others: tuple[Mark, ...]


def find_repeats(review: Review) -> tuple[Repeat, ...]:
    """Find every line that may be taken out as a repetition, in order of time.

    All of them may go together: what one gives is also given by a line that stays.
    """
    found = tuple(_said_again(review))
    given = tuple(_given(review))
    gone = [one.line for one in found]
    return tuple(one for one in found if _is_given_before(one.line, given, gone))


def _said_again(review: Review) -> Iterator[Repeat]:
    """Find lines with the words of an earlier line; cues must be of the same move."""
    heard = review.heard
    first_said: dict[tuple[frozenset[str], str], Line] = {}
    kinds = _kinds_by_word(heard.marks, len(heard.talk.words))
    for line in split_lines(heard.talk):
        telling = _telling(review, line)
        in_line = set().union(*kinds[line.first : line.last + 1])
        if len(telling) < FEWEST_WORDS or in_line & _KEEPS_ITS_PLACE:
            continue
        interval = interval_at(heard, line.start_ms)
        is_cue = in_line & {"point", *CUE_LABELS}
        move = interval.move_done if is_cue and interval else ""
        before = first_said.setdefault((telling, move), line)
        if before is not line and (interval or not is_cue):
            yield Repeat(line, before.start_ms)


def _telling(review: Review, line: Line) -> frozenset[str]:
    norms = [word.norm for word in review.heard.talk.words[line.first : line.last + 1]]
    return frozenset(part for part, _ in fold_words(norms, stem) if part not in _LITTLE)


def _kinds_by_word(marks: tuple[Mark, ...], words: int) -> list[set[str]]:
    kinds: list[set[str]] = [set() for _ in range(words)]
    for mark in marks:
        for at in range(mark.first, min(mark.last + 1, words)):
            kinds[at].add(mark.kind)
    return kinds


def _given(review: Review) -> Iterator[_Given]:
    starts = [word.start_ms for word in review.heard.talk.words]
    for evidence in _evidence(review):
        marks = tuple(
            mark for one in evidence if (mark := evidence_mark(review, starts, "given", one))
        )
        for mark in marks:
            yield _Given(mark, tuple(other for other in marks if other is not mark))


def _evidence(review: Review) -> Iterator[tuple[Evidence, ...]]:
    for move in review.findings.moves:
        yield from (point.evidence for point in move.points)
        yield from (move.breathing.evidence, move.options.evidence)


def _is_given_before(line: Line, given: tuple[_Given, ...], gone: list[Line]) -> bool:
    """Tell whether everything that a line gives was given before it, in lines that stay."""
    return all(
        any(
            other.last < line.first and not any(overlaps(other, out) for out in gone)
            for other in one.others
        )
        for one in given
        if overlaps(one.mark, line)
    )
