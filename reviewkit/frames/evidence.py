"""Weigh how well utterances give points, whichever words either of them uses.

A point is compared with an utterance in two ways: by its own words, and through the
lexicon's points that say nearly the same, with all their wordings and images. So a
coach's own words in a plan reach wordings that share no word with them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reviewkit.frames.likeness import (
    PRESENT,
    Matrix,
    Texts,
    Usual,
    best_per_text,
    make_texts,
    masses,
    rarity,
    shares,
    split_texts,
    sum_per_text,
    sums,
    telling,
    term_likeness,
    usual,
    weigh_found,
)
from reviewkit.frames.terms import (
    PARTS_LIST,
    POLES_LIST,
    TermBook,
    fold,
    make_book,
    read_terms,
    term_book,
    words_of,
)
from reviewkit.frames.utterances import Utterance
from reviewkit.language.phrasebook import Phrasebook, find_in_lines, make_phrasebook
from reviewkit.model import Lexicon, Phrase, Point
from reviewkit.once import once_for

# How plans write the lexicon's points, by point: mostly shorter than they are spoken.
PLANS_LIST = "plan_points"
# A lexicon point speaks for a plan's point from this likeness on, in full at 1.
_KIN = 0.55
_MOST_KIN = 4
# A heard term is part of what the point says from this likeness on; sums stop here.
_MATCHES = 0.55
_MOST_MATCHED = 4.0
_LITTLE = 1e-6
# So few utterances stay near the processor; all together would take hundreds of megabytes.
_AT_ONCE = 32
# A wording with this many terms is a set phrase: word for word, it counts in full.
_LEAST_PHRASE = 2
# A wording counts in full from this sum of its terms' weights on; a short one counts less.
_TELLING_MASS = 2.2
_LEAST_TELLING = 0.5
# Share of utterances that have a word elsewhere.
_USUAL_SHARE = 0.01


@dataclass(frozen=True, slots=True)
class Evidence:
    """Matrices of utterances (rows) by points (columns), all 0 to 1.

    ``cover`` is how much of the point's words an utterance has, ``parts`` and ``poles``
    the share of it that is body parts and the rest, ``both`` the lesser of the two, each
    measured by itself; ``reverse`` how much of the utterance is in the point and
    ``matched`` the weight of its terms that are; ``kin`` and ``closest`` what the
    lexicon's like points make of it.
    ``link`` says for each point how like its closest lexicon point is, ``link_id`` which
    one that is. ``any_point`` is each utterance's best cover of any lexicon point and
    ``terms`` how many terms it has.
    """

    cover: Matrix
    parts: Matrix
    poles: Matrix
    both: Matrix
    reverse: Matrix
    matched: Matrix
    kin: Matrix
    closest: Matrix
    link: NDArray[Any]
    link_ids: tuple[str, ...]
    any_point: NDArray[Any]
    terms: NDArray[Any]


@dataclass(frozen=True, slots=True)
class Bank:
    """All wordings of the lexicon's points, ready.

    ``points`` are the points as texts whose terms are their wordings.
    """

    texts: Texts
    usual: Usual
    phrases: Phrasebook
    points: Texts
    ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ask:
    """A point asked for: its words, and its id when it is the lexicon's own."""

    text: str
    point_id: str = ""


def make_bank(lexicon: Lexicon, lines: tuple[Phrase, ...] = ()) -> Bank:
    """Index the wordings of a lexicon's points; the same points give the same bank.

    Args:
        lexicon: Holds the points and the word lists.
        lines: More wordings, labelled with the id of their point.
    """
    lists = lexicon.lists
    parts, poles = lists.get(PARTS_LIST, ()), lists.get(POLES_LIST, ())
    return _make_bank(lexicon.points, parts, poles, lines)


def make_plan_bank(lexicon: Lexicon) -> Bank:
    """Index the points as plans write them."""
    lists = lexicon.lists
    parts, poles = lists.get(PARTS_LIST, ()), lists.get(POLES_LIST, ())
    return _make_plan_bank(lexicon.points, parts, poles, lists.get(PLANS_LIST, ()))


@once_for(4)
def _make_plan_bank(
    points: tuple[Point, ...],
    parts: tuple[Phrase, ...],
    poles: tuple[Phrase, ...],
    lines: tuple[Phrase, ...],
) -> Bank:
    written = tuple(Point(point.id, point.kind, point.say, "", "") for point in points)
    return _make_bank(written, parts, poles, lines)


