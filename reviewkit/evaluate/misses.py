"""Name what a review got wrong, one line each, so that a person can look it up."""

from __future__ import annotations

from collections.abc import Iterable

from reviewkit.evaluate.outcome import Match, Outcome, RowOutcome

# An edge that is further off is worth a line.
_FAR_EDGE_S = 5.0


def misses(outcome: Outcome) -> tuple[str, ...]:
    """List what is wrong in an outcome: rows first, then points, then everything else."""
    return (
        *(line for row in outcome.rows for line in _row_misses(row)),
        *(
            f"point {point.move!r} {point.point!r}: is {point.verdict}, called {point.found}"
            for point in outcome.points
            if point.verdict != point.found
        ),
        *_match_misses(outcome.added),
        *_match_misses(outcome.silent_moves),
        *_match_misses(outcome.calls),
        *_match_misses(outcome.wrong_calls),
        *_match_misses(outcome.promises),
        *_match_misses(outcome.flags),
    )


def _row_misses(row: RowOutcome) -> list[str]:
    lines = []
    if row.status != row.found_status:
        lines.append(f"{row.place}: is {row.status}, called {row.found_status}")
    if not row.edges:
        return lines
    start, end = row.edges
    if max(abs(start.error_s), abs(end.error_s)) > _FAR_EDGE_S:
        lines.append(f"{row.place}: edges off {start.error_s:+.1f} s and {end.error_s:+.1f} s")
    if row.wanted_timing and row.timing != row.wanted_timing:
        lines.append(f"{row.place}: drift {row.drift_s:+.1f} s, called {row.timing}")
    return lines


def _match_misses(matches: Iterable[Match]) -> list[str]:
    return [
        f"{match.kind} {match.name}: {'not found' if match.is_true else 'found where none is'}"
        for match in matches
        if match.is_true != match.is_found
    ]
