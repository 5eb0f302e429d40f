"""Lines by 125 voices, promises and what only sounds like one: most are told apart.

So are lines in which coaches swear to a promise, send for kit, or own up to a promise broken.
"""

from __future__ import annotations

import csv

from reviewkit.marks.breaches import find_breaches
from reviewkit.marks.kit import find_kit
from reviewkit.marks.promise_stress import PLAIN, firmness
from reviewkit.marks.promises import find_promises
from tests.corpus import FIXTURES
from tests.lexicon import flat_lexicon
from tests.talking import talk

LINES = FIXTURES / "lines" / "promised.csv"
BREACHES = FIXTURES / "lines" / "breaches.csv"
# What the talk leaves open and only a plan can tell: any of these may be meant.
MAY_MEAN = {
    "length": ("work", "rest", "rest_rounds", "warm_length", "cool_length"),
    "maybe_warm_length": ("warm_length",),
    "maybe_cool_length": ("cool_length",),
    "maybe_cool_down": ("cool_down",),
    "maybe_work": ("work",),
    "maybe_rest": ("rest",),
    "maybe_rounds": ("rounds",),
    "maybe_moves": ("moves",),
}
# Who says how long a part will be promises the part as well.
IMPLIED = {"warm_length": "warm_up", "cool_length": "cool_down"}
NAMES = {"rounds_again": "rounds", "intervals": "moves"}


def _claims(text: str) -> tuple[set[str], set[str]]:
    """Give what is told for sure, and what a plan may make of the rest."""
    sure: set[str] = set()
    open_: set[str] = set()
    for mark in find_promises(talk(text.replace(" / ", " [0.7] ")), flat_lexicon()):
        value = 2.0 if mark.ref == "rounds_again" else mark.value
        if mark.ref in MAY_MEAN:
            amount = "" if value is None else f"={value:g}"
            open_.update(ref + amount for ref in MAY_MEAN[mark.ref])
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
            sure -= {IMPLIED.get(one.partition("=")[0], "") for one in wanted}
            heard += len(wanted & (sure | open_))
            missed += len(wanted - sure - open_)
            false += len(sure - wanted)
    assert heard / (heard + missed) >= 0.82
    assert heard / (heard + false) >= 0.9


def _heard(text: str) -> set[str]:
    spoken, lexicon = talk(text), flat_lexicon()
    norms = [word.norm for word in spoken.words]
    heard = {
        f"fetched={mark.ref}"
        for mark in find_kit(spoken, lexicon)
        if mark.kind != "kit_named" and mark.weight >= 1.0
    }
    if any(mark.kind == "confession" for mark in find_breaches(spoken, lexicon)):
        heard.add("owned_up")
    elif firmness([], norms, lexicon.lists["promises"]) > PLAIN:
        heard.add("sworn")
    return heard


def test_most_that_is_sworn_fetched_and_owned_up_is_heard_and_little_else() -> None:
    heard, missed, false = 0, 0, 0
    with BREACHES.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            wanted, found = set(filter(None, row["heard"].split(";"))), _heard(row["text"])
            heard += len(wanted & found)
            missed += len(wanted - found)
            false += len(found - wanted)
    assert heard / (heard + missed) >= 0.78
    assert heard / (heard + false) >= 0.88
