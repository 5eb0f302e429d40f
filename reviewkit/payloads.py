"""Corrections as files keep them: a kind, and the record's fields as JSON."""

from __future__ import annotations

import json
from dataclasses import asdict

from reviewkit.model import (
    Correction,
    DoneInterval,
    MarkedPoint,
    MovedEdge,
    NamedMove,
    SetAside,
)

# What the file calls each kind; a name stays, whatever becomes of the class's own.
_KINDS: dict[str, type[Correction]] = {
    "moved edge": MovedEdge,
    "named move": NamedMove,
    "done interval": DoneInterval,
    "marked point": MarkedPoint,
    "set aside": SetAside,
}


def to_payload(correction: Correction) -> tuple[str, str]:
    """Give the kind of a correction and its fields as JSON."""
    kind = next(name for name, record in _KINDS.items() if type(correction) is record)
    return kind, json.dumps(asdict(correction))


def from_payload(kind: str, payload: str) -> Correction:
    """Give the correction that was kept.

    Raises:
        ValueError: The kind is unknown, or the fields are not those of the kind.
    """
    try:
        return _KINDS[kind](**json.loads(payload))
    except (KeyError, TypeError, ValueError):
        raise ValueError(f"{kind!r} {payload} is no correction") from None
