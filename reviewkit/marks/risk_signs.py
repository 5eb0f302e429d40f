"""Weigh how risky a line sounds by its words and by the kinds of words that meet in it.

No list holds every way to talk somebody through pain. What new voices share is the kinds
of words: something that hurts, made light of, and a call to go on; an ailment and a cure;
a body and a day by which it is gone. ``risk_signs.csv`` holds such kinds as wide lists in
which no word means a risk by itself; the kinds that meet in a line, their order and its
words are weighed, and the network of labels adds what it hears. The weights travel with the
language (``fitted/risk.csv``); ``tests/fit/fit_risk.py`` fits them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, dropwhile, pairwise
from math import fsum

from reviewkit.frames.terms import fold
from reviewkit.language.word_classes import class_table, classes_of
from reviewkit.language.wordsets import word_set
from reviewkit.marks.label_net import RISK, hear_lines, lexicon_net
from reviewkit.marks.risk_words import CLAUSE_BREAKS
from reviewkit.marks.wording import Hit, Hits, find_wordings, index_wordings
from reviewkit.model import Lexicon

RISK_WEIGHTS = "risk"
BIAS = "bias"
# The weight of a frame or set wording of the word list found in the line.
FRAMED = "framed"
# From here down the network has never turned a line: it is not asked.
_HOPELESS = -3.0
SIGNS = "risk_signs"
WORDINGS = "risky_talk"
# Set wordings tell alone: they are paired with nothing.
_SET = "set_"
# Kinds of words just after one that denies count apart: "don't stop" is no careful word.
_DENIED, _TURNED = "denied", "no_"
_DENIAL_REACH = 4
# A line begins after these: "and if it hurts" begins as "if it hurts" does.
_OPENERS = frozenset(
    map(fold, word_set("and so now but okay ok right well or then just oh come on"))
)
# What is said after these kinds of words tells whether they open a risk or a caution.
_OPENINGS = {"hurt": ("hurting", "alarm", "ailment"), "breath": ("breathing",)}
# Which kinds of words tell what is risky, the likeliest first; all of a set must be there.
_REASONS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("breath", ("breathing", "kept")),
    ("warning", ("alarm", "going_on")),
    ("warning", ("alarm", "made_light")),
    ("food", ("debt", "food")),
    ("medical", ("cure", "pills")),
    ("medical", ("ailment", "cure")),
    ("medical", ("expert", "denied")),
    ("lying", ("pregnant", "made_light")),
    ("loss", ("slim", "loses")),
    ("loss", ("slim", "deadline")),
    ("pain", ("hurting", "made_light")),
    ("pain", ("hurting", "going_on")),
    ("limits", ("never_stop",)),
    ("limits", ("rival",)),
    ("warm_up", ("skipped",)),
    ("stretch", ("force",)),
    ("fall", ("unsafe",)),
    ("shame", ("scorn",)),
    ("medical", ("cure",)),
    ("warning", ("alarm",)),
    ("pain", ("hurting",)),
)


def risk_features(words: Sequence[str], lexicon: Lexicon, heard: Hits) -> frozenset[str]:
    """Give what is weighed of a line: words, kinds of words, which of them meet and follow.

    Args:
        words: The line's words, normalised.
        lexicon: Its list of signs is looked up.
        heard: The wordings of the list of risky talk that were found in the line.
    """
    signs = _signs(words, lexicon)
    turned = _turned(signs, words)
    folded = [fold(word) for word in words]
    return frozenset(
        (
            *folded,
            *_edges(folded),
            *_classes(words, lexicon),
            *_meetings("=", sorted(label for label in heard if not label.startswith(_SET))),
            *(f"={label}" for label in heard if label.startswith(_SET)),
            *_meetings("~", sorted(turned)),
            *_orders(turned),
            *_following(folded, signs),
        )
    )


def _signs(words: Sequence[str], lexicon: Lexicon) -> Hits:
    return find_wordings(words, index_wordings(lexicon.lists.get(SIGNS, ())))


def _turned(signs: Hits, words: Sequence[str]) -> Hits:
    """Put kinds of words that are denied right before, in their clause, under a kind of their own.

    "No reason to stop" and "never push through" turn what they name; "don't mind it but stop"
    turns no stopping.
    """
    turned: dict[str, tuple[Hit, ...]] = {}
    for label, hits in signs.items():
        for hit in hits:
            is_turned = label != _DENIED and any(
                denial.last < hit.first <= denial.last + _DENIAL_REACH
                and CLAUSE_BREAKS.isdisjoint(words[denial.last + 1 : hit.first])
                for denial in signs.get(_DENIED, ())
            )
            own = _TURNED + label if is_turned else label
            turned[own] = (*turned.get(own, ()), hit)
    return turned


def _classes(words: Sequence[str], lexicon: Lexicon) -> Iterator[str]:
    """Give the classes of words, and those of neighbours as pairs."""
    table = class_table(lexicon)
    classes = [classes_of(word, table) for word in words]
    yield from (name for names in classes for name in names)
    yield from (f"{a} {b}" for left, right in pairwise(classes) for a in left for b in right)


def _edges(folded: Sequence[str]) -> Iterator[str]:
    """Give how a line begins and how it ends, by one word and by two."""
    own = list(dropwhile(_OPENERS.__contains__, folded))
    for size in (1, 2):
        yield "^" + " ".join(own[:size])
        yield "$" + " ".join(own[-size:])


def _meetings(sign: str, labels: Sequence[str]) -> Iterator[str]:
    """Give every kind of words, and every two kinds that meet."""
    yield from (f"{sign}{label}" for label in labels)
    yield from (f"{sign}{one}+{other}" for one, other in combinations(labels, 2))


def _orders(signs: Hits) -> Iterator[str]:
    """Give the kinds of words that follow one another."""
    order = sorted((hit.first, label) for label, hits in signs.items() for hit in hits)
    yield from (f"~{one}>{other}" for (_, one), (_, other) in pairwise(order))


def _following(folded: Sequence[str], signs: Hits) -> Iterator[str]:
    """Give the words after the first that hurts, warns or breathes: a call or a way out."""
    for name, labels in _OPENINGS.items():
        ends = [hit.last for label in labels for hit in signs.get(label, ())[:1]]
        if ends:
            yield from (f"{name}>{word}" for word in folded[min(ends) + 1 :])


def weigh_risk(
    words: Sequence[str], lexicon: Lexicon, heard: Hits, *, is_framed: bool
) -> float | None:
    """Give the log-odds that a line is risky, above those from which it is told.

    ``is_framed`` says whether the word list's own rules found a risk in it. Without
    weights there is ``None``.
    """
    fitted = lexicon.weights.get(RISK_WEIGHTS)
    if fitted is None:
        return None
    own = fsum(_known(risk_features(words, lexicon, heard), fitted.rows))
    odds = own + fitted.rows[BIAS][0] + (fitted.rows[FRAMED][0] if is_framed else 0.0)
    net = lexicon_net(lexicon) if odds > _HOPELESS else None
    return odds if net is None else odds + float(hear_lines(net, [words], lexicon, (RISK,))[0, 0])


def _known(features: frozenset[str], rows: Mapping[str, tuple[float, ...]]) -> Iterator[float]:
    # Exact sums: features come from a set, and their order must make no difference.
    return (rows[feature][0] for feature in features if feature in rows)


def likely_reason(words: Sequence[str], lexicon: Lexicon) -> str:
    """Name the kind of risk that a line's kinds of words speak of; "general" when none does."""
    signs = _signs(words, lexicon)
    met = (reason for reason, labels in _REASONS if all(label in signs for label in labels))
    return next(met, "general")
