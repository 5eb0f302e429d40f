"""JSON of open speech recognisers -> cues: segments with words, or flat lists.

An entry is an object with a text and times. Lists of entries are found under the usual
keys at any of the first levels; word times become the times of pieces.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from typing import Any

from reviewkit.errors import InputError
from reviewkit.model import Cue, Piece
from reviewkit.read.reading import Reading, at_line

_LISTS = (
    "segments", "chunks", "cues", "captions", "transcription", "transcript", "monologues",
    "results", "result", "utterances", "words", "word_segments", "events", "data",
)  # fmt: skip
_WORD_LISTS = ("words", "result", "tokens")
_TEXTS = ("text", "word", "punctuated_word", "content", "transcript", "caption", "line")
_STARTS = (("start", 1000), ("start_time", 1000), ("startTime", 1000), ("begin", 1000),
           ("from", 1000), ("start_ms", 1), ("startMs", 1), ("offset", 1000), ("time", 1000),
           ("ts", 1000))  # fmt: skip
_ENDS = (("end", 1000), ("end_time", 1000), ("endTime", 1000), ("stop", 1000), ("to", 1000),
         ("end_ms", 1), ("endMs", 1))  # fmt: skip
_LENGTHS = (("duration", 1000), ("dur", 1000), ("duration_ms", 1), ("durationMs", 1))
_PAIRS = (("timestamp", 1000), ("offsets", 1), ("timestamps", 1000))
_CLOCK = re.compile(r"(?:(?:(\d{1,3}):)?(\d{1,4}):)?(\d{1,6})(?:[.,](\d{1,9}))?s?")
_LOOKS_LIKE_JSON = re.compile(r"\s*(?:\{\s*[\"}]|\[\s*[\[{\]])")
_DEEPEST = 4
_LIST_KEY = re.compile(rf'"(?:{"|".join(_LISTS)})"\s{{0,9}}:\s{{0,9}}\[')

Entry = dict[str, Any]


def is_json(text: str) -> bool:
    """Tell whether a text begins like a JSON object or a list of them."""
    return bool(_LOOKS_LIKE_JSON.match(text))


def read_json(text: str, source: str) -> Reading:
    """Read a recogniser's JSON; of a file cut short, the whole entries before the cut.

    Raises:
        InputError: The JSON cannot be read, or holds no list of timed texts.
    """
    document, warnings = _load(text, source)
    entries = _find_entries(document, 0)
    if not entries:
        raise InputError(
            source,
            None,
            "this JSON holds no list of timed texts; it would have segments with start, end and"
            " text, or with words",
        )
    glue = _needs_glue(entries)
    cues: list[Cue] = []
    for number, entry in enumerate(entries, 1):
        cue = _to_cue(entry, number, glue)
        if cue is not None:
            cues.append(cue)
        elif _text_of(entry).strip():
            warnings.append(f"entry {number} has words but no times; they are left out")
    return Reading("json", tuple(cues), tuple(warnings))


# --- the document ---------------------------------------------------------------------


def _load(text: str, source: str) -> tuple[Any, list[str]]:
    try:
        return json.loads(text), []
    except RecursionError:
        raise InputError(source, None, "this JSON is nested too deep to be a transcript") from None
    except json.JSONDecodeError as error:
        saved = list(_whole_objects(text))
        if not saved:
            raise InputError(
                source, error.lineno, f"this JSON cannot be read: {error.msg.lower()}"
            ) from None
        is_whole = not text[saved[-1][1] :].strip()
        cut = at_line(error.lineno, "the JSON breaks off here; the entries before are kept")
        return [entry for entry, _ in saved], [] if is_whole else [cut]
    except ValueError:
        raise InputError(source, None, "this JSON holds a number too long to read") from None


def _whole_objects(text: str) -> Iterator[tuple[Entry, int]]:
    """Give the whole objects of a broken file: of its list of entries, or one after another."""
    decoder = json.JSONDecoder()
    key = _LIST_KEY.search(text)
    at = key.end() if key and not _is_lines(text) else text.find("{")
    while 0 <= at < len(text):
        at = text.find("{", at)
        if at < 0:
            return
        try:
            entry, at = decoder.raw_decode(text, at)
        except (ValueError, RecursionError):
            return
        yield entry, at


def _is_lines(text: str) -> bool:
    """Tell whether the first line is an object by itself (JSON lines)."""
    first = text.lstrip().split("\n", 1)[0]
    try:
        return isinstance(json.loads(first), dict)
    except (ValueError, RecursionError):
        return False


def _find_entries(node: Any, depth: int) -> list[Entry]:
    """Find the first list whose entries carry times, looking under the usual keys."""
    if depth > _DEEPEST:
        return []
    if isinstance(node, list):
        entries = [item for item in node if isinstance(item, dict)]
        if any(_has_times(item) for item in entries):
            return entries
        return [entry for item in entries for entry in _find_entries(item, depth + 1)]
    if isinstance(node, dict):
        for key in _LISTS:
            found = _find_entries(node.get(key), depth + 1)
            if found:
                return found
    return []


# --- entries --------------------------------------------------------------------------


def _has_times(entry: Entry) -> bool:
    return _times_of(entry)[0] is not None or any(
        _times_of(word)[0] is not None for word in _words_of(entry)
    )


def _to_cue(entry: Entry, number: int, glue: str) -> Cue | None:
    words = _words_of(entry)
    start_ms, end_ms = _times_of(entry)
    if any(_times_of(word)[0] is not None for word in words):
        pieces = tuple(
            Piece(glue + _text_of(word), *_times_of(word)) for word in words if _text_of(word)
        )
    else:
        text = _text_of(entry) or " ".join(_text_of(word) for word in words)
        is_word = len(text.split()) == 1
        pieces = (Piece(text, start_ms, end_ms) if is_word else Piece(text),) if text else ()
    starts = [piece.start_ms for piece in pieces if piece.start_ms is not None]
    ends = [piece.end_ms for piece in pieces if piece.end_ms is not None]
    # Segments are often rounded; a word is never outside of its own.
    start_ms = min((at for at in (start_ms, *starts) if at is not None), default=None)
    end_ms = max((at for at in (end_ms, *ends) if at is not None), default=None)
    return None if start_ms is None or not pieces else Cue(start_ms, end_ms, pieces, number)


def _needs_glue(entries: list[Entry]) -> str:
    """Tell what joins words: nothing where they carry their own spaces, else a space."""
    texts = [_text_of(word) for entry in entries for word in _words_of(entry)]
    return "" if any(text[:1].isspace() for text in texts) else " "


def _words_of(entry: Entry) -> list[Entry]:
    for key in _WORD_LISTS:
        words = entry.get(key)
        if isinstance(words, list) and any(isinstance(word, dict) for word in words):
            return [word for word in words if isinstance(word, dict)]
    return []


def _text_of(entry: Entry) -> str:
    for key in _TEXTS:
        text = entry.get(key)
        if isinstance(text, str):
            return text
    return ""


def _times_of(entry: Entry) -> tuple[int | None, int | None]:
    for key, unit in _PAIRS:
        pair = entry.get(key)
        if isinstance(pair, dict):
            pair = [pair.get("from"), pair.get("to")]
        if isinstance(pair, list) and len(pair) == 2:
            start, end = _time_ms(pair[0], unit), _time_ms(pair[1], unit)
            if start is not None:
                return start, end
    start = _first_ms(entry, _STARTS)
    end = _first_ms(entry, _ENDS)
    if start is not None and end is None:
        length = _first_ms(entry, _LENGTHS)
        end = None if length is None else start + length
    return start, end


def _first_ms(entry: Entry, keys: tuple[tuple[str, int], ...]) -> int | None:
    for key, unit in keys:
        at_ms = _time_ms(entry.get(key), unit)
        if at_ms is not None:
            return at_ms
    return None


def _time_ms(value: object, unit: int) -> int | None:
    """Read a time: a number in the key's unit, or a clock. Truth values are no times."""
    if isinstance(value, bool):
        return None
    if isinstance(value, (int, float)):
        if not 0 <= value < 1e12 or not math.isfinite(value):
            return None
        return round(value * unit)
    if isinstance(value, str) and len(value) < 40 and (match := _CLOCK.fullmatch(value.strip())):
        hours, minutes, seconds, fraction = match.groups()
        whole = (int(hours or 0) * 60 + int(minutes or 0)) * 60 + int(seconds)
        has_clock = minutes is not None or fraction is not None
        scale = 1000 if has_clock else unit
        return whole * scale + int((fraction or "0").ljust(3, "0")[:3]) * (scale // 1000 or 1)
    return None
