"""Say in words what speaks for a moment being an edge: the fitted features, gathered.

A moment has some forty small features. Those that rest on the same thing heard (the
words before, a pause, a count) are told as one, with their weights added up.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from reviewkit.marks.edge_columns import BIAS, features_at
from reviewkit.marks.edge_features import Place, TalkFacts
from reviewkit.model import Weights
from reviewkit.model.explained import Reason

SHOWN_WORDS = 4
ANY_MOMENT = "any moment at all"
ONE_COUNTED = "a count came down to one"
BUSY_AROUND = "how much is said and counted before and after"

Told = Callable[[TalkFacts, Place], str]


def edge_reasons(
    facts: TalkFacts, place: Place, weights: Weights, output: str
) -> tuple[Reason, ...]:
    """Give what the talk says of one place, strongest first.

    Args:
        facts: Of the whole talk.
        place: The moment.
        weights: The fitted model.
        output: ``start`` or ``end``.
    """
    column = weights.outputs.index(output)
    sums: dict[str, float] = {}
    (features,) = features_at(facts, [place])
    for feature in (BIAS, *features):
        row = weights.rows.get(feature)
        if row is not None and row[column]:
            text = _tell(feature, facts, place)
            sums[text] = sums.get(text, 0.0) + row[column]
    reasons = (Reason(text, weight) for text, weight in sums.items())
    return tuple(sorted(reasons, key=lambda one: (-abs(one.weight), one.text)))


def words_before(facts: TalkFacts, place: Place, most: int = SHOWN_WORDS) -> str:
    """Give the last words said before a place."""
    return _said(facts, range(max(0, place.word - most), place.word))


def words_after(facts: TalkFacts, place: Place, most: int = SHOWN_WORDS) -> str:
    """Give the first words said from a place on."""
    return _said(facts, range(place.word, min(len(facts.words), place.word + most)))


def _said(facts: TalkFacts, places: Sequence[int]) -> str:
    return " ".join(facts.words[at].text for at in places)


def _tell(feature: str, facts: TalkFacts, place: Place) -> str:
    told = (tell for known, tell in _TOLD if known.match(feature))
    return next(told, _both)(facts, place)


def _before(facts: TalkFacts, place: Place) -> str:
    said = words_before(facts, place)
    return f'the words before: "{said}"' if said else "nothing was said before"


def _after(facts: TalkFacts, place: Place) -> str:
    said = words_after(facts, place)
    return f'the words after: "{said}"' if said else "nothing is said after"


def _both(facts: TalkFacts, place: Place) -> str:
    left, right = words_before(facts, place, 1), words_after(facts, place, 1)
    return f'"{left}" right before "{right}"' if left and right else _after(facts, place)


def _pause_before(facts: TalkFacts, place: Place) -> str:
    if not place.word:
        return "nothing was said before"
    return _pause(place.at_ms - facts.words[place.word - 1].end_ms, "before")


def _pause_after(facts: TalkFacts, place: Place) -> str:
    if place.kind == "W" or place.word >= len(facts.words):
        return "a word begins here" if place.kind == "W" else "nothing is said after"
    return _pause(facts.words[place.word].start_ms - place.at_ms, "after")


def _pause(length_ms: int, where: str) -> str:
    return (
        f"a pause of {length_ms / 1000:.1f} s {where}" if length_ms >= 100 else f"no pause {where}"
    )


def _count(facts: TalkFacts, place: Place) -> str:
    at = place.word - 1
    value, word = facts.values[at], facts.words[at].norm
    if facts.down[at] >= 2:
        return ONE_COUNTED if value == 1 else f'a count came down to "{word}"'
    if facts.up[at] >= 2:
        return f'a count went up to "{word}"'
    return f'the number "{word}" before'


def _count_next(facts: TalkFacts, place: Place) -> str:
    return f'the number "{facts.words[place.word].norm}" comes next'


def _count_done(facts: TalkFacts, place: Place) -> str:
    at = next(
        at for at in range(place.word - 1, -1, -1) if facts.values[at] == 1 and facts.down[at] > 1
    )
    since_s = (place.at_ms - facts.words[at].start_ms) / 1000
    return ONE_COUNTED if since_s < 2 else f"{ONE_COUNTED} {since_s:.0f} s before"


def _claim(facts: TalkFacts, place: Place) -> str:
    """Name the claim of seconds left that falls due nearest to the place."""
    due = [
        (abs((place.at_ms - facts.words[at].end_ms) / 1000 - value), at)
        for at in range(place.word)
        if (value := facts.values[at]) is not None and value >= 5
    ]
    at = min(due)[1]
    since_s = (place.at_ms - facts.words[at].end_ms) / 1000
    unit = _said(facts, range(at + 1, min(at + 2, place.word)))
    said = f"{facts.words[at].text} {unit}" if unit.startswith("sec") else facts.words[at].text
    return f'"{said}" said {since_s:.0f} s before'


def _line(facts: TalkFacts, place: Place) -> str:
    is_first = place.word < len(facts.words) and facts.line_left[place.word] == 0
    return "a line begins here" if is_first else "the middle of a line"


def _pace(facts: TalkFacts, place: Place) -> str:  # noqa: ARG001 - as all the others
    return BUSY_AROUND


def _any(facts: TalkFacts, place: Place) -> str:  # noqa: ARG001 - as all the others
    return ANY_MOMENT


_CLOCK = "(?:w|c|b)"
_TOLD: tuple[tuple[re.Pattern[str], Told], ...] = (
    (re.compile("bias$"), _any),
    (re.compile("k[WES][wcb]$"), _pause_after),
    (re.compile(f"{_CLOCK}[WES]b\\d$"), _pause_before),
    (re.compile(f"{_CLOCK}[WES]a\\d$"), _pause_after),
    (re.compile(f"{_CLOCK}l[lr]\\d|st\\d"), _line),
    (re.compile("cc\\d"), _count_done),
    (re.compile("c[dus]\\d"), _count),
    (re.compile("cn\\d"), _count_next),
    (re.compile("cl\\d"), _claim),
    (re.compile("[dn][lr]\\d"), _pace),
    (re.compile("LR"), _both),
    (re.compile("L|[ES][12P]|[ES]c1"), _before),
    (re.compile("R|SR"), _after),
)
