"""Lines by forty voices, promises and what only sounds like one: most are told apart."""

from __future__ import annotations

import csv

from reviewkit.marks.promises import find_promises
from tests.corpus import FIXTURES
from tests.lexicon import flat_lexicon
from tests.talking import talk

LINES = FIXTURES / "lines" / "promised.csv"
# What the talk leaves open and only a plan can tell: any of these may be meant.
MAY_MEAN = {
    "length": ("work", "rest", "rest_rounds"),
    "maybe_work": ("work",),
    "maybe_rest": ("rest",),
    "maybe_rounds": ("rounds",),
    "maybe_moves": ("moves",),
}
NAMES = {"rounds_again": "rounds", "intervals": "moves"}


def _claims(text: str) -> tuple[set[str], set[str]]:
    """Give what is told for sure, and what a plan may make of the rest."""
    sure: set[str] = set()
    open_: set[str] = set()
    for mark in find_promises(talk(text.replace(" / ", " [0.7] ")), flat_lexicon()):
        value = 2.0 if mark.ref == "rounds_again" else mark.value
        if mark.ref in MAY_MEAN:
            open_.update(f"{ref}={value:g}" for ref in MAY_MEAN[mark.ref])
        elif mark.ref.startswith("kit"):
            sure.add("kit")
        else:
            name = NAMES.get(mark.ref, mark.ref)
            sure.add(name if value is None else f"{name}={value:g}")
    return sure, open_


def test_most_promises_are_heard_and_little_else() -> None:
    heard, missed, false = 0, 0, 0
    with LINES.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            wanted = set(filter(None, row["promised"].split(";")))
            sure, open_ = _claims(row["text"])
            heard += len(wanted & (sure | open_))
            missed += len(wanted - sure - open_)
            false += len(sure - wanted)
    assert heard / (heard + missed) >= 0.83
    assert heard / (heard + false) >= 0.91
