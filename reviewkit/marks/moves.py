"""Mark every mention of a move: the plan's moves by any of their names, and others.

A mention is no proof that the move begins: coaches list what is coming, correct
themselves and look back. Weights say how sure it is that the move was *named*.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from reviewkit.language.matching import LIKELY, POSSIBLE, SURE, find_alike, fold_words, stem
from reviewkit.language.movebook import WEAK, Movebook, Words, known_move, make_movebook, name_keys
from reviewkit.language.phrasebook import Phrasebook, find_phrases, make_phrasebook
from reviewkit.model import Lexicon, LexiconMove, Mark, Plan, Talk, Word
from reviewkit.once import once_for
from reviewkit.plans.names import EVERYDAY_WORD, MoveName, plan_names

KIND = "move"
PLANNED = 1.0
OTHER = 0.0

_LEAST_FUZZY_LETTERS = 4
_LEAST_LONE_LETTERS = 5
_LEAST_JOINED_LETTERS = 6
_LOOSE = 0.7
_ROOM = 2
_CORRECTION_WORDS = 4
# Roles of words that are never taken for mis-heard ones: short, or said all the time.
EXACT = frozenset({"number", "count", "particle", "filler", "joiner", "side"})
# Roles of words that a name in another order may leave out.
_NO_CORE = frozenset({"joiner", "filler", "load", "manner", "particle"})
_SENTENCE_END = (".", "!", "?")
_SPLIT_FACTOR = 0.5
_CORRECTED_FACTOR = 0.3
_FEWEST_OFTEN = 3
_UNSURE = 0.5

_OTHER_NAME = 0.8
_OTHER_WORD = 0.6
_OTHER_ORDINARY = 0.3

# Labels of the list of words around a name.
CONTEXT_LIST = "move_context"
_NAME_AFTER, _VERB_BEFORE, _CORRECTS = "name_after", "verb_before", "corrects"


@dataclass(frozen=True, slots=True)
class _Context:
    """The words spoken, folded and as heard, and the words that matter around a name."""

    spoken: Sequence[str]
    norms: Sequence[str]
    labels: Mapping[str, frozenset[str]]

    def has(self, place: int, label: str) -> bool:
        """Tell whether the word at a place, if there is one, carries a label."""
        return 0 <= place < len(self.spoken) and self.spoken[place] in self.labels[label]


def _context(spoken: Sequence[str], norms: Sequence[str], lexicon: Lexicon) -> _Context:
    lines = lexicon.lists.get(CONTEXT_LIST, ())
    labels = {
        label: frozenset(stem(line.phrase) for line in lines if line.label == label)
        for label in (_NAME_AFTER, _VERB_BEFORE, _CORRECTS)
    }
    return _Context(spoken, norms, labels)


@dataclass(frozen=True, slots=True)
class _Heard:
    """A name heard on folded parts ``start`` to ``end`` (exclusive) of the talk."""

    start: int
    end: int
    move: str
    weight: float
    words: int
    value: float = PLANNED


# Where a wanted word may have been said: place of its first part -> (likeness, length).
_Places = Mapping[str, Mapping[int, tuple[float, int]]]


def find_moves(talk: Talk, plan: Plan, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Mark mentions of the plan's moves (value 1) and of other lexicon moves (value 0).

    Planned moves are found by whole and shortened names, aliases, names in another
    order, and through usual mis-hearings; other moves only by the lexicon's names.
    Short and everyday words weigh little, more where they stand like a noun, and a
    name that is at once corrected weighs less.

    Returns:
        Marks of kind ``move`` in order of place; ``ref`` is the plan's or the lexicon's
        name. Words that fit several planned moves give a mark for each.
    """
    norms = [word.norm for word in talk.words]
    parts = fold_words(norms, stem)
    if not parts:
        return ()
    spoken = [part for part, _ in parts]
    book = make_movebook(lexicon)
    repeats = Counter(row.move for row in plan.rows)
    context = _context(spoken, [norms[index] for _, index in parts], lexicon)
    planned = _hear_plan(spoken, plan_names(repeats, lexicon), book)
    planned = _drop_covered(_temper(planned, context, repeats))
    others = _hear_others(norms, parts, tuple(repeats), lexicon, book)
    heard = _discount_corrected(_merge(planned, others), context)
    return tuple(_mark(talk, parts, hit) for hit in heard)


