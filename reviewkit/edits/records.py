"""What a coach takes into the edit of a class as filmed.

Times are whole milliseconds from the start of the video as filmed. Cuts lie on whole
frames; everything else is exact to the millisecond.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from reviewkit.edits.caption_files import Shown
from reviewkit.edits.timecode import FrameRate
from reviewkit.model import Interval, PointKind
from reviewkit.rehearse.records import SpeakingRate
from reviewkit.times import Span

CutKind = Literal["silence", "repeated talk"]
LineSource = Literal["another class", "lexicon", "plan"]
MarkerKind = Literal["interval", "cut", "record", "caption", "look"]


@dataclass(frozen=True, slots=True)
class Cut:
    """A span to take out; of repeated talk with its words and when they were said before."""

    span: Span
    kind: CutKind
    text: str = ""
    said_before_ms: int | None = None


@dataclass(frozen=True, slots=True)
class Trim:
    """An interval that ran long, or the rest after it that was stretched, and its cuts.

    There may be none, where nothing can be taken out. ``right_calls`` are the words of
    time calls that were wrong and become true by the cuts.
    """

    interval: Interval
    is_rest: bool
    span: Span
    planned_ms: int
    cuts: tuple[Cut, ...]
    right_calls: tuple[str, ...] = ()

    @property
    def length_ms(self) -> int:
        """The length as filmed."""
        return self.span.length_ms

    @property
    def cut_ms(self) -> int:
        """All that is taken out."""
        return sum(cut.span.length_ms for cut in self.cuts)

    @property
    def result_ms(self) -> int:
        """The length that is left."""
        return self.length_ms - self.cut_ms

    @property
    def has_two_sides(self) -> bool:
        """Whether sides are changed inside, so that a cut could make them uneven."""
        return self.interval.side == "each" and not self.is_rest


@dataclass(frozen=True, slots=True)
class LineToRecord:
    """A line for a point that was missing or late, and the quiet place where it fits.

    ``slot`` is None where none is long enough; a caption does it then. ``early`` is the
    part of the move's first interval in which a point still helps. ``source`` says whose
    words they are, ``source_name`` names the other class.
    """

    interval: Interval
    move: str
    point: str
    kind: PointKind
    is_late: bool
    is_suggested: bool
    text: str
    source: LineSource
    source_name: str
    takes_ms: int
    early: Span
    slot: Span | None


@dataclass(frozen=True, slots=True)
class Overlay:
    """A caption to show, and what it is for, in a few words."""

    shown: Shown
    why: str


@dataclass(frozen=True, slots=True)
class Stretch:
    """An interval or a rest, as the timer runs it and as a chapter names it.

    ``part`` is the block with its round, ``name`` the move with its side; both are empty
    in a rest. ``next_name`` is the move that comes after a rest.
    """

    span: Span
    part: str = ""
    name: str = ""
    next_name: str = ""

    @property
    def is_rest(self) -> bool:
        """Whether it is a rest."""
        return not self.name


@dataclass(frozen=True, slots=True)
class Marker:
    """A moment or a span to be marked on a timeline."""

    start_ms: int
    end_ms: int
    kind: MarkerKind
    name: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Renamed:
    """Words ``first`` to ``last`` (inclusive) that were put right, and why."""

    first: int
    last: int
    at_ms: int
    heard: str
    meant: str
    move: str
    why: str


@dataclass(frozen=True, slots=True)
class Layers:
    """What is laid over or beside a video, on its clock; lists are in order of time."""

    length_ms: int
    captions: tuple[Overlay, ...]
    chapters: tuple[Shown, ...]
    stretches: tuple[Stretch, ...]
    transcript: tuple[Shown, ...]


@dataclass(frozen=True, slots=True)
class Edits:
    """Everything for the edit of one class; lists are in order of time.

    ``filmed`` goes with the video as filmed, ``cut`` with the one that has all cuts made.
    ``is_coarse`` is set where one stamp covers many words, so that no silence can be
    placed.
    """

    title: str
    typical_error_ms: int
    is_coarse: bool
    rate: FrameRate
    speaking: SpeakingRate
    trims: tuple[Trim, ...]
    lines: tuple[LineToRecord, ...]
    filmed: Layers
    cut: Layers
    markers: tuple[Marker, ...]
    renamed: tuple[Renamed, ...]
    cautions: tuple[str, ...]

    @property
    def cuts(self) -> tuple[Cut, ...]:
        """All cuts, in order of time."""
        found = (cut for trim in self.trims for cut in trim.cuts)
        return tuple(sorted(found, key=lambda cut: cut.span))

    @property
    def cut_ms(self) -> int:
        """All that is taken out of the class."""
        return sum(cut.span.length_ms for cut in self.cuts)
