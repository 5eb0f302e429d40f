"""What lengths and rests to expect: those that timers are set to, and those promised."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from reviewkit.drafting.chain import Floats, Modes, make_modes
from reviewkit.model import Mark

# Seconds that timers are set to, and how common each is.
LENGTHS_S = {
    10: 0.3, 15: 0.5, 20: 3, 25: 0.7, 30: 4, 35: 0.7, 40: 4, 45: 4, 50: 1.5, 55: 0.3, 60: 4,
    70: 0.1, 75: 0.5, 90: 1, 120: 0.7,
}  # fmt: skip
RESTS_S = {
    0: 1.5, 5: 0.7, 10: 3, 15: 3, 20: 3, 25: 0.5, 30: 2, 35: 0.3, 40: 0.3, 45: 0.7, 60: 1, 75: 0.3,
}  # fmt: skip
_SHORTEST_MS = 7000
_LONGEST_MS = 160_000
_LONGEST_REST_MS = 150_000
# Moments this close are one moment; coming straight from one interval into the next is
# rarer than it looks, for one clear edge would count twice.
_SAME_MOMENT_STEPS = 10
_NO_GAP_FACTOR = 0.135
_WORK_PROMISED = 0.5
_REST_PROMISED = {"rest": 0.5, "rest_rounds": 0.15, "rest_sides": 0.15, "no_rest": 0.5}


def expect_lengths(promises: Sequence[Mark], blur_ms: float) -> Modes:
    """Give the modes of lengths; ``blur_ms`` is the error of the talk's clock."""
    promised = [(mark.value, _WORK_PROMISED) for mark in promises if mark.ref == "work"]
    seconds, shares = _expect(LENGTHS_S, promised, _SHORTEST_MS, _LONGEST_MS)
    return make_modes(
        [1000.0 * one for one in seconds], shares, stay=0.92,
        spike_ms=float(np.hypot(800, blur_ms)), spike_share=0.7,
        tails=((0.15, 3000.0), (0.15, 12_000.0)), low_ms=_SHORTEST_MS, high_ms=_LONGEST_MS,
    )  # fmt: skip


def expect_rests(promises: Sequence[Mark], blur_ms: float) -> Modes:
    """Give the modes of the gaps between intervals."""
    promised = [
        (0.0 if mark.ref == "no_rest" else mark.value, _REST_PROMISED[mark.ref])
        for mark in promises
        if mark.ref in _REST_PROMISED
    ]
    seconds, shares = _expect(RESTS_S, promised, 0, _LONGEST_REST_MS)
    modes = make_modes(
        [1000.0 * one for one in seconds], shares, stay=0.88,
        spike_ms=float(np.hypot(1150, blur_ms)), spike_share=0.7,
        tails=((0.15, 4000.0), (0.15, 20_000.0)), low_ms=0, high_ms=_LONGEST_REST_MS,
    )  # fmt: skip
    modes.density[:_SAME_MOMENT_STEPS] *= _NO_GAP_FACTOR
    return modes


def _expect(
    common: Mapping[int, float],
    promised: Sequence[tuple[float | None, float]],
    low_ms: int,
    high_ms: int,
) -> tuple[list[float], Floats]:
    """Give seconds and their shares: what is common, and what was promised within bounds."""
    total = sum(common.values())
    shares = {float(value): share / total for value, share in common.items()}
    for value, share in promised:
        if value is not None and low_ms <= 1000 * value <= high_ms:
            shares[value] = shares.get(value, 0.0) + share
    return list(shares), np.array(list(shares.values()), dtype=np.float64)
