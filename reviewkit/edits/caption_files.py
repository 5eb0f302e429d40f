"""Captions as WebVTT and SRT: two files that say the same to the millisecond.

Sources: W3C, WebVTT: The Web Video Text Tracks Format, section 4 (syntax); SRT has no
standard, and this is the form that every reader takes.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from reviewkit.report.wording import clean
from reviewkit.times import HOUR_MS, MINUTE_MS, SECOND_MS, Span

_ESCAPES = (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"))


@dataclass(frozen=True, slots=True)
class Shown:
    """Lines of text on the screen during a span; at least one, none of them empty."""

    span: Span
    lines: tuple[str, ...]


def show(span: Span, *lines: str) -> Shown:
    """Make a caption of foreign text: each line fit to print, empty ones left out."""
    return Shown(span, tuple(kept for line in lines if (kept := clean(line))))


def vtt(shown: Sequence[Shown]) -> str:
    """Write captions as WebVTT, in the order given."""
    blocks = [
        f"{_clock(one.span.start_ms, '.')} --> {_clock(one.span.end_ms, '.')}\n"
        + "\n".join(map(_escape, one.lines))
        for one in shown
    ]
    return "\n\n".join(["WEBVTT", *blocks]) + "\n"


def srt(shown: Sequence[Shown]) -> str:
    """Write captions as SRT, in the order given; empty where there are none."""
    blocks = [
        f"{number}\n{_clock(one.span.start_ms, ',')} --> {_clock(one.span.end_ms, ',')}\n"
        + "\n".join(map(_plain, one.lines))
        + "\n"
        for number, one in enumerate(shown, 1)
    ]
    return "\n".join(blocks)


def one_after_another(shown: Iterable[Shown]) -> tuple[Shown, ...]:
    """Order captions by time and end each where the next begins, where it ends no sooner."""
    ordered = sorted(shown, key=lambda one: one.span)
    apart: list[Shown] = []
    for place, one in enumerate(ordered):
        after_ms = ordered[place + 1].span.start_ms if place + 1 < len(ordered) else None
        end_ms = one.span.end_ms if after_ms is None else min(one.span.end_ms, after_ms)
        if end_ms > one.span.start_ms:
            apart.append(Shown(Span(one.span.start_ms, end_ms), one.lines))
    return tuple(apart)


def _clock(at_ms: int, point: str) -> str:
    hours, rest = divmod(at_ms, HOUR_MS)
    minutes, rest = divmod(rest, MINUTE_MS)
    seconds, thousandths = divmod(rest, SECOND_MS)
    return f"{hours:02d}:{minutes:02d}:{seconds:02d}{point}{thousandths:03d}"


def _escape(line: str) -> str:
    for sign, name in _ESCAPES:
        line = line.replace(sign, name)
    return line


def _plain(line: str) -> str:
    """Keep a line from being read as markup or as times: SRT has no other way to write them."""
    return line.replace("<", "\N{SINGLE LEFT-POINTING ANGLE QUOTATION MARK}").replace(
        ">", "\N{SINGLE RIGHT-POINTING ANGLE QUOTATION MARK}"
    )
