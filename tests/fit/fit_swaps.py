"""Fit how much each sign around a slot counts for another move having been done in it.

    python -m tests.fit.fit_swaps [FIXTURES] [--forms words,vtt,blocks] [--write]

Every class is heard in every form and given its true intervals; the scenes of
``fixtures/lines/slots.csv`` are heard as they stand. Prints how many swaps are told, and
how many false ones, each class and each scene's voice judged by weights fitted on the
others. ``--write`` writes ``lexicons/en/fitted/swaps.csv``.

Method: logistic regression (L2) over the signs of ``reviewkit.naming.signs``. Swaps are
half of the scenes and one slot in thirty of a class, so scenes have a bias of their own. What
kind of movement is talked of is told by words fitted without the class.
"""

from __future__ import annotations

import argparse
import csv
import sys
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from scipy.sparse import csr_matrix
from sklearn.linear_model import LogisticRegression

from reviewkit.evaluate import LabelledClass
from reviewkit.language.matching import stem
from reviewkit.listen import marks_of
from reviewkit.marks.departures import find_departures
from reviewkit.marks.kind_words import KIND_WEIGHTS
from reviewkit.marks.move_evidence import weigh_moves
from reviewkit.marks.moves import find_moves
from reviewkit.model import Interval, Lexicon, Plan, Talk, Weights
from reviewkit.naming import BIAS, SWAP_WEIGHTS
from reviewkit.naming.around import NOTHING, look_around
from reviewkit.naming.signs import SIGNS, swap_odds, swap_signs
from reviewkit.read import read_lexicon
from tests.corpus import FITTED, FIXTURES, load_classes
from tests.fit.edge_data import hear
from tests.fit.fit_contradictions import true_intervals
from tests.fit.fit_kinds import kinds_left_out
from tests.scenes import load_scenes

FORMS = ("words", "vtt", "blocks")
FOLDS = 6
STRENGTH = 1.0
# A word counts when so many classes and voices say it there; it is drawn to nothing more
# strongly than a named sign is.
FEWEST_SAYING = 6
WORD_SCALE = 0.4
SCENE, SCENE_FORM, SCENE_WEIGHT, SCENE_SCALE = "scene", "scenes", 0.3, 5.0
# Written weights smaller than this change nothing.
LEAST_WRITTEN = 0.005


@dataclass(frozen=True, slots=True)
class Slot:
    """A slot of one class or voice in one form: its signs, and whether it is a swap."""

    name: str
    form: str
    signs: Mapping[str, float]
    is_swapped: bool


@dataclass(frozen=True, slots=True)
class Fitted:
    """Weights by sign, and the bias."""

    weights: Mapping[str, float]
    bias: float

    def is_told(self, slot: Slot) -> bool:
        """Say whether a slot is taken for a swap."""
        return swap_odds(slot.signs, self.weights, self.bias) > 0


def gather_slots(labelled: LabelledClass, form: str, lexicon: Lexicon) -> Iterator[Slot]:
    """Hear a class and give every slot that was done or swapped."""
    talk, intervals = hear(labelled, form), true_intervals(labelled)
    signs = _signs(talk, labelled.plan, intervals, lexicon)
    for one in intervals:
        if one.status in ("done", "swapped"):
            yield Slot(labelled.name, form, signs[one.id], one.status == "swapped")


def gather_scenes(lexicon: Lexicon) -> Iterator[Slot]:
    """Hear every scene."""
    for scene in load_scenes():
        signs = _signs(scene.talk, scene.plan, (scene.slot,), lexicon)[scene.slot.id]
        yield Slot(scene.voice, SCENE_FORM, signs | {SCENE: SCENE_SCALE}, scene.is_swapped)


def _signs(
    talk: Talk, plan: Plan, intervals: Sequence[Interval], lexicon: Lexicon
) -> dict[str, dict[str, float]]:
    departures = find_departures(talk, lexicon)
    names, calls = find_moves(talk, plan, lexicon), marks_of("swap_call", departures)
    evidence = weigh_moves(talk, plan, lexicon, names, marks_of("extra_call", departures))
    around = look_around(intervals, talk, names, calls)
    return {
        one.id: swap_signs(one, around.get(one.id, NOTHING), talk, evidence) for one in intervals
    }


def with_kinds(lexicon: Lexicon, kinds: Weights) -> Lexicon:
    """Give a lexicon that knows kinds of movement by other weights."""
    return replace(lexicon, weights=lexicon.weights | {KIND_WEIGHTS: kinds})


