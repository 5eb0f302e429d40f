"""The stages in order: transcript -> words -> marks -> intervals -> findings."""

from __future__ import annotations

from reviewkit.intervals import build_intervals
from reviewkit.judge import judge_class
from reviewkit.marks.breathing import find_breathing
from reviewkit.marks.counts import find_counts
from reviewkit.marks.edges import weigh_edges
from reviewkit.marks.kit import find_kit
from reviewkit.marks.move_evidence import weigh_moves
from reviewkit.marks.moves import find_moves
from reviewkit.marks.promises import find_promises
from reviewkit.marks.risk import find_risky_talk
from reviewkit.marks.time_calls import find_time_calls
from reviewkit.model import HeardClass, Lexicon, Mark, Plan, Review, Talk, Transcript
from reviewkit.naming import name_moves
from reviewkit.report.cautions import CAUTIONS
from reviewkit.words import split_words


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
    talk = split_words(transcript)
    plan = plan or Plan("drafted from the talk", (), is_drafted=True)
    mentions = find_moves(talk, plan, lexicon)
    evidence = weigh_moves(talk, plan, lexicon, mentions)
    placed = build_intervals(
        talk, weigh_edges(talk, lexicon), evidence, plan, tolerance_ms=tolerance_ms
    )
    intervals = name_moves(placed, talk, mentions, evidence)
    heard = HeardClass(plan, talk, find_marks(talk, lexicon, mentions), intervals, lexicon)
    return Review(transcript, heard, judge_class(heard), CAUTIONS)


def find_marks(talk: Talk, lexicon: Lexicon, mentions: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """Find everything that was heard, in order of place."""
    marks = (
        *mentions,
        *find_counts(talk),
        *find_time_calls(talk, lexicon),
        *find_breathing(talk, lexicon),
        *find_promises(talk, lexicon),
        *find_kit(talk, lexicon),
        *find_risky_talk(talk, lexicon),
    )
    return tuple(sorted(marks, key=lambda mark: (mark.first, mark.last, mark.kind)))
