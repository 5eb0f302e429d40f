"""What the network of points learns from: utterances of classes, and single lines.

Single lines are the lexicon's wordings of its points and ``fixtures/lines/points.csv``, lines
written to give a point of a plan or, with an empty verdict, to share its words and mean
something else. A point of the lexicon is set beside them in any of the words that plans
have for it.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from reviewkit.findings.point_features import FEATURES, LINES_LIST
from reviewkit.frames.evidence import PLANS_LIST
from reviewkit.frames.point_net import POINT_TABLES
from reviewkit.frames.terms import words_of
from reviewkit.model import Lexicon
from tests.corpus import FIXTURES
from tests.fit.point_data import Case
from tests.fit.point_net_training import Lesson, Recipe, Said, SingleLine, Words, train

POINTS_FILE = FIXTURES / "lines" / "points.csv"
GIVES = "gives"
# What the network itself says cannot teach it.
_OTHER_FEATURES = [place for place, name in enumerate(FEATURES) if name != "heard"]


def written_lines() -> list[tuple[str, bool, str]]:
    """Give the lines written for points: the point, whether it is given, and the line."""
    with POINTS_FILE.open(encoding="utf-8", newline="") as file:
        return [
            (row["point"], row["verdict"] == GIVES, row["text"]) for row in csv.DictReader(file)
        ]


def with_point_net(cases: Sequence[Case], lexicon: Lexicon) -> Lexicon:
    """Give the lexicon with a network trained on some cases and on its own lines."""
    tables = train(make_lesson(cases, lexicon), lexicon, Recipe())
    fitted = dict(zip(POINT_TABLES, tables, strict=True))
    return replace(lexicon, weights={**lexicon.weights, **fitted})


def without_point_net(lexicon: Lexicon) -> Lexicon:
    """Give the lexicon without the network that travels with it."""
    kept = {name: table for name, table in lexicon.weights.items() if name not in POINT_TABLES}
    return replace(lexicon, weights=kept)


def make_lesson(cases: Sequence[Case], lexicon: Lexicon) -> Lesson:
    """Put together what a network learns from."""
    wordings: dict[str, list[Words]] = defaultdict(list)
    ids: dict[Words, str] = {}
    lines = []
    for point in lexicon.points:
        ids[tuple(words_of(point.say))] = point.id
        wordings[point.id].append(tuple(words_of(point.say)))
        own = (point.line, *point.phrases, *point.images)
        lines += [SingleLine(tuple(words_of(text)), point.id, gives=True) for text in own]
    for phrase in lexicon.lists.get(PLANS_LIST, ()):
        wordings[phrase.label].append(tuple(words_of(phrase.phrase)))
    for phrase in lexicon.lists.get(LINES_LIST, ()):
        lines.append(SingleLine(tuple(words_of(phrase.phrase)), phrase.label, gives=True))
    for point_text, gives, text in written_lines():
        asked = tuple(words_of(point_text))
        name = ids.setdefault(asked, point_text)
        if name not in wordings:
            wordings[name].append(asked)
        lines.append(SingleLine(tuple(words_of(text)), name, gives))
    return Lesson(_said(cases), lines, {name: tuple(many) for name, many in wordings.items()})


def _said(cases: Sequence[Case]) -> list[Said]:
    """Give the utterances of each move of each class, with the points of that move."""
    by_move: dict[tuple[str, str], list[Case]] = defaultdict(list)
    for case in cases:
        by_move[case.name, case.candidates.asked.move].append(case)
    said = []
    for own in by_move.values():
        points = tuple(tuple(words_of(case.candidates.asked.text)) for case in own)
        gives = np.array([case.gives for case in own], dtype=np.float32)
        share = gives / np.maximum(1, gives.sum(axis=0))
        features = np.stack([case.candidates.features for case in own])[:, :, _OTHER_FEATURES]
        for at, place in enumerate(own[0].candidates.places.tolist()):
            words = own[0].utterances[place].words
            said.append(Said(words, points, features[:, at].astype(np.float32), share[:, at]))
    return said
