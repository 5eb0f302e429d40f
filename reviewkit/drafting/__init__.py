"""Draft the plan of a class from its talk alone."""

from __future__ import annotations

from collections.abc import Sequence

from reviewkit.drafting.names import name_spans
from reviewkit.drafting.rows import draft_rows
from reviewkit.drafting.spans import find_spans
from reviewkit.model import EdgeEvidence, Lexicon, Mark, Plan, Talk

__all__ = ["SOURCE", "draft_plan"]

SOURCE = "drafted from the talk"


def draft_plan(talk: Talk, edges: EdgeEvidence, marks: Sequence[Mark], lexicon: Lexicon) -> Plan:
    """Draft a plan whose rows are the intervals that the talk tells of.

    Args:
        talk: The words of the class.
        edges: Log-odds of starts and ends at every moment.
        marks: What was heard; those of kind ``move`` name the intervals, and those of
            kind ``promise`` say which lengths and rests to expect.
        lexicon: Knows which moves have sides.

    Returns:
        A plan marked as drafted; without rows when no interval can be told. Lengths are
        what a timer was set to, not what each interval came to, so that drift stays
        visible.
    """
    promises = [mark for mark in marks if mark.kind == "promise"]
    mentions = [mark for mark in marks if mark.kind == "move"]
    spans = find_spans(talk, edges, promises)
    names = name_spans(talk, spans, mentions)
    promised_ms = [
        round(1000 * mark.value) for mark in promises if mark.ref == "work" and mark.value
    ]
    rows = draft_rows(talk, spans, names, lexicon, promised_ms=promised_ms)
    return Plan(SOURCE, rows, is_drafted=True)
