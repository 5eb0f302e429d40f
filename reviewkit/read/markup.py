"""Inline markup of captions: tags, character references, stamps inside a cue.

Every function takes time in proportion to the text, whatever the text.
"""

from __future__ import annotations

import html
import re

from reviewkit.model import Piece

_STAMP = re.compile(r"(?:([0-9]+):)?([0-9]{2}):([0-9]{2})\.([0-9]{3})(?![0-9])")
# Longer than any code point needs; Python refuses to read figures without end.
_ENDLESS_REFERENCE = re.compile(r"&#(?:[0-9]{12,}|[xX][0-9a-fA-F]{12,});?")


def unescape(text: str) -> str:
    """Replace character references as HTML text does: ``&amp;``, ``&#38;``, ``&not``."""
    if "&" not in text:
        return text
    return html.unescape(_ENDLESS_REFERENCE.sub("\ufffd", text))


def parse_stamp(text: str, at: int = 0) -> tuple[int, int] | None:
    """Read a WebVTT time (``[h..h:]mm:ss.mmm``) at a place in a text.

    Returns:
        Milliseconds and the place after the time, or ``None`` when there is no time.
    """
    match = _STAMP.match(text, at)
    if not match or len(match[1] or "") > 9:
        return None
    hours, minutes, seconds, ms = (int(group or 0) for group in match.groups())
    if minutes > 59 or seconds > 59:
        return None
    return ((hours * 60 + minutes) * 60 + seconds) * 1000 + ms, match.end()


def split_at_stamps(raw: str) -> tuple[Piece, ...]:
    """Turn the raw text of a WebVTT cue into pieces: tags go, stamps start a new piece.

    A tag runs to the next ``>`` or to the end of the cue, as the standard's tokenizer
    has it; references are replaced in text only.
    """
    pieces: list[Piece] = []
    texts: list[str] = []
    start_ms: int | None = None
    at = 0
    while at < len(raw):
        opening = raw.find("<", at)
        if opening < 0:
            texts.append(unescape(raw[at:]))
            break
        texts.append(unescape(raw[at:opening]))
        closing = raw.find(">", opening)
        tag = raw[opening + 1 :] if closing < 0 else raw[opening + 1 : closing]
        at = len(raw) if closing < 0 else closing + 1
        stamp = parse_stamp(tag)
        if stamp and stamp[1] == len(tag):
            pieces.append(Piece("".join(texts), start_ms))
            texts, start_ms = [], stamp[0]
    pieces.append(Piece("".join(texts), start_ms))
    return tuple(piece for piece in pieces if piece.text)
