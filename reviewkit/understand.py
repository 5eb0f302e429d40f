"""From words to everything that is known of them before anything is placed.

Where stamps are few, the clock of the talk is put right on the way: a first placement
shows where intervals start and end, and silences are drawn there.
"""

from __future__ import annotations

from dataclasses import dataclass

from reviewkit.listen import find_marks, marks_of
from reviewkit.marks.move_evidence import weigh_moves
from reviewkit.model import EdgeEvidence, Lexicon, Mark, MoveEvidence, Plan, Talk
from reviewkit.placing.intervals import align_plan, chance_before_words
from reviewkit.placing.settling import edges_on_clock, on_clock, settle_silences


@dataclass(frozen=True, slots=True)
class Understood:
    """A talk on its best clock: what was heard in it, and what it says of edges and moves."""

    talk: Talk
    edges: EdgeEvidence
    marks: tuple[Mark, ...]
    moves: MoveEvidence

    def marks_of(self, kind: str) -> tuple[Mark, ...]:
        """Give the marks of one kind, in order."""
        return marks_of(kind, self.marks)


def understand(talk: Talk, edges: EdgeEvidence, plan: Plan, lexicon: Lexicon) -> Understood:
    """Find what was heard in a talk, and what it says of the plan's moves.

    Args:
        talk: The words as the transcript times them.
        edges: What they say of edges.
        plan: The rows that may have been done.
        lexicon: What coaches say.
    """
    marks = find_marks(talk, plan, lexicon)
    mentions, extras = marks_of("move", marks), marks_of("extra_call", marks)
    moves = weigh_moves(talk, plan, lexicon, mentions, extras)
    if not talk.bridges or not plan.rows:
        return Understood(talk, edges, marks, moves)
    first = align_plan(talk, edges, moves, plan)
    settled = settle_silences(talk, chance_before_words(first, talk))
    return Understood(
        settled, edges_on_clock(edges, talk, settled), on_clock(marks, settled), moves
    )
