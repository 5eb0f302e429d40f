"""Judge which points of each planned move were said, said late, or not said at all.

Every utterance near a move is weighed as the place where a point was given
(``point_features``), with weights fitted on labelled classes (``point_weights``), and
gives one point of its move or none. A point is *missing* when not even its best utterance
is likely enough, and *late* when it was first given after the move's first interval had
ended.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reviewkit.findings.point_features import FEATURES, Candidates, gather_candidates
from reviewkit.findings.point_model import PointModel
from reviewkit.findings.point_summary import (
    MOST_ODDS,
    SUMMARY,
    TIMING,
    share_out,
    summarise,
    time_all,
)
from reviewkit.findings.point_weights import MODELS
from reviewkit.frames.meant import likely, weigh_line, weigh_meant
from reviewkit.frames.utterances import Utterance, split_utterances
from reviewkit.language.matching import fold_phrase, stem
from reviewkit.language.wordsets import word_set
from reviewkit.model import Evidence, HeardClass, Lexicon, Point, PointFinding, PointVerdict

_MOST_SHOWN = 3
# An utterance is shown as evidence from this chance on; the best one always.
_SHOWN_FROM = 0.3
# What a point and an utterance have in common shows in one of these.
_IN_COMMON = ("cover", "parts", "poles", "matched", "kin", "agrees", "spoken")
_COMMON_COLUMNS = tuple(map(FEATURES.index, _IN_COMMON))
# A lexicon point this like one of the plan's is the same and not asked for twice.
_SAME = 0.74
# A wording that says more than a plan by more words than these may be of something else.
_MORE = 1
# Words that a wording may have or lack and mean the same.
_LITTLE = word_set("a an the your you and in on at to of it is are be keep stay as with over")


def judge_points(heard: HeardClass) -> tuple[tuple[str, tuple[PointFinding, ...]], ...]:
    """Judge every point of every planned move.

    Returns:
        A pair for each planned move, in plan order: its name, and its findings, the
        plan's points before the lexicon's.
    """
    utterances = split_utterances(heard.talk)
    candidates = gather_candidates(heard, utterances)
    model = MODELS[heard.talk.clock]
    odds = meant_odds(
        candidates,
        [utterance_odds(one.features, model) for one in candidates],
        utterances,
        heard.lexicon,
    )
    chances = share_out(candidates, odds)
    said = model.said.chances(summarise(candidates, chances), SUMMARY)
    starts = [_starts(one, utterances) for one in candidates]
    late = model.late.chances(time_all(candidates, chances, starts), TIMING)
    found: dict[str, list[PointFinding]] = {row.move: [] for row in heard.plan.rows}
    same = set()
    for place, one in enumerate(candidates):
        if one.asked.point is None:
            if one.link >= _SAME:
                same.add((one.asked.move, one.link_id))
        elif (one.asked.move, one.asked.point.id) in same:
            continue
        verdict = _verdict(float(said[place]), float(late[place]), model)
        found[one.asked.move].append(
            _conclude(one, chances[place], verdict, utterances, starts[place], heard)
        )
    return tuple((move, tuple(findings)) for move, findings in found.items())


def utterance_odds(features: NDArray[Any], model: PointModel) -> NDArray[Any]:
    """Give each utterance's log-odds of giving the point rather than nothing.

    One that has nothing in common with the point cannot give it, however much it sounds
    like a cue: points that no word list knows would else be said by whatever is said.
    """
    by_weight = model.utterance.odds(features, FEATURES)
    odds: NDArray[Any] = np.where(has_common(features), by_weight, -MOST_ODDS)
    return odds


def has_common(features: NDArray[Any]) -> NDArray[np.bool_]:
    """Tell which utterances have anything in common with the point."""
    return np.asarray((features[:, _COMMON_COLUMNS] > 0).any(axis=1), dtype=bool)


def meant_odds(
    candidates: Sequence[Candidates],
    odds: Sequence[NDArray[Any]],
    utterances: Sequence[Utterance],
    lexicon: Lexicon,
) -> list[NDArray[Any]]:
    """Look at the words of the likely utterances: are they meant to give the point?

    Args:
        candidates: The points of one class.
        odds: For each point, its utterances' log-odds by all else.
        utterances: All of the class.
        lexicon: Holds the weights of the words.
    """
    near = [one.places[likely(own)] for one, own in zip(candidates, odds, strict=True)]
    line = {
        place: weigh_line(utterances[place], lexicon)
        for place in set(chain(*map(np.ndarray.tolist, near)))
    }
    found = []
    for one, own in zip(candidates, odds, strict=True):
        at, meant = likely(own), own.copy()
        places = one.places[at].tolist()
        said, lines = [utterances[place] for place in places], [line[place] for place in places]
        meant[at] = weigh_meant(one.asked.text, said, own[at], lines, lexicon)
        found.append(meant)
    return found


def _verdict(said: float, late: float, model: PointModel) -> PointVerdict:
    """Give the verdict on a point from its chances of having been said at all and too late."""
    if said < model.said_from:
        return "missing"
    return "late" if late >= model.late_from else "said"


def _starts(one: Candidates, utterances: Sequence[Utterance]) -> NDArray[Any]:
    """Give when the utterances that may give a point begin, in milliseconds."""
    return np.array([utterances[place].line.start_ms for place in one.places])


def _conclude(
    one: Candidates,
    chance: NDArray[Any],
    verdict: PointVerdict,
    utterances: Sequence[Utterance],
    starts: NDArray[Any],
    heard: HeardClass,
) -> PointFinding:
    """Lay the words behind a verdict beside it."""
    shown = np.where(starts < (one.first_end_ms or 0), 0, chance) if verdict == "late" else chance
    points = heard.lexicon.points
    kin = one.asked.point or next((each for each in points if each.id == one.link_id), None)
    point = kin if one.asked.point or one.link >= _SAME else None
    # What is only like a point may want something else of it.
    worded = point if point and (one.asked.point or _is_worded(one.asked.text, point)) else None
    return PointFinding(
        point=one.asked.text,
        kind=kin.kind if kin else "form",
        asked_by="lexicon" if one.asked.point else "plan",
        verdict=verdict,
        evidence=() if verdict == "missing" else _evidence(one, shown, utterances),
        point_id=point.id if point else "",
        why=worded.why if worded else "",
        line=worded.line if worded else _sentence(one.asked.text),
    )


def _evidence(
    one: Candidates, chance: NDArray[Any], utterances: Sequence[Utterance]
) -> tuple[Evidence, ...]:
    """Show the words that gave the point, in order, each stretch of talk once."""
    shown: list[Utterance] = []
    least = min(_SHOWN_FROM, float(chance.max(initial=0)))
    for place in map(int, np.argsort(-chance)):
        utterance = utterances[int(one.places[place])]
        if chance[place] < least or len(shown) == _MOST_SHOWN:
            break
        if all(
            utterance.line.last < other.line.first or other.line.last < utterance.line.first
            for other in shown
        ):
            shown.append(utterance)
    shown.sort(key=lambda utterance: utterance.line.first)
    return tuple(Evidence(each.line.start_ms, each.line.text) for each in shown)


def _sentence(text: str) -> str:
    """Make a sentence to record of the plan's words."""
    words = text.strip()
    return f"{words[:1].upper()}{words[1:]}{'' if words.endswith(('.', '!', '?')) else '.'}"


def _is_worded(text: str, point: Point) -> bool:
    """Tell whether a wording of a point has all that a plan says ("no" too), and little more."""
    wanted = _content(text)
    wordings = map(_content, (point.say, point.line, *point.phrases))
    return bool(wanted) and any(wanted <= one and len(one - wanted) <= _MORE for one in wordings)


def _content(text: str) -> frozenset[str]:
    return frozenset(fold_phrase(text, stem)) - _LITTLE