def _mark(talk: Talk, parts: Sequence[tuple[str, int]], hit: _Heard) -> Mark:
    first, last = parts[hit.start][1], parts[hit.end - 1][1]
    words = talk.words[first : last + 1]
    return Mark(
        kind=KIND,
        first=first,
        last=last,
        start_ms=words[0].start_ms,
        end_ms=max(word.end_ms for word in words),
        text=" ".join(word.text for word in words),
        ref=hit.move,
        value=hit.value,
        weight=round(min(1.0, hit.weight * _split_factor(words)), 3),
    )


def _split_factor(words: Sequence[Word]) -> float:
    """Doubt a name that runs over the end of a written sentence ("on the floor. Press")."""
    return _SPLIT_FACTOR if any(w.text.endswith(_SENTENCE_END) for w in words[:-1]) else 1.0


# --- the plan's moves ----------------------------------------------------------------


def _hear_plan(spoken: Sequence[str], names: Sequence[MoveName], book: Movebook) -> list[_Heard]:
    """Find every planned name, in order and, for whole names, in any order."""
    places = _places(spoken, names, book)
    heard = [hit for name in names for hit in _in_order(name, places, book)]
    heard += [hit for name in names for hit in _any_order(name, places, book)]
    best: dict[tuple[int, str], _Heard] = {}
    for hit in sorted(heard, key=lambda hit: (hit.weight, hit.end - hit.start)):
        for place in range(hit.start, hit.end):
            best[place, hit.move] = hit
    return list(dict.fromkeys(hit for hit in best.values() if _owns(hit, best)))


def _owns(hit: _Heard, best: Mapping[tuple[int, str], _Heard]) -> bool:
    """Tell whether no better hit of the same move took a part of this one."""
    return all(best[place, hit.move] is hit for place in range(hit.start, hit.end))


def _places(spoken: Sequence[str], names: Sequence[MoveName], book: Movebook) -> _Places:
    """Find where each wanted word was said or may have been mis-heard."""
    wanted = {word for name in names for word in name.words}
    places: dict[str, dict[int, tuple[float, int]]] = {word: {} for word in wanted}
    alike = _alike(spoken, wanted, book)
    joined = _alike_pairs(spoken, wanted, book)
    for at, word in enumerate(spoken):
        guesses = [(meant, score, 1) for meant, score in alike.get(word, {}).items()]
        pair = joined.get(" ".join(spoken[at : at + 2]), {})
        guesses += [(meant, score, 2) for meant, score in pair.items()]
        if word in wanted:
            guesses.append((word, 1.0, 1))
        for meant, score, length in guesses:
            places[meant][at] = max(places[meant].get(at, (0.0, 0)), (score, length))
    return places


def _alike(
    spoken: Sequence[str], wanted: Iterable[str], book: Movebook
) -> dict[str, dict[str, float]]:
    """Find words that may be mis-hearings; words the lexicon knows were heard right."""
    doubtful = {w for w in spoken if w not in book.rarity and not book.role(w)}
    sought = [w for w in wanted if len(w) >= _LEAST_FUZZY_LETTERS and book.role(w) not in EXACT]
    return find_alike(sorted(doubtful - set(wanted)), sought, at_least=POSSIBLE)


def _alike_pairs(
    spoken: Sequence[str], wanted: Iterable[str], book: Movebook
) -> dict[str, dict[str, float]]:
    """Find pairs of words that may be one long word torn apart ("trust her")."""
    sought = [w for w in wanted if len(w) >= _LEAST_JOINED_LETTERS and not book.role(w)]
    initials = {word[0] for word in sought}
    pairs = {
        f"{one} {other}"
        for one, other in pairwise(spoken)
        if one[0] in initials and other not in sought and one not in sought
    }
    return find_alike(sorted(pairs), sought, at_least=SURE)


