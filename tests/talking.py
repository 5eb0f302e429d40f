"""Talk by hand: words at an even pace, with pauses written as seconds in brackets."""

from __future__ import annotations

import re

from reviewkit.model import Clock, Talk, Word

_PAUSE = re.compile(r"\[(\d+(?:\.\d+)?)\]")


def talk(text: str, *, start_ms: int = 0, clock: Clock = "words", spread_ms: int = 0) -> Talk:
    """Say a text at two and a half words a second; ``[3]`` is a pause of three seconds."""
    words = []
    at_ms = start_ms
    for part in text.split():
        pause = _PAUSE.fullmatch(part)
        if pause:
            at_ms += round(1000 * float(pause[1]))
            continue
        norm = re.sub(r"^[^\w']+|[^\w']+$", "", part.lower())
        words.append(Word(part, norm, at_ms, at_ms + 350, spread_ms, part.startswith("(")))
        at_ms += 400
    return Talk(tuple(words), clock, spread_ms, at_ms)
