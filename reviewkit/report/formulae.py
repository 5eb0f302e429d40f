"""How each score is made, told beside it: the parts, their weights and what they count."""

from __future__ import annotations

from dataclasses import dataclass

HOW = (
    "A part is the share of its cases that were right, of 100. A score is the mean of its parts "
    "by weight; a part without a case is left out, and a score without a part is no score."
)


@dataclass(frozen=True, slots=True)
class Part:
    """What a part of a score weighs and counts."""

    weight: int
    counts: str


PARTS: dict[str, dict[str, Part]] = {
    "timing": {
        "lengths": Part(
            50,
            "intervals on time; half for a drift of up to twice the tolerance; unclear ones left "
            "out",
        ),
        "plan": Part(20, "planned intervals done; half for a swapped one"),
        "time calls": Part(15, "right ones, of the right and the wrong"),
        "promises": Part(15, "kept ones, of the kept and the broken"),
    },
    "cues": {
        "safety": Part(40, "safety points given in time; half for late ones"),
        "form": Part(30, "form points given in time; half for late ones"),
        "careful talk": Part(15, "all, less a third for each risky line"),
        "no contradictions": Part(15, "all, less a quarter for each contradiction"),
    },
    "density": {
        "cued": Part(50, "work intervals with a cue for every 30 s, in proportion below"),
        "no dead air": Part(30, "work time outside silences of 20 s or more"),
        "room to listen": Part(
            20, "work intervals at up to 180 words a minute, falling to none at 240"
        ),
    },
    "breathing": {
        "prompted": Part(75, "work moves with a breathing prompt"),
        "never held": Part(25, "all, less half for each call to hold the breath"),
    },
}


def part_of(score: str, part: str) -> Part | None:
    """Find what is known about a part, ``None`` for a part of another making."""
    return PARTS.get(score, {}).get(part)
