"""Where nothing is said: the stretches between words, kept clear of words on both sides."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from reviewkit.model import Talk
from reviewkit.times import Span


def quiet_spans(talk: Talk, within: Span, *, pause_ms: int) -> tuple[Span, ...]:
    """Give the stretches in which nothing is said, in order.

    Breath sounds are talk here. Where one stamp covers many words, nobody can say where
    its silences are, and there are none.

    Args:
        talk: All words of the class.
        within: Where to look.
        pause_ms: How long to stay away from every word; as far as the word's own time may
            be off, where that is more.
    """
    if talk.clock == "blocks":
        return ()
    near = (
        (word.start_ms - clear, word.end_ms + clear)
        for word in talk.words
        for clear in (max(pause_ms, word.spread_ms),)
    )
    return without(within, near)


def without(span: Span, taken: Iterable[tuple[int, int]]) -> tuple[Span, ...]:
    """Give what is left of a span, in order, when stretches are taken out of it."""
    left: list[Span] = []
    at_ms = span.start_ms
    for start_ms, end_ms in sorted(taken):
        if at_ms < min(start_ms, span.end_ms):
            left.append(Span(at_ms, min(start_ms, span.end_ms)))
        at_ms = max(at_ms, end_ms)
    if at_ms < span.end_ms:
        left.append(Span(at_ms, span.end_ms))
    return tuple(left)


def without_all(spans: Sequence[Span], taken: Iterable[tuple[int, int]]) -> tuple[Span, ...]:
    """Give what is left of several spans, in their order."""
    stretches = tuple(taken)
    return tuple(left for span in spans for left in without(span, stretches))
