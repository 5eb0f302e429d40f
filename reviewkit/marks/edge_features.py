"""Facts of a talk that tell the edges of intervals, and the moments that may be one.

Coaches tell an edge by what they say right before and after it ("three two one",
"off we go", "and rest"), by silence, by counts that come down to one and by "ten
seconds" said ten seconds before.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from reviewkit.language.matching import stem
from reviewkit.language.numbers import find_numbers
from reviewkit.language.wordsets import word_set
from reviewkit.model import Phrase, Plan, Talk, Word

COUNT_SECOND_MS = 950
# A silence this long may hold an edge that no word tells.
SILENCE_MS = 700
LONG_SILENCE_MS = 1500
GRID_MS = 500
LONGEST_GRID_MS = 90_000
_CLAIMS = frozenset((5, 10, 15, 20, 30))
# Words of names and points that are said in all talk.
_LITTLE = word_set(
    "a an the of to in on with and or at from by for up down out left right your don't not no"
    " keep it is"
)
BUCKETS_MS = (60, 150, 600, 1200, 2500, 5000, 10_000)


@dataclass(frozen=True, slots=True)
class Place:
    """A moment before word ``word``: ``kind`` W at its start, E as the word before it
    ends, S in the silence between."""

    at_ms: int
    kind: str
    word: int


@dataclass(frozen=True, slots=True)
class TalkFacts:
    """Facts of a talk that many features need, one entry per word.

    ``named`` and ``asked`` tell of each word whether it is in the name of a planned move, or
    in a point the plan asks for. ``claims`` are the words that may claim seconds left, and how
    many; ``counted_down`` those with which a count comes down to one.
    """

    words: tuple[Word, ...]
    clock: str
    tokens: tuple[str, ...]
    classes: tuple[str, ...]
    named: tuple[bool, ...]
    asked: tuple[bool, ...]
    values: tuple[int | None, ...]
    down: tuple[int, ...]
    up: tuple[int, ...]
    line_left: tuple[int, ...]
    line_right: tuple[int, ...]
    has_stops: bool
    starts_ms: tuple[int, ...]
    number_starts_ms: tuple[int, ...]
    claims: tuple[tuple[int, int], ...]
    counted_down: tuple[int, ...]


@lru_cache(maxsize=20_000)
def number_of(norm: str) -> int | None:
    """Give the value of a single word or figure that is a whole number below 1,000."""
    found = find_numbers([norm])
    if len(found) != 1 or found[0].value != int(found[0].value) or not found[0].value < 1000:
        return None
    return int(found[0].value) if norm != "couple" else None


def gather_facts(talk: Talk, word_classes: Sequence[Phrase], plan: Plan | None = None) -> TalkFacts:
    """Look once at every word of the talk.

    ``plan`` is what was planned, if that is known; a draft knows no more than the talk.
    """
    words = talk.words
    stems = [stem(word.norm) for word in words]
    rows = plan.rows if plan and not plan.is_drafted else ()
    in_names = _telling_stems(row.move for row in rows)
    in_points = _telling_stems(point for row in rows for point in row.must_say)
    values = tuple(number_of(word.norm) for word in words)
    by_word: Mapping[str, str] = {entry.phrase: entry.label for entry in word_classes}
    down, up = _runs(words, values)
    left, right = _line_places(words)
    return TalkFacts(
        words=words,
        clock=talk.clock[0],
        tokens=tuple(
            word.norm if value is None else f"#{value}"
            for word, value in zip(words, values, strict=True)
        ),
        classes=tuple(by_word.get(word.norm, "") for word in words),
        named=tuple(one in in_names for one in stems),
        asked=tuple(one in in_points for one in stems),
        values=values,
        down=down,
        up=up,
        line_left=left,
        line_right=right,
        has_stops=60 * sum(ends_sentence(word) for word in words) > len(words),
        starts_ms=tuple(word.start_ms for word in words),
        number_starts_ms=tuple(
            word.start_ms for word, value in zip(words, values, strict=True) if value is not None
        ),
        claims=tuple(
            (at, value)
            for at, value in enumerate(values)
            if value in _CLAIMS and value is not None and down[at] < 2 and up[at] < 2
        ),
        counted_down=tuple(at for at, value in enumerate(values) if value == 1 and down[at] >= 2),
    )


def _telling_stems(texts: Iterable[str]) -> frozenset[str]:
    """Give the stems of all words of some texts but the little ones."""
    words = word_set(" ".join(texts).lower().replace("-", " "))
    return frozenset(stem(word) for word in words - _LITTLE)


def ends_sentence(word: Word) -> bool:
    """Tell whether a word is written with a mark that ends a sentence."""
    return word.text[-1:] in (".", "?", "!")


def _runs(
    words: Sequence[Word], values: Sequence[int | None]
) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Give how long a count down, and up, has run at each word; 0 where no number is."""
    down, up = [0] * len(words), [0] * len(words)
    last: int | None = None
    for at, value in enumerate(values):
        if value is None:
            continue
        down[at] = up[at] = 1
        if last is not None and at - last <= 4:
            before = values[last]
            if words[at].start_ms - words[last].start_ms < 3500 and before is not None:
                down[at] += down[last] if before == value + 1 else 0
                up[at] += up[last] if before == value - 1 else 0
        last = at
    return tuple(down), tuple(up)