@once_for(4)
def _make_bank(
    points: tuple[Point, ...],
    parts: tuple[Phrase, ...],
    poles: tuple[Phrase, ...],
    lines: tuple[Phrase, ...],
) -> Bank:
    book = make_book(parts, poles)
    more: dict[str, list[str]] = {}
    for line in lines:
        more.setdefault(line.label, []).append(line.phrase)
    terms, owners, phrases = [], [], []
    for place, point in enumerate(points):
        own = dict.fromkeys((point.say, point.line, *point.phrases, *point.images))
        for wording in (*filter(None, own), *more.get(point.id, ())):
            terms.append(read_terms(words_of(wording), book))
            owners.append(place)
            if len(terms[-1]) >= _LEAST_PHRASE:
                phrases.append((wording, str(place)))
    ids = tuple(point.id for point in points)
    texts = make_texts(terms)
    return Bank(
        texts,
        usual(term_likeness(texts, texts, book), texts),
        make_phrasebook(phrases, fold=fold),
        _wordings_by_point(np.array(owners, dtype=np.intp), len(ids)),
        ids,
    )


def _wordings_by_point(owners: NDArray[np.intp], points: int) -> Texts:
    """Give points as texts that have wordings for terms; the wordings of one lie together."""
    starts = np.searchsorted(owners, np.arange(points))
    return Texts((), (), np.arange(len(owners)), owners, starts)


def cover_of_points(utterances: Sequence[Utterance], lexicon: Lexicon) -> Matrix:
    """Say how much of each lexicon point's best wording each utterance has, 0 to 1.

    Returns:
        Utterances by points, in the lexicon's order; neither may be empty.
    """
    book = term_book(lexicon)
    heard = make_texts([read_terms(one.words, book) for one in utterances])
    bank = make_bank(lexicon)
    return _with_phrases(_bank_cover(heard, bank, book), utterances, bank)


def _with_phrases(cover: Matrix, utterances: Sequence[Utterance], bank: Bank) -> Matrix:
    """Let a set phrase or image heard word for word count in full."""
    found = find_in_lines([one.words for one in utterances], bank.phrases)
    for row, hits in enumerate(found):
        cover[row, [int(hit.key) for hit in hits]] = 1
    return cover


@dataclass(frozen=True, slots=True)
class _Beside:
    """A bank beside texts asked for: the likeness of its terms, and of each wording's best."""

    near: Matrix
    found: Matrix


@dataclass(frozen=True, slots=True)
class _Compared:
    """Utterances beside texts asked for, term by term.

    ``near`` is the likeness of heard terms to asked ones, ``found`` that of each
    utterance's best term; ``beside`` says the same of a bank's terms and wordings.
    ``weights`` says how telling each asked term is, ``is_part`` whether it
    names a body part.
    """

    book: TermBook
    heard: Texts
    asked: Texts
    near: Matrix
    found: Matrix
    beside: _Beside
    weights: NDArray[Any]
    is_part: NDArray[np.bool_]


def _compare(
    utterances: Sequence[Utterance], texts: Sequence[str], book: TermBook, bank: Bank
) -> _Compared:
    heard = make_texts([read_terms(one.words, book) for one in utterances])
    asked = make_texts([read_terms(words_of(text), book) for text in texts])
    near = term_likeness(heard, asked, book)
    found = best_per_text(near, heard)
    beside = _set_beside(bank, asked, book)
    usually = (beside.found > PRESENT).mean(axis=0)
    weights = rarity((found > PRESENT).sum(axis=0), len(found), usually)
    is_part = np.array([bool(senses & book.parts) for senses in asked.senses], dtype=bool)
    return _Compared(book, heard, asked, near, found, beside, weights, is_part)


def _set_beside(bank: Bank, asked: Texts, book: TermBook) -> _Beside:
    near = term_likeness(bank.texts, asked, book)
    return _Beside(near, best_per_text(near, bank.texts))


def cover_of_texts(
    utterances: Sequence[Utterance], texts: Sequence[str], lexicon: Lexicon
) -> Matrix:
    """Say how much of each text, and of its lesser half, each utterance has, 0 to 1.

    Returns:
        Utterances by texts; neither may be empty.
    """
    seen = _compare(utterances, texts, term_book(lexicon), make_bank(lexicon))
    covers: Matrix = np.minimum(seen.found @ shares(seen.asked, seen.weights), _lesser(seen))
    return covers


