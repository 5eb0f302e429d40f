"""A small class to be rehearsed, and the review of its last filming, both made by hand."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from reviewkit.model import Lexicon, Plan
from reviewkit.read import read_lexicon
from reviewkit.read.plan import parse_plan
from reviewkit.rehearse import CueSheet, make_sheet, parse_last_time

PLAN = """Quayside, 6 minutes
Warm-up: 30s each
- Arm circles
Main, 2 rounds: 40s work, 20s rest, 60s between rounds
- Goblet squat (say: chest tall; knees over the toes)
- Single-arm row, each side (say: flat back)
Cool-down: 40s each
- Calf stretch, each side
"""
# Far more than anybody can say in half a minute.
CROWDED = "Main: 20s work\n- Goblet squat (say: " + "; ".join(
    f"keep the {part} just where I showed you before"
    for part in ("head", "neck", "ribs", "hips", "knees", "heels", "elbows", "wrists")
) + ")\n"  # fmt: skip


@cache
def lexicon() -> Lexicon:
    return read_lexicon()


def plan(text: str = PLAN) -> Plan:
    return parse_plan("plan.txt", text.encode())


def last_document(**changed: Any) -> dict[str, Any]:
    """Give as much of a review document as a rehearsal looks at."""
    squat = [
        {"point": "chest tall", "verdict": "late"},
        {"point": "knees over the toes", "verdict": "said"},
    ]
    row = [{"point": "Flat back", "verdict": "missing"}]
    found = {
        "format": "reviewkit.review/1",
        "moves": [
            _move("Goblet squat", squat, breathing="missing"),
            _move("single-arm rows", row, options="missing"),
        ],
        "intervals": [{"id": "row-4", "move": "Goblet squat", "round": 2}],
        "time_calls": [
            {
                "text": "halfway",
                "interval": "row-4",
                "claimed_left_s": 20.0,
                "actual_left_s": 9.6,
                "verdict": "wrong",
            }
        ],
        "profile": {"words_per_min": 90.0, "talk_share": 0.5},
    }
    return found | changed


def _move(
    move: str, points: list[dict[str, str]], *, breathing: str = "said", options: str = "said"
) -> dict[str, Any]:
    return {
        "move": move,
        "points": points,
        "breathing": {"verdict": breathing},
        "options": {"verdict": options},
    }


def sheet(text: str = PLAN, document: dict[str, Any] | None = None) -> CueSheet:
    last = parse_last_time("review.json", json.dumps(document)) if document else None
    return make_sheet(plan(text), lexicon(), last)
