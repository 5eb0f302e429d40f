"""Say where the points of a plan were given, and what they ask for in plain words.

"The back is a board, the board, the board" gives "flat back": that it does is found by
the points, and what was asked for by it is what the plan says.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from reviewkit.findings.asked_frames import asked_frames
from reviewkit.frames.grammar import Frame, FrameBook, parts_heard
from reviewkit.frames.terms import fold, is_little, words_of
from reviewkit.model import Evidence, Line, PointFinding, Talk


@dataclass(frozen=True, slots=True)
class Given:
    """A stretch of talk that gave a point of a planned move, as the plan writes it."""

    move: str
    point: str
    start_ms: int
    end_ms: int

    def shares_time(self, line: Line) -> bool:
        """Tell whether it and a line share more than half of the shorter one's time."""
        shared_ms = min(self.end_ms, line.end_ms) - max(self.start_ms, line.start_ms)
        return shared_ms > 0.5 * min(self.end_ms - self.start_ms, line.end_ms - line.start_ms)


@dataclass(frozen=True, slots=True)
class Asked:
    """What points ask for: their frames, the body parts they name, and their words, folded."""

    frames: tuple[Frame, ...] = ()
    parts: frozenset[str] = frozenset()
    words: frozenset[str] = frozenset()

    def __bool__(self) -> bool:
        return bool(self.words)


def given_points(
    moves: Iterable[tuple[str, Sequence[PointFinding]]], talk: Talk
) -> tuple[Given, ...]:
    """Give every stretch of talk that is shown as giving a point of the plan."""
    starts = [word.start_ms for word in talk.words]
    return tuple(
        Given(move, point.point, evidence.at_ms, _end_ms(evidence, talk, starts))
        for move, points in moves
        for point in points
        if point.asked_by == "plan"
        for evidence in point.evidence
    )


def _end_ms(evidence: Evidence, talk: Talk, starts: Sequence[int]) -> int:
    """Give when the last word of some evidence ends."""
    last = bisect_left(starts, evidence.at_ms) + len(evidence.text.split()) - 1
    return talk.words[min(last, len(talk.words) - 1)].end_ms


def ask(points: Iterable[str], book: FrameBook) -> Asked:
    """Put together what some points ask for."""
    texts = [tuple(words_of(point)) for point in points]
    return Asked(
        tuple(frame for words in texts for frame in asked_frames(words, book)),
        frozenset().union(*(senses for words in texts for senses in _parts(words, book))),
        frozenset(fold(word) for words in texts for word in words if not is_little(word)),
    )


def _parts(words: Sequence[str], book: FrameBook) -> Iterator[frozenset[str]]:
    return (senses for _, _, senses in parts_heard(words, book.parts))
