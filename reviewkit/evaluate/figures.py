"""Pool outcomes into figures. A ratio over nothing is None.

Sources: precision and recall, van Rijsbergen (1979), Information Retrieval, chapter 7;
the drift slope, ordinary least squares with an intercept.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from statistics import linear_regression

from reviewkit.evaluate.judge import FLAG_KINDS
from reviewkit.evaluate.outcome import Match, Outcome, PointOutcome, RowOutcome


@dataclass(frozen=True, slots=True)
class Tally:
    """Hits, false alarms and misses."""

    hits: int
    extra: int
    missed: int

    @property
    def precision(self) -> float | None:
        """Share of the found that is true."""
        return _ratio(self.hits, self.hits + self.extra)

    @property
    def recall(self) -> float | None:
        """Share of the true that was found."""
        return _ratio(self.hits, self.hits + self.missed)


@dataclass(frozen=True, slots=True)
class Figures:
    """The figures of any number of reviews; ``flags`` by kind."""

    reviews: int
    rows_right: float | None
    intervals_found: float | None
    edge_error_median_s: float | None
    edge_error_p90_s: float | None
    length_error_p90_s: float | None
    range_holds_truth: float | None
    range_width_median_s: float | None
    drift_slope: float | None
    drift_called: float | None
    on_time_kept: float | None
    points_right: float | None
    missing_points: Tally
    late_points: Tally
    added: Tally
    no_breathing: Tally
    time_calls: Tally
    wrong_calls: Tally
    broken_promises: Tally
    flags: Mapping[str, Tally]


def figures(outcomes: Sequence[Outcome]) -> Figures:
    """Pool the outcomes of any number of reviews, in any order."""
    rows = [row for one in outcomes for row in one.rows]
    points = [point for one in outcomes for point in one.points]
    timed = [row for row in rows if row.edges]
    edges = [edge for row in timed for edge in row.edges]
    held = [edge.is_held for edge in edges if edge.is_held is not None]
    errors_s = [abs(edge.error_s) for edge in edges]
    return Figures(
        reviews=len(outcomes),
        rows_right=_share(row.status == row.found_status for row in rows),
        intervals_found=_share(bool(row.edges) for row in rows if row.status != "skipped"),
        edge_error_median_s=_quantile(errors_s, 0.5),
        edge_error_p90_s=_quantile(errors_s, 0.9),
        length_error_p90_s=_quantile([abs(row.found_drift_s - row.drift_s) for row in timed], 0.9),
        range_holds_truth=_share(held),
        range_width_median_s=_quantile([e.width_s for e in edges if e.width_s is not None], 0.5),
        drift_slope=_slope(timed),
        drift_called=_share(
            row.timing == row.wanted_timing
            for row in timed
            if row.wanted_timing in ("long", "short")
        ),
        on_time_kept=_share(
            row.timing not in ("long", "short") for row in timed if row.wanted_timing == "on time"
        ),
        points_right=_share(point.is_right for point in points),
        missing_points=tally(_verdicts(points, "missing")),
        late_points=tally(_verdicts(points, "late")),
        added=tally(match for one in outcomes for match in one.added),
        no_breathing=tally(match for one in outcomes for match in one.silent_moves),
        time_calls=tally(match for one in outcomes for match in one.calls),
        wrong_calls=tally(match for one in outcomes for match in one.wrong_calls),
        broken_promises=tally(match for one in outcomes for match in one.promises),
        flags={
            kind: tally(match for one in outcomes for match in one.flags if match.kind == kind)
            for kind in FLAG_KINDS
        },
    )


def tally(matches: Iterable[Match]) -> Tally:
    """Count hits, false alarms and misses; what is neither true nor found counts for nothing."""
    pairs = [(match.is_true, match.is_found) for match in matches]
    return Tally(pairs.count((True, True)), pairs.count((False, True)), pairs.count((True, False)))


def _verdicts(points: Iterable[PointOutcome], verdict: str) -> list[Match]:
    return [
        Match(verdict, point.point, point.verdict == verdict, point.found == verdict)
        for point in points
    ]


def _ratio(part: int, whole: int) -> float | None:
    return part / whole if whole else None


def _share(truths: Iterable[bool]) -> float | None:
    told = list(truths)
    return _ratio(sum(told), len(told))


def _quantile(values: Sequence[float], share: float) -> float | None:
    """Give the smallest value with more than ``share`` of the values at or below it."""
    return sorted(values)[min(len(values) - 1, int(share * len(values)))] if values else None


def _slope(rows: Sequence[RowOutcome]) -> float | None:
    """Give how much found drift grows with true drift: 1 when lengths are heard in full."""
    drifts_s = [row.drift_s for row in rows]
    if len(set(drifts_s)) < 2:
        return None
    return linear_regression(drifts_s, [row.found_drift_s for row in rows]).slope
