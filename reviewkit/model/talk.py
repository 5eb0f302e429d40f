"""What was said: a transcript as read, and its words on the clock."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Clock = Literal["words", "captions", "blocks"]


@dataclass(frozen=True, slots=True)
class Piece:
    """A run of text inside a cue; its own times are given where the file gave them."""

    text: str
    start_ms: int | None = None
    end_ms: int | None = None


@dataclass(frozen=True, slots=True)
class Cue:
    """One caption, segment or stamped block; ``end_ms`` is None when the file gave none."""

    start_ms: int
    end_ms: int | None
    pieces: tuple[Piece, ...]
    line: int = 0

    @property
    def text(self) -> str:
        """The text of all pieces, as read."""
        return "".join(piece.text for piece in self.pieces)


@dataclass(frozen=True, slots=True)
class Transcript:
    """A transcript as read, cues in time order.

    ``stamp_step_ms`` is the grain of its stamps: 1 for milliseconds, 1000 when stamps
    were cut to the second. ``data`` is the file itself, so that a review can be made again.
    """

    source: str
    format: str
    cues: tuple[Cue, ...]
    warnings: tuple[str, ...] = ()
    stamp_step_ms: int = 1
    data: bytes = field(default=b"", repr=False, compare=False)


@dataclass(frozen=True, slots=True)
class Word:
    """One spoken word.

    ``norm`` is lower case without outer punctuation. ``spread_ms`` is the half-width of
    the range that holds the true start in nine cases of ten. ``is_sound`` marks breath
    sounds written in brackets, which are heard but are not speech.
    """

    text: str
    norm: str
    start_ms: int
    end_ms: int
    spread_ms: int
    is_sound: bool = False


@dataclass(frozen=True, slots=True)
class Bridge:
    """Words ``first`` to ``last`` (inclusive) of which only the two ends' times are known.

    The first word starts at ``start_ms``, and all of it is over, silence after the last
    word included, at ``end_ms``.
    """

    first: int
    last: int
    start_ms: int
    end_ms: int


@dataclass(frozen=True, slots=True)
class Talk:
    """All words of a class in time order, and how exact their clock is.

    ``bridges`` are in time order and do not overlap; words with times of their own are
    in none.
    """

    words: tuple[Word, ...]
    clock: Clock
    typical_error_ms: int
    length_ms: int
    bridges: tuple[Bridge, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """An utterance as heard: words ``first`` to ``last`` (inclusive) that belong together."""

    first: int
    last: int
    start_ms: int
    end_ms: int
    text: str
