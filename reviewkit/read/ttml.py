"""TTML and IMSC -> cues, over a streaming parser that trusts nothing.

Source for times: W3C, Timed Text Markup Language 2, sections 11 and 12 (timing).
A document type, deep nesting or a flood of nodes ends the reading with one error.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from xml.etree.ElementTree import ParseError

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import DefusedXMLParser

from reviewkit.errors import InputError
from reviewkit.model import Cue, Piece
from reviewkit.read.reading import Reading, at_line
from reviewkit.read.ttml_times import Rates, parse_time

MAX_DEPTH = 64
MAX_NODES = 1_000_000
_CHUNK = 1 << 16
_ROOT = re.compile(r"<(?:[\w.-]{1,40}:)?tt[\s>/]")
_ANY_TAG = re.compile(r"<[a-zA-Z!?/]")
_NO_SPEECH = frozenset(("metadata", "set", "head", "styling", "layout", "audio", "image"))


class _TooMuchError(Exception):
    """The document is deeper or larger than any transcript."""


@dataclass(frozen=True, slots=True)
class _Open:
    """An element that is still open; times are absolute, ``None`` when unlimited."""

    name: str
    begin_ms: int
    end_ms: int | None
    is_timed: bool
    is_sequence: bool
    keeps_space: bool
    line: int


def is_ttml(text: str) -> bool:
    """Tell whether a text is XML or HTML, of which TTML is the only kind that is read."""
    return bool(_ANY_TAG.match(text.lstrip()[:2]))


def read_ttml(text: str, source: str) -> Reading:
    """Read TTML; each paragraph is a cue, its timed spans are pieces with times.

    Raises:
        InputError: It is other XML, declares a document type, or nests without end.
    """
    # An XML declaration must come first; lines are counted from the file's beginning.
    stripped = text.lstrip()
    builder = _Builder(text.count("\n", 0, len(text) - len(stripped)))
    text = stripped
    if not _ROOT.search(text[: 1 << 16]):
        raise InputError(source, None, "this XML or HTML is no TTML; its root would be <tt>")
    parser = DefusedXMLParser(target=builder, forbid_dtd=True)
    builder.parser = parser
    warnings: list[str] = []
    try:
        for at in range(0, len(text), _CHUNK):
            parser.feed(text[at : at + _CHUNK])
        parser.close()
    except DefusedXmlException:
        raise InputError(
            source, None, "this XML declares a document type or entities; TTML has neither"
        ) from None
    except _TooMuchError as error:
        raise InputError(source, None, str(error)) from None
    except ParseError as error:
        line = error.position[0]
        warnings.append(at_line(line, "the XML breaks off here; the captions before are kept"))
    return Reading("ttml", tuple(builder.cues), (*builder.warnings, *warnings))


class _Builder:
    """Target of the XML parser: keeps a stack of open elements and the finished cues."""

    def __init__(self, lines_before: int) -> None:
        self._lines_before = lines_before
        self.cues: list[Cue] = []
        self.warnings: list[str] = []
        self.parser: Any = None
        self._stack: list[_Open] = []
        # Where the next child of each open element begins when they run in sequence.
        self._reached: list[int] = []
        self._pieces: list[Piece] = []
        self._rates = Rates()
        self._skipping = 0
        self._nodes = 0

    def start(self, tag: str, attributes: Mapping[str, str]) -> None:
        """Open an element and work out when it is shown."""
        self._count()
        name = tag.rpartition("}")[2]
        if self._skipping or name in _NO_SPEECH:
            self._skipping += 1
            self._check_depth()
            return
        given = {key.rpartition("}")[2]: value for key, value in attributes.items()}
        if name == "tt":
            self._rates = Rates.of(given)
        if name == "br":
            self._add_text("\n")
        if name == "p":
            self._pieces = []
        self._stack.append(self._open(name, given))
        self._reached.append(self._stack[-1].begin_ms)
        self._check_depth()

    def end(self, tag: str) -> None:
        """Close an element; a paragraph becomes a cue."""
        del tag
        if self._skipping:
            self._skipping -= 1
            return
        done = self._stack.pop()
        self._reached.pop()
        if self._reached and done.end_ms is not None:
            self._reached[-1] = done.end_ms
        if done.name == "p":
            self._finish(done)

    def data(self, text: str) -> None:
        """Take text; white space is one space unless the document keeps it."""
        self._count()
        if self._skipping or not self._stack:
            return
        self._add_text(text if self._stack[-1].keeps_space else re.sub(r"[ \t\n\r]+", " ", text))

    def close(self) -> None:
        """Do nothing at the end of the document: every element is closed by then."""

    def _count(self) -> None:
        self._nodes += 1
        if self._nodes > MAX_NODES:
            raise _TooMuchError("this XML has more parts than any transcript; nothing was read")

    def _check_depth(self) -> None:
        if len(self._stack) + self._skipping > MAX_DEPTH:
            raise _TooMuchError("this XML is nested too deep to be a transcript")

    def _open(self, name: str, given: Mapping[str, str]) -> _Open:
        parent = self._stack[-1] if self._stack else None
        begin_ms, end_ms, is_timed = self._times(given, parent)
        space = given.get("space")
        return _Open(
            name,
            begin_ms,
            end_ms,
            is_timed or (parent.is_timed if parent else False),
            given.get("timeContainer") == "seq",
            (parent.keeps_space if parent else False) if space is None else space == "preserve",
            self._line(),
        )

    def _times(
        self, given: Mapping[str, str], parent: _Open | None
    ) -> tuple[int, int | None, bool]:
        """Give begin and end on the document's clock; times are relative to the container."""
        base_ms = parent.begin_ms if parent else 0
        if parent and parent.is_sequence:
            base_ms = self._reached[-1]
        begin, end, dur = (self._time(given, key) for key in ("begin", "end", "dur"))
        begin_ms = base_ms + (begin or 0)
        ends = [] if end is None else [base_ms + end]
        if dur is not None:
            ends.append(begin_ms + dur)
        if parent and parent.end_ms is not None:
            ends.append(parent.end_ms)
        is_timed = not (begin is None and end is None and dur is None)
        return begin_ms, min(ends, default=None), is_timed

    def _time(self, given: Mapping[str, str], key: str) -> int | None:
        if key not in given:
            return None
        at_ms = parse_time(given[key], self._rates)
        if at_ms is None:
            shown = given[key][:40]
            self.warnings.append(at_line(self._line(), f'{key} "{shown}" is no time'))
        return at_ms

    def _line(self) -> int:
        return self._lines_before + int(self.parser.parser.CurrentLineNumber)

    def _add_text(self, text: str) -> None:
        """Put text on the open paragraph, with the times of the timed span around it."""
        for at in range(len(self._stack) - 1, -1, -1):
            if self._stack[at].name == "p":
                break
        else:
            return
        paragraph = self._stack[at]
        inner = self._stack[-1]
        if inner is paragraph or not self._has_own_times(at):
            self._pieces.append(Piece(text))
        else:
            self._pieces.append(Piece(text, inner.begin_ms, inner.end_ms))

    def _has_own_times(self, at: int) -> bool:
        """Tell whether a span inside the paragraph at this place begins at another time."""
        paragraph, inner = self._stack[at], self._stack[-1]
        return (inner.begin_ms, inner.end_ms) != (paragraph.begin_ms, paragraph.end_ms)

    def _finish(self, done: _Open) -> None:
        pieces = tuple(self._pieces)
        self._pieces = []
        if not "".join(piece.text for piece in pieces).strip():
            return
        starts = [piece.start_ms for piece in pieces if piece.start_ms is not None]
        ends = [piece.end_ms for piece in pieces if piece.end_ms is not None]
        if not done.is_timed and not starts:
            self.warnings.append(at_line(done.line, "words without times are left out"))
            return
        begin_ms, end_ms = done.begin_ms, done.end_ms
        if starts and all(piece.start_ms is not None for piece in pieces if piece.text.strip()):
            begin_ms = min(starts)
            end_ms = max(ends, default=end_ms)
        self.cues.append(Cue(begin_ms, end_ms, pieces, done.line))
