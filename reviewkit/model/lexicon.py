"""What coaches say, as data they can edit."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

PointKind = Literal["form", "safety"]


@dataclass(frozen=True, slots=True)
class Point:
    """A form or safety point: what it is, why it matters and how coaches say it.

    ``frames`` are written as in ``points.toml``; ``patterns`` and ``loads`` name the
    kinds of move it belongs to when the move itself is unknown.
    """

    id: str
    kind: PointKind
    say: str
    why: str
    line: str
    frames: tuple[str, ...] = ()
    phrases: tuple[str, ...] = ()
    images: tuple[str, ...] = ()
    patterns: tuple[str, ...] = ()
    loads: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LexiconMove:
    """A move as coaches know it. ``effort`` is the phase on which breath goes out."""

    name: str
    aliases: tuple[str, ...]
    pattern: str
    load: str
    is_sided: bool
    points: tuple[str, ...]
    effort: str = ""


@dataclass(frozen=True, slots=True)
class Pattern:
    """A kind of movement that many moves share.

    ``nouns`` name it in a move's name ("squat"); ``body_parts`` and ``verbs`` are what
    coaches mention while it is done, so that it can be known from its cues alone.
    ``easier`` and ``harder`` are ways of doing it that a coach may offer.
    """

    id: str
    meaning: str
    nouns: tuple[str, ...] = ()
    body_parts: tuple[str, ...] = ()
    verbs: tuple[str, ...] = ()
    easier: str = ""
    harder: str = ""


@dataclass(frozen=True, slots=True)
class Phrase:
    """A line of a flat word list: words that stand for a label."""

    phrase: str
    label: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Weights:
    """What a fitted model gives each feature: one number per output, by feature name."""

    outputs: tuple[str, ...]
    rows: dict[str, tuple[float, ...]]


@dataclass(frozen=True, slots=True)
class Lexicon:
    """Everything the coach can edit; ``lists`` maps a file's stem to its lines.

    ``weights`` are fitted models by name; they travel with the language, not the coach.
    """

    moves: tuple[LexiconMove, ...]
    points: tuple[Point, ...]
    lists: dict[str, tuple[Phrase, ...]]
    patterns: tuple[Pattern, ...] = ()
    weights: dict[str, Weights] = field(default_factory=dict)
