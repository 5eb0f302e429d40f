"""What lengths and rests to expect: those that timers are set to, and those promised."""

from __future__ import annotations

from collections.abc import Sequence

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
    shares = _shares(LENGTHS_S)
    values = list(LENGTHS_S)
    for mark in promises:
        if mark.ref == "work" and mark.value in LENGTHS_S:
            shares[values.index(int(mark.value))] += _WORK_PROMISED
    return make_modes(
        [1000.0 * value for value in values], shares, stay=0.85,
        spike_ms=float(np.hypot(1000, blur_ms)), spike_share=0.8,
        tails=((0.1, 3000.0), (0.1, 12_000.0)), low_ms=_SHORTEST_MS, high_ms=_LONGEST_MS,
    )  # fmt: skip


def expect_rests(promises: Sequence[Mark], blur_ms: float) -> Modes:
    """Give the modes of the gaps between intervals."""
    shares = _shares(RESTS_S)
    values = list(RESTS_S)
    for mark in promises:
        value = 0 if mark.ref == "no_rest" else mark.value
        if mark.ref in _REST_PROMISED and value in RESTS_S:
            shares[values.index(int(value))] += _REST_PROMISED[mark.ref]
    modes = make_modes(
        [1000.0 * value for value in values], shares, stay=0.8,
        spike_ms=float(np.hypot(1150, blur_ms)), spike_share=0.7,
        tails=((0.15, 4000.0), (0.15, 20_000.0)), low_ms=0, high_ms=_LONGEST_REST_MS,
    )  # fmt: skip
    modes.density[:_SAME_MOMENT_STEPS] *= _NO_GAP_FACTOR
    return modes


def _shares(common: dict[int, float]) -> Floats:
    shares = np.array(list(common.values()), dtype=np.float64)
    normed: Floats = shares / shares.sum()
    return normed