def weigh_evidence(
    utterances: Sequence[Utterance],
    asks: Sequence[Ask],
    lexicon: Lexicon,
    *,
    lines: tuple[Phrase, ...] = (),
) -> Evidence:
    """Compare every utterance with every point asked for; neither may be empty.

    ``lines`` are more wordings of the lexicon's points, labelled with their ids.
    """
    book, bank = term_book(lexicon), make_bank(lexicon, lines)
    seen = _compare(utterances, [ask.text for ask in asks], book, bank)
    heard, asked, found, weights = seen.heard, seen.asked, seen.found, seen.weights
    links = _link(seen, asks, bank, make_plan_bank(lexicon))
    by_point = _with_phrases(_bank_cover(heard, bank, book), utterances, bank)
    kin, closest = _through_kin(by_point, links)
    own = _own_rarity(heard)
    back = best_per_text(seen.near.T, asked)
    return Evidence(
        cover=found @ shares(asked, weights),
        parts=found @ shares_of(asked, weights, seen.is_part),
        poles=found @ shares_of(asked, weights, ~seen.is_part),
        both=_lesser(seen),
        reverse=(back @ shares(heard, own)).T,
        matched=np.minimum(
            _MOST_MATCHED, (np.where(back > _MATCHES, back, 0) @ masses(heard, own)).T
        ),
        kin=kin,
        closest=closest,
        link=links.max(axis=1),
        link_ids=tuple(bank.ids[place] for place in links.argmax(axis=1)),
        any_point=by_point.max(axis=1),
        terms=sums(heard, np.array([float(bool(key)) for key in heard.keys])),
    )


def _lesser(seen: _Compared) -> Matrix:
    """Give the lesser of the covers of a point's parts and of its other terms."""
    covers = []
    for chosen in (seen.is_part, ~seen.is_part):
        cover = seen.found @ shares(seen.asked, seen.weights * chosen)
        has = sums(seen.asked, chosen.astype(float)) > 0
        covers.append(np.where(has, cover, 1))
    return np.minimum(*covers).astype(np.float32)


def shares_of(texts: Texts, weights: NDArray[Any], chosen: NDArray[np.bool_]) -> Matrix:
    """Give the chosen terms' shares of each text's whole weight."""
    return shares(texts, weights) * chosen[:, None]


def _own_rarity(heard: Texts) -> NDArray[Any]:
    """Weigh the words heard by how few utterances have them."""
    counts = np.bincount(heard.flat, minlength=len(heard.keys))
    return rarity(counts, len(heard.starts), _USUAL_SHARE)


def _link(seen: _Compared, asks: Sequence[Ask], bank: Bank, written: Bank) -> Matrix:
    """Say how like each lexicon point each point asked for is: asks by lexicon points."""
    beside = _set_beside(written, seen.asked, seen.book)
    links = np.maximum(_likeness(seen, bank, seen.beside), _likeness(seen, written, beside))
    for place, ask in enumerate(asks):
        if ask.point_id in bank.ids:
            links[place, bank.ids.index(ask.point_id)] = 1
    return links


def _likeness(seen: _Compared, bank: Bank, beside: _Beside) -> Matrix:
    """Say how like each point's best wording each text asked for is, both ways."""
    best = np.ascontiguousarray(best_per_text(beside.near.T, seen.asked).T)
    covered = sum_per_text(best, bank.texts)
    there = covered / sums(bank.texts, np.ones(len(bank.texts.keys)))[:, None]
    back = beside.found @ shares(seen.asked, seen.weights)
    both_ways = 2 * there
    both_ways *= back
    both_ways /= there + back + _LITTLE
    return best_per_text(both_ways, bank.points).T.astype(np.float32)


def _bank_cover(heard: Texts, bank: Bank, book: TermBook) -> Matrix:
    """Say how much of its best wording of each lexicon point each utterance has."""
    near = term_likeness(heard, bank.texts, book)
    found = [best_per_text(near, some) for some in split_texts(heard, _AT_ONCE)]
    kind, own = telling(found, bank.usual)
    total = sums(bank.texts, _soften(kind, own))
    tells = np.clip(total / _TELLING_MASS, _LEAST_TELLING, 1) / np.maximum(total, _LITTLE)
    tells = tells.astype(np.float32)[:, None]
    covers = []
    for some in found:
        weighed = np.ascontiguousarray(weigh_found(some, kind, own).T)
        said = sum_per_text(weighed, bank.texts)
        said *= tells
        covers.append(best_per_text(said, bank.points).T)
    cover: Matrix = np.minimum(1, np.concatenate(covers))
    return cover


def _soften(kind: NDArray[Any], own: NDArray[Any]) -> NDArray[Any]:
    """Ask of each term half of what itself and half of what its kind would weigh."""
    mean: NDArray[Any] = (kind + own) / 2
    return mean


def _through_kin(by_point: Matrix, links: Matrix) -> tuple[Matrix, Matrix]:
    """Let like lexicon points speak for each point asked for, as far as they are like it."""
    kin = np.zeros((len(by_point), len(links)), np.float32)
    closest = np.zeros_like(kin)
    for place, link in enumerate(links):
        order = np.argsort(-link)[:_MOST_KIN]
        strength = np.clip((link[order] - _KIN) / (1 - _KIN), 0, 1)
        kin[:, place] = (by_point[:, order] * strength).max(axis=1)
        closest[:, place] = by_point[:, order[:2]].max(axis=1) * link[order[0]]
    return kin, closest