def _line_places(words: Sequence[Word]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Give each word's number of words since, and until, the next hearable pause."""
    breaks = [b.start_ms - a.end_ms >= 150 or ends_sentence(a) for a, b in pairwise(words)]
    left, right = [0] * len(words), [1] * len(words)
    for at in range(1, len(words)):
        left[at] = 0 if breaks[at - 1] else left[at - 1] + 1
    for at in range(len(words) - 2, -1, -1):
        right[at] = 1 if breaks[at] else right[at + 1] + 1
    return tuple(left), tuple(right)


def list_places(talk: Talk) -> tuple[Place, ...]:
    """List every moment that may be an edge, in time order.

    Before each word; as the word before a silence ends (a count's last number lasts its
    whole second); and every half second of a longer silence.
    """
    places: list[Place] = []
    free_ms = 0
    for at, word in enumerate(talk.words):
        # In blocks silences are guesses, and a grid over a guess would only blur it.
        if talk.clock != "blocks":
            places += _silent_places(free_ms, word.start_ms, at)
        places.append(Place(word.start_ms, "W", at))
        free_ms = word.end_ms
        if number_of(word.norm) is not None:
            free_ms = max(free_ms, word.start_ms + COUNT_SECOND_MS)
    places += _silent_places(free_ms, talk.length_ms + 30_000, len(talk.words))
    return tuple(places)


def _silent_places(from_ms: int, to_ms: int, word: int) -> list[Place]:
    gap = to_ms - from_ms
    places = [Place(from_ms, "E", word)] if gap > SILENCE_MS else []
    if gap > LONG_SILENCE_MS:
        last = min(to_ms - 400, from_ms + LONGEST_GRID_MS)
        places += [Place(at, "S", word) for at in range(from_ms + GRID_MS, last, GRID_MS)]
    return places


def bucket(length_ms: int) -> int:
    """Number the rough size of a pause, 0 for none to 7 for over ten seconds."""
    return bisect_right(BUCKETS_MS, length_ms)


# What a coach's own habits are told by: the word after a place, the word before it, the
# class of the word after, and how much silence there is around.
SIGN_KINDS = ("after", "before", "class after", "silence")


def signs_at(facts: TalkFacts, place: Place) -> tuple[str, ...]:
    """Give one sign of each kind of ``SIGN_KINDS``."""
    at, kind = place.word, place.kind
    before, after = _silence_around(facts, place)
    return (
        _token(facts, at),
        _token(facts, at - 1),
        f"{_class(facts, at)} {kind}",
        f"{kind} {bucket(before)} {bucket(after)}",
    )


def _silence_around(facts: TalkFacts, place: Place) -> tuple[int, int]:
    """Give the silence before and after a place, in milliseconds."""
    words, at = facts.words, place.word
    before = place.at_ms - words[at - 1].end_ms if at else 20_000
    after = words[at].start_ms - place.at_ms if at < len(words) else 20_000
    return before, after


def _token(facts: TalkFacts, at: int) -> str:
    return facts.tokens[at] if 0 <= at < len(facts.tokens) else "$"


def _class(facts: TalkFacts, at: int) -> str:
    return facts.classes[at] if 0 <= at < len(facts.classes) else ""
