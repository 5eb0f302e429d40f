"""Bytes of a transcript -> Transcript: tell the format by content, read it, put it in order."""

from __future__ import annotations

from dataclasses import replace

from reviewkit.errors import InputError
from reviewkit.language.tokens import split_tokens
from reviewkit.model import Cue, Transcript
from reviewkit.read.cue_table import is_table, read_table
from reviewkit.read.decode import decode
from reviewkit.read.reading import Reading, at_line, shorten
from reviewkit.read.rollup import collapse_rollup
from reviewkit.read.srt import has_timing, read_srt
from reviewkit.read.stamped_text import has_stamps, read_stamped_text
from reviewkit.read.ttml import is_ttml, read_ttml
from reviewkit.read.vtt import is_vtt, read_vtt
from reviewkit.read.word_json import is_json, read_json

MAX_BYTES = 50_000_000
MAX_MS = 12 * 3_600_000
# Six words a second for all of the longest class.
MAX_WORDS = 6 * MAX_MS // 1000
# How often captions that roll up show a word, at most.
_MOST_SHOWINGS = 4

_READERS = (
    (is_vtt, read_vtt),
    (is_ttml, read_ttml),
    (is_json, read_json),
    (has_timing, read_srt),
    (is_table, read_table),
    (has_stamps, read_stamped_text),
)


def parse_transcript(source: str, data: bytes) -> Transcript:
    """Read a transcript of any known format, told apart by content and not by name.

    Known: WebVTT, SubRip, TTML and IMSC, JSON of speech recognisers, tables with start
    and text columns, plain text with stamps.

    Args:
        source: Name of the file, for errors.
        data: The whole file.

    Returns:
        Cues in time order, roll-up repeats taken out; warnings name their lines.

    Raises:
        InputError: The file is no text, has no timed speech, or runs beyond 12 hours.
    """
    text, warnings = decode(data, source)
    reading = _read_any(text, source)
    cues, more = _in_order(reading.cues)
    _check_words(cues, _MOST_SHOWINGS * MAX_WORDS, source)
    cues = collapse_rollup(cues)
    _check_words(cues, MAX_WORDS, source)
    if not any(split_tokens(cue, frozenset()) for cue in cues):
        raise InputError(source, None, "no timed speech was found in it" + _hint(text))
    _check_times(cues, source)
    return Transcript(
        source, reading.format, cues, shorten((*warnings, *reading.warnings, *more)),
        reading.stamp_step_ms, data,
    )  # fmt: skip


def _read_any(text: str, source: str) -> Reading:
    for is_format, read_format in _READERS:
        if is_format(text):
            return read_format(text, source)
    if not text.strip():
        raise InputError(source, None, "the file is empty")
    raise InputError(source, None, "no timed speech was found in it" + _hint(text))


def _check_words(cues: tuple[Cue, ...], most: int, source: str) -> None:
    if sum(len(cue.text.split()) for cue in cues) > most:
        raise InputError(source, None, "it has more words than can be spoken in 12 hours")


def _check_times(cues: tuple[Cue, ...], source: str) -> None:
    latest = max(cues, key=lambda cue: max(cue.start_ms, cue.end_ms or 0))
    if max(latest.start_ms, latest.end_ms or 0) > MAX_MS:
        raise InputError(source, latest.line or None, "a time beyond 12 hours; a class is shorter")


def _hint(text: str) -> str:
    """Say what would be right."""
    if not text.strip():
        return ""
    return (
        "; a transcript has times, as WebVTT, SRT, TTML, JSON, a table with start and text,"
        " or text with [m:ss] before the words"
    )


def _in_order(cues: tuple[Cue, ...]) -> tuple[tuple[Cue, ...], list[str]]:
    """Drop cues without words, drop ends before starts, and sort by start."""
    warnings: list[str] = []
    kept: list[Cue] = []
    latest_ms = 0
    for cue in cues:
        if not cue.text.strip():
            # An empty cue still shows where a roll-up line ends; it holds no speech.
            continue
        if cue.end_ms is not None and cue.end_ms <= cue.start_ms:
            if cue.end_ms < cue.start_ms:
                warnings.append(at_line(cue.line, "ends before it starts; the end is not used"))
            cue = replace(cue, end_ms=None)
        if cue.start_ms < latest_ms:
            warnings.append(at_line(cue.line, "starts before the one above; put in time order"))
        latest_ms = max(latest_ms, cue.start_ms)
        kept.append(cue)
    kept.sort(key=lambda cue: cue.start_ms)
    return tuple(kept), warnings
