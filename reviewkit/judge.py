"""Every rule, in one list: a class as heard -> findings."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from reviewkit.corrections import (
    correct_points,
    put_aside,
    standing,
    standing_class,
    standing_points,
)
from reviewkit.findings.breathing import judge_breathing
from reviewkit.findings.contradictions import find_contradictions
from reviewkit.findings.fixes import list_fixes
from reviewkit.findings.given_points import given_points
from reviewkit.findings.options import judge_options
from reviewkit.findings.order import find_traded_places
from reviewkit.findings.points import judge_points
from reviewkit.findings.promises import judge_promises
from reviewkit.findings.risk import find_risky_flags
from reviewkit.findings.scores import score_class
from reviewkit.findings.sides import find_side_imbalance
from reviewkit.findings.silence import find_dead_air
from reviewkit.findings.structure import find_missing_parts
from reviewkit.findings.switches import find_one_sided_intervals
from reviewkit.findings.talk_profile import profile_talk
from reviewkit.findings.time_calls import judge_time_calls
from reviewkit.measures import measure_talk
from reviewkit.model import (
    Correction,
    Findings,
    Flag,
    HeardClass,
    MoveFinding,
    PointFinding,
    PromptFinding,
)

FLAG_RULES: tuple[Callable[[HeardClass], tuple[Flag, ...]], ...] = (
    find_risky_flags,
    find_dead_air,
    find_side_imbalance,
    find_one_sided_intervals,
    find_traded_places,
    find_missing_parts,
)
_NOT_DONE = PromptFinding("not done")


def judge_class(heard: HeardClass, corrections: Sequence[Correction] = ()) -> Findings:
    """Apply every rule; flags come in order of time.

    Args:
        heard: The class, with the intervals that it had.
        corrections: What the coach says of points, and which findings they set aside: those
            stay to be seen, and count neither for scores nor for fixes.
    """
    points = judge_points(heard)
    moves = correct_points(_moves(heard, points), corrections)
    time_calls = put_aside(judge_time_calls(heard), corrections)
    promises = put_aside(judge_promises(heard), corrections)
    found = [flag for rule in FLAG_RULES for flag in rule(heard)]
    found += find_contradictions(heard, given_points(points, heard.talk))
    flags = put_aside(sorted(found, key=lambda flag: flag.at_ms), corrections)
    talk = measure_talk(heard)
    counted, standing_moves = standing_class(heard), standing_points(moves)
    rest = standing(time_calls), standing(promises), standing(flags)
    return Findings(
        talk=talk,
        moves=moves,
        time_calls=time_calls,
        promises=promises,
        flags=flags,
        scores=score_class(counted, talk, standing_moves, *rest),
        fixes=list_fixes(counted, standing_moves, *rest),
        profile=profile_talk(heard),
    )


def _moves(
    heard: HeardClass, points: Sequence[tuple[str, tuple[PointFinding, ...]]]
) -> tuple[MoveFinding, ...]:
    breathing, options = judge_breathing(heard), judge_options(heard)
    return tuple(
        MoveFinding(move, own, breathing.get(move, _NOT_DONE), options.get(move, _NOT_DONE))
        for move, own in points
    )
