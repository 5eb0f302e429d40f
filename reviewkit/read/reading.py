"""What every transcript reader hands back, and how it reports what it could not use."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reviewkit.model import Cue

SHOWN_WARNINGS = 20


@dataclass(frozen=True, slots=True)
class Reading:
    """Cues in file order, and one warning for each thing left out or put right.

    ``stamp_step_ms`` is 1000 when the stamps were cut to the second.
    """

    format: str
    cues: tuple[Cue, ...]
    warnings: tuple[str, ...] = ()
    stamp_step_ms: int = 1


def at_line(line: int, problem: str) -> str:
    """Write a warning that names its line (1-based)."""
    return f"line {line}: {problem}"


def shorten(warnings: Iterable[str]) -> tuple[str, ...]:
    """Keep the first warnings and count the others, so a broken file cannot flood a page."""
    kept = tuple(warnings)
    if len(kept) <= SHOWN_WARNINGS:
        return kept
    return (*kept[:SHOWN_WARNINGS], f"and {len(kept) - SHOWN_WARNINGS} more of this sort")
