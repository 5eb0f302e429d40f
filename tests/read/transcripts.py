"""Short ways to read a transcript written out in a test, and to look at what came of it."""

from __future__ import annotations

from reviewkit.model import Transcript
from reviewkit.read.transcript import parse_transcript
from reviewkit.words import split_words

SOURCE = "class.txt"


def read(text: str | bytes) -> Transcript:
    """Read a transcript from its text or bytes."""
    return parse_transcript(SOURCE, text.encode() if isinstance(text, str) else text)


def times(text: str | bytes) -> list[tuple[int, int | None, str]]:
    """Give start, end and text of each cue, white space made one."""
    return [(cue.start_ms, cue.end_ms, " ".join(cue.text.split())) for cue in read(text).cues]


def words(text: str | bytes) -> list[str]:
    """Give the normed words of a transcript."""
    return [word.norm for word in split_words(read(text)).words]


def starts(text: str | bytes) -> list[tuple[str, int]]:
    """Give the normed words of a transcript with their starts in ms."""
    return [(word.norm, word.start_ms) for word in split_words(read(text)).words]