def movement_words(lexicon: Lexicon) -> frozenset[str]:
    """Give the stems that name moves, parts and what they do: they tell of one move only."""
    texts = [name for move in lexicon.moves for name in (move.name, *move.aliases)]
    for pattern in lexicon.patterns:
        texts += [*pattern.nouns, *pattern.body_parts, *pattern.verbs]
    texts += [line.phrase for line in lexicon.lists["body_parts"]]
    stems = {stem(word) for text in texts for word in text.lower().replace("-", " ").split()}
    return frozenset(stems - LITTLE)


# Words of moves' names that are said of anything.
LITTLE = frozenset({"a", "the", "it", "for", "of", "to", "with", "no", "not", "and", "in", "on",
                    "up", "down", "out", "over"})  # fmt: skip


def fit(slots: Sequence[Slot], passed_over: frozenset[str]) -> Fitted:
    """Fit on the slots of some classes and scenes; words of ``passed_over`` do not count."""
    saying = {(one.name, sign) for one in slots for sign in one.signs if sign not in SIGNS}
    often = Counter(sign for _, sign in saying if sign.split()[-1] not in passed_over)
    words = sorted(sign for sign, count in often.items() if count >= FEWEST_SAYING)
    columns = {sign: at for at, sign in enumerate(dict.fromkeys((*SIGNS, SCENE, *words)))}
    scale = np.array([WORD_SCALE if sign in often and sign != SCENE else 1.0 for sign in columns])
    model = LogisticRegression(C=STRENGTH, max_iter=3000)
    model.fit(
        _matrix(slots, columns).multiply(scale).tocsr(),
        [one.is_swapped for one in slots],
        [SCENE_WEIGHT if one.form == SCENE_FORM else 1.0 for one in slots],
    )
    weights = dict(zip(columns, (model.coef_[0] * scale).tolist(), strict=True))
    weights.pop(SCENE)
    return Fitted(weights, float(model.intercept_[0]))


def _matrix(slots: Sequence[Slot], columns: Mapping[str, int]) -> csr_matrix:
    cells = [
        (row, columns[sign], value)
        for row, one in enumerate(slots)
        for sign, value in one.signs.items()
        if sign in columns and value
    ]
    rows, places, values = zip(*cells, strict=True)
    return csr_matrix((values, (rows, places)), shape=(len(slots), len(columns)))


def check(slots: Sequence[Slot], passed_over: frozenset[str]) -> None:
    """Judge every class by weights fitted on other classes, and print how well they tell."""
    names = sorted({one.name for one in slots})
    told: dict[str, list[int]] = {one.form: [0, 0, 0] for one in slots}
    for fold in range(FOLDS):
        out = set(names[fold::FOLDS])
        fitted = fit([one for one in slots if one.name not in out], passed_over)
        for one in slots:
            if one.name in out:
                is_told = fitted.is_told(one)
                told[one.form][0] += is_told and one.is_swapped
                told[one.form][1] += one.is_swapped
                told[one.form][2] += is_told and not one.is_swapped
    for form, (right, true, false) in told.items():
        sys.stdout.write(f"{form:7} {right} of {true} swaps told, {false} false\n")


def write(fitted: Fitted, path: Path) -> None:
    """Write the weights, the bias first, then the named signs, then words."""
    words = sorted(set(fitted.weights) - set(SIGNS))
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["feature", "swapped"])
        writer.writerow([BIAS, f"{fitted.bias:.3f}"])
        for name in (*SIGNS, *words):
            if name in SIGNS or abs(fitted.weights[name]) >= LEAST_WRITTEN:
                writer.writerow([name, f"{fitted.weights[name]:.3f}"])


def main() -> None:
    """Fit, say how well it tells, and write the weights where asked to."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("fixtures", nargs="?", type=Path, default=FIXTURES)
    parser.add_argument("--forms", default=",".join(FORMS))
    parser.add_argument("--write", action="store_true")
    options = parser.parse_args()
    lexicon, classes = read_lexicon(), load_classes(options.fixtures)
    kinds = kinds_left_out(classes, lexicon)
    slots = [
        slot
        for labelled in classes
        for form in options.forms.split(",")
        for slot in gather_slots(labelled, form, with_kinds(lexicon, kinds[labelled.name]))
    ]
    slots += gather_scenes(lexicon)
    passed_over = movement_words(lexicon)
    check(slots, passed_over)
    if options.write:
        write(fit(slots, passed_over), FITTED / f"{SWAP_WEIGHTS}.csv")


if __name__ == "__main__":
    main()
