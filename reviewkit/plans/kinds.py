"""Tell warm-up, work and cool-down apart by the names coaches give them."""

from __future__ import annotations

import re

from reviewkit.model import PlanKind

_KIND_NAMES: dict[PlanKind, str] = {
    "warm-up": "warm-up warmup warm-ups warming-up mobilise mobilize mobility mobilisation "
    "mobilization activate activation loosen loosen-up prepare preparation arrive arriving",
    "cool-down": "cool-down cooldown cooling-down cool-off stretch stretches stretching "
    "stretch-out finish unwind wind-down relax relaxation",
    "work": "work main main-block main-set main-part workout training exercise interval",
}
_KINDS = {name: kind for kind, names in _KIND_NAMES.items() for name in names.split()}


def kind_named(text: str) -> PlanKind | None:
    """Read a kind in any usual spelling, or None: ``Warm up``, ``warmup``, ``Cooldown``."""
    return _KINDS.get(re.sub(r"[\s_-]+", "-", text.strip().casefold()))


def kind_of_block(block: str) -> PlanKind:
    """Tell the kind of a block by its name; what is neither warm-up nor cool-down is work."""
    return kind_named(block) or "work"