def _in_order(name: MoveName, places: _Places, book: Movebook) -> Iterable[_Heard]:
    """Find a name's words one after the other."""
    for start in places[name.words[0]]:
        at, scores = start, []
        for word in name.words:
            score, length = places[word].get(at, (0.0, 0))
            if not length:
                break
            scores.append(score)
            at += length
        else:
            if likeness := _likeness(name, scores, book):
                yield _Heard(start, at, name.move, name.weight * likeness, len(name.words))


def _likeness(name: MoveName, scores: Sequence[float], book: Movebook) -> float:
    """Say how sure a name is that was heard with these likenesses, 0 when it is not.

    A lone word must be long and a usual mis-hearing; beside words that matter and fit
    exactly, one word may be further off.
    """
    off = [(score, word) for score, word in zip(scores, name.words, strict=True) if score < 1.0]
    if not off:
        return 1.0
    anchors = sum(book.role(word) not in EXACT for word in name.words) - len(off)
    least = min(score for score, _ in off)
    if len(scores) == 1:
        is_fair = least >= SURE and len(name.words[0]) >= _LEAST_LONE_LETTERS
    elif anchors > 0 and len(off) == 1:
        is_fair = True
    else:
        is_fair = least >= LIKELY and anchors >= 0
    return (sum(scores) / len(scores)) ** 2 if is_fair else 0.0


def _any_order(name: MoveName, places: _Places, book: Movebook) -> Iterable[_Heard]:
    """Find all words that matter of a sure name close together ("marching bridge")."""
    core = tuple(w for w in name.words if book.role(w) not in _NO_CORE)
    if name.weight < _LOOSE or len(core) < 2 or len(set(core)) < len(core):
        return
    is_ordinary = all(book.role(word) for word in core)
    weight = name.weight * _LOOSE * (0.5 if is_ordinary else 1.0)
    exact = {w: [at for at, (score, _) in places[w].items() if score == 1.0] for w in core}
    room = len(core) + _ROOM
    for at in min(exact.values(), key=len):
        near = [_nearest(exact[word], at, at - room) for word in core]
        if max(near) - min(near) < room and len(set(near)) == len(core):
            yield _Heard(min(near), max(near) + 1, name.move, weight, len(core))


def _nearest(places: Sequence[int], at: int, default: int) -> int:
    """Give the place nearest to ``at``, or the default when there is none."""
    return min(places, key=lambda place: abs(place - at), default=default)


def _temper(heard: Sequence[_Heard], context: _Context, repeats: Mapping[str, int]) -> list[_Heard]:
    """Weigh lone words by how they stand in the sentence and by how often they are said."""
    often = Counter((hit.move, context.spoken[hit.start]) for hit in heard if hit.words == 1)
    tempered = []
    for hit in heard:
        if hit.words == 1:
            fair = _FEWEST_OFTEN * (1 + repeats[hit.move])
            factor = min(1.0, fair / often[hit.move, context.spoken[hit.start]])
            factor *= _noun_factor(hit, context) if hit.weight <= _UNSURE else 1.0
            hit = replace(hit, weight=hit.weight * factor)
        tempered.append(hit)
    return tempered


def _noun_factor(hit: _Heard, context: _Context) -> float:
    """Say whether an everyday word stands like a name ("the rows") or a verb ("press it")."""
    factor = 1.5 if context.has(hit.start - 1, _NAME_AFTER) else 1.0
    if context.norms[hit.start] != context.spoken[hit.start]:
        factor *= 1.3
    return factor * (0.5 if context.has(hit.end, _VERB_BEFORE) else 1.0)


