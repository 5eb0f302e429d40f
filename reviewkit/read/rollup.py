"""Roll-up captions -> each word once.

Captions that roll up show a line again while the next one is spoken. Whether a file
does so is decided once, from neighbours that touch, so that a coach who truly says
"push push push" keeps every word.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

from reviewkit.model import Cue, Piece

TOUCH_MS = 60
HOLD_MS = 100
_FEWEST_PAIRS = 4

Line = tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class _Shown:
    """What a cue shows: its lines that hold words, and whether an empty line ends it."""

    cue: Cue
    lines: tuple[Line, ...]
    texts: tuple[str, ...]
    ends_empty: bool


def collapse_rollup(cues: tuple[Cue, ...]) -> tuple[Cue, ...]:
    """Leave out lines that only repeat the cue before, in a file that rolls up.

    A file rolls up when at least four neighbours touch in time and at least half of
    them repeat. A line with its own stamps is never left out.

    Args:
        cues: In time order.
    """
    if sum(_touches(before, after) for before, after in pairwise(cues)) < _FEWEST_PAIRS:
        return cues
    shown = [_show(cue) for cue in cues]
    pairs = [(a, b) for a, b in pairwise(shown) if _touches(a.cue, b.cue)]
    if 2 * sum(1 for before, after in pairs if _repeated(before, after)) < len(pairs):
        return cues
    kept: list[Cue] = []
    for at, after in enumerate(shown):
        count = 0
        if at and _touches(shown[at - 1].cue, after.cue):
            count = _repeated(shown[at - 1], after)
        pieces = tuple(piece for line in after.lines[count:] for piece in line)
        if pieces:
            kept.append(replace(after.cue, pieces=pieces))
    return tuple(kept)


def _show(cue: Cue) -> _Shown:
    lines = _split_lines(cue.pieces)
    texts = [" ".join("".join(piece.text for piece in line).split()) for line in lines]
    full = [(line, text) for line, text in zip(lines, texts, strict=True) if text]
    return _Shown(
        cue,
        tuple(line for line, _ in full),
        tuple(text for _, text in full),
        bool(texts) and not texts[-1],
    )


def _split_lines(pieces: tuple[Piece, ...]) -> list[Line]:
    """Cut pieces at line ends; a piece keeps its times on the line that it begins."""
    lines: list[list[Piece]] = [[]]
    for piece in pieces:
        first, *others = piece.text.split("\n")
        lines[-1].append(replace(piece, text=first))
        for text in others:
            lines[-1].append(Piece("\n"))
            lines.append([Piece(text, None, None)])
    return [tuple(piece for piece in line if piece.text) for line in lines]


def _touches(before: Cue, after: Cue) -> bool:
    return before.end_ms is not None and after.start_ms <= before.end_ms + TOUCH_MS


def _repeated(before: _Shown, after: _Shown) -> int:
    """Count the leading lines of a cue that are the last lines of the cue before it."""
    most = len(after.lines)
    is_hold = after.cue.end_ms is not None and after.cue.end_ms - after.cue.start_ms <= HOLD_MS
    if not is_hold and not after.ends_empty:
        most -= 1
    for count in range(min(most, len(before.lines)), 0, -1):
        if before.texts[-count:] == after.texts[:count]:
            stamped = any(_has_times(line) for line in after.lines[:count])
            if not stamped:
                return count
    return 0


def _has_times(line: Line) -> bool:
    return any(piece.start_ms is not None for piece in line)
