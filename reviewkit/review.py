"""The stages in order: transcript -> words -> marks -> intervals -> findings."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Literal

from reviewkit.cautions import CAUTIONS
from reviewkit.corrections import correct_class
from reviewkit.drafting import draft_plan
from reviewkit.judge import judge_class
from reviewkit.marks.edges import weigh_edges
from reviewkit.marks.moves import find_moves
from reviewkit.marks.promises import find_promises
from reviewkit.model import (
    Correction,
    EdgeEvidence,
    HeardClass,
    Lexicon,
    Plan,
    Review,
    Talk,
    Transcript,
)
from reviewkit.naming import SWAP_WEIGHTS, name_moves
from reviewkit.placing.intervals import build_intervals
from reviewkit.understand import understand
from reviewkit.words import PAUSE_WEIGHTS, split_words

Stage = Literal["words", "edges", "marks", "intervals", "moves"]
Watch = Callable[[Stage], None]


def review(
    transcript: Transcript,
    plan: Plan | None,
    lexicon: Lexicon,
    *,
    tolerance_ms: int | None = None,
) -> Review:
    """Review a class: what happened when, what was said, and what follows.

    Args:
        transcript: The timed talk.
        plan: What was planned; drafted from the talk when None.
        lexicon: What coaches say.
        tolerance_ms: How far a length may be off; 3 s or 8 % of the plan when None.
    """
    heard = hear_class(transcript, plan, lexicon, tolerance_ms=tolerance_ms)
    return conclude(transcript, heard, tolerance_ms=tolerance_ms)


def _go_on(_: Stage) -> None:
    """Let every stage begin."""


def hear_class(
    transcript: Transcript,
    plan: Plan | None,
    lexicon: Lexicon,
    *,
    tolerance_ms: int | None = None,
    watch: Watch = _go_on,
) -> HeardClass:
    """Find what was said and done in a class, and judge nothing; arguments as for ``review``.

    ``watch`` is told of each stage before it begins. What it raises ends the work there.
    """
    watch("words")
    talk = split_words(transcript, lexicon.weights.get(PAUSE_WEIGHTS))
    watch("edges")
    edges = weigh_edges(talk, plan, lexicon)
    watch("marks")
    plan = plan or _draft(talk, edges, lexicon)
    known = understand(talk, edges, plan, lexicon)
    watch("intervals")
    placed = build_intervals(known.talk, known.edges, known.moves, plan, tolerance_ms=tolerance_ms)
    watch("moves")
    swaps = lexicon.weights[SWAP_WEIGHTS]
    intervals = name_moves(placed, known.talk, known.marks, known.moves, swaps)
    return HeardClass(plan, known.talk, known.marks, intervals, lexicon)


def conclude(
    transcript: Transcript,
    heard: HeardClass,
    corrections: Sequence[Correction] = (),
    *,
    tolerance_ms: int | None = None,
) -> Review:
    """Judge a class as heard, and as the coach has put it right."""
    corrected = correct_class(heard, corrections, tolerance_ms=tolerance_ms)
    findings = judge_class(corrected, corrections)
    return Review(transcript, corrected, findings, CAUTIONS, tolerance_ms, tuple(corrections))


def _draft(talk: Talk, edges: EdgeEvidence, lexicon: Lexicon) -> Plan:
    """Draft a plan from names and promises, heard while there is no plan yet."""
    heard = (*find_moves(talk, Plan("", ()), lexicon), *find_promises(talk, lexicon))
    return draft_plan(talk, edges, heard, lexicon)