def _drop_covered(heard: Sequence[_Heard]) -> list[_Heard]:
    """Leave out a planned name inside a longer, fairly sure name of another planned move."""
    covering: dict[int, list[_Heard]] = {}
    for hit in heard:
        if hit.weight >= EVERYDAY_WORD:
            for place in range(hit.start, hit.end):
                covering.setdefault(place, []).append(hit)
    return [
        hit
        for hit in heard
        if not any(
            other.move != hit.move
            and other.start <= hit.start
            and hit.end <= other.end
            and hit.end - hit.start < other.end - other.start
            for other in covering.get(hit.start, ())
        )
    ]


# --- other moves ---------------------------------------------------------------------


@once_for(8)
def _other_names(moves: tuple[LexiconMove, ...]) -> Phrasebook:
    """Compile all names of all moves; the key is the lexicon's name."""
    pairs = ((" ".join(words), move.name) for move in moves for words in name_keys(move))
    return make_phrasebook(pairs, fold=stem)


def _hear_others(
    norms: Sequence[str],
    parts: Sequence[tuple[str, int]],
    planned: Sequence[str],
    lexicon: Lexicon,
    book: Movebook,
) -> list[_Heard]:
    """Find names of lexicon moves that are not in the plan."""
    known = {move.name for name in planned if (move := known_move(name, lexicon))}
    bounds: dict[int, list[int]] = {}
    for at, (_, index) in enumerate(parts):
        bounds.setdefault(index, []).append(at)
    heard = []
    for hit in find_phrases(norms, _other_names(lexicon.moves)):
        if hit.key not in known:
            start, end = bounds[hit.first][0], bounds[hit.last][-1] + 1
            words = tuple(part for part, _ in parts[start:end])
            heard.append(_Heard(start, end, hit.key, _other_weight(words, book), len(words), OTHER))
    return heard


def _other_weight(words: Words, book: Movebook) -> float:
    """Say how sure an unplanned name is by how ordinary its words are."""
    roles = [book.role(word) for word in words]
    if len(words) > 1:
        return _OTHER_NAME if not all(roles) else _OTHER_ORDINARY
    if roles[0] in WEAK:
        return 0.1
    return EVERYDAY_WORD / 2 if roles[0] else _OTHER_WORD


def _merge(planned: Sequence[_Heard], others: Sequence[_Heard]) -> list[_Heard]:
    """Join both kinds: an unplanned name stays only where no planned one is as long.

    Where it does ("curtsy lunge" around the planned "lunge"), the planned one counts half.
    """
    covers: dict[int, int] = {}
    for hit in planned:
        for place in range(hit.start, hit.end):
            covers[place] = max(covers.get(place, 0), hit.end - hit.start)
    longer = [
        hit
        for hit in others
        if max(covers.get(place, 0) for place in range(hit.start, hit.end)) < hit.end - hit.start
    ]
    taken = {place for hit in longer for place in range(hit.start, hit.end)}
    kept = [
        replace(hit, weight=hit.weight / 2) if taken.issuperset(range(hit.start, hit.end)) else hit
        for hit in planned
    ]
    return sorted([*kept, *longer], key=lambda hit: (hit.start, hit.end, -hit.weight, hit.move))


def _discount_corrected(heard: Sequence[_Heard], context: _Context) -> list[_Heard]:
    """Weigh a name less when another follows at once after "no", "not" or "sorry"."""
    starts: dict[int, set[str]] = {}
    for hit in heard:
        starts.setdefault(hit.start, set()).add(hit.move)
    return [
        replace(hit, weight=hit.weight * _CORRECTED_FACTOR)
        if _is_corrected(hit, starts, context)
        else hit
        for hit in heard
    ]


def _is_corrected(hit: _Heard, starts: Mapping[int, set[str]], context: _Context) -> bool:
    """Tell whether a correcting word and another move's name follow a name closely."""
    has_taken_back = False
    for place in range(hit.end, hit.end + _CORRECTION_WORDS + 1):
        if has_taken_back and starts.get(place, set()) - {hit.move}:
            return True
        has_taken_back = has_taken_back or context.has(place, _CORRECTS)
    return False
