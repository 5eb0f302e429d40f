"""Small things to place: moments, and slots of every kind with arcs between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from hypothesis import strategies as st

from reviewkit.align import Arc, Density, Moments, Slot, flat
from reviewkit.align.density import STEP_MS, Floats

MOST_MOMENTS = 4
MOST_SLOTS = 4
LAST_STEP = 30


@dataclass(frozen=True)
class Case:
    """A small placement problem; ``final`` are the slots that may come last."""

    slots: tuple[Slot, ...]
    starts: Moments
    ends: Moments
    final: tuple[int, ...]

    def __repr__(self) -> str:
        kinds = ["pass" if slot.length is None else "slot" for slot in self.slots]
        arcs = [[(arc.source, arc.log_prior) for arc in slot.arcs] for slot in self.slots]
        return (
            f"Case({kinds}, arcs={arcs}, final={self.final}, "
            f"starts={self.starts.at_ms.tolist()}, ends={self.ends.at_ms.tolist()})"
        )


# Few values, so that ties are common.
_scores = st.sampled_from((-4.0, -1.5, -1.0, 0.0, 0.5, 1.0, 2.25))


def _arrays(size: int) -> st.SearchStrategy[Floats]:
    return st.lists(_scores, min_size=size, max_size=size).map(lambda v: np.array(v, np.float64))


@st.composite
def _moments(draw: st.DrawFn) -> Moments:
    fewest = draw(st.sampled_from((0, 3, 3, 3, 3)))
    steps = draw(
        st.lists(st.integers(0, LAST_STEP), unique=True, min_size=fewest, max_size=MOST_MOMENTS)
    )
    at_ms = np.array(sorted(steps), np.float64) * STEP_MS
    score, passed, short, long = (draw(_arrays(len(steps))) for _ in range(4))
    is_remarked = draw(st.booleans())
    return Moments(at_ms, score, passed, *((short, long) if is_remarked else ()))


@st.composite
def _densities(draw: st.DrawFn) -> Density:
    if draw(st.integers(0, 3)):
        return flat(draw(_scores))
    low = draw(st.integers(0, 3))
    table = draw(st.lists(_scores, min_size=1, max_size=LAST_STEP))
    usual = draw(st.none() | st.tuples(st.integers(0, LAST_STEP), st.integers(0, LAST_STEP)))
    usual_ms = usual and (float(min(usual) * STEP_MS), float(max(usual) * STEP_MS))
    return Density(low * STEP_MS, np.array(table, np.float64), usual_ms=usual_ms)


@st.composite
def _slots(draw: st.DrawFn, index: int, starts: Moments, ends: Moments) -> Slot:
    sources = {index - 1} | draw(st.sets(st.integers(-1, index - 1), max_size=2))
    arcs = tuple(Arc(one, draw(_scores), draw(_densities())) for one in sorted(sources))
    if draw(st.integers(0, 4)) == 0:
        return Slot(arcs)
    return Slot(
        arcs,
        draw(_densities()),
        start_score=draw(_arrays(len(starts.at_ms))),
        start_sum=draw(_arrays(len(starts.at_ms))),
        end_sum=draw(_arrays(len(ends.at_ms))),
    )


@st.composite
def cases(draw: st.DrawFn) -> Case:
    """Draw a placement problem small enough to try every answer."""
    starts, ends = draw(_moments()), draw(_moments())
    count = draw(st.integers(1, MOST_SLOTS))
    slots: Sequence[Slot] = [draw(_slots(index, starts, ends)) for index in range(count)]
    final = {count - 1} | draw(st.sets(st.integers(0, count - 1), max_size=1))
    return Case(tuple(slots), starts, ends, tuple(sorted(final)))
