"""What can be seen around a moment that may be the edge of an interval.

Coaches tell an edge by what they say right before and after it ("three two one",
"off we go", "and rest"), by silence, by counts that come down to one and by "ten
seconds" said ten seconds before. Each such fact is a named feature; a fitted linear
model weighs them. The names are short because there are many: ``R1go`` says that the
first word to the right is "go", ``L`` is left, ``c`` a word's class, ``k`` the kind of
moment.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from reviewkit.language.numbers import find_numbers
from reviewkit.model import Phrase, Talk, Word

COUNT_SECOND_MS = 950
# A silence this long may hold an edge that no word tells.
SILENCE_MS = 700
LONG_SILENCE_MS = 1500
GRID_MS = 500
LONGEST_GRID_MS = 90_000
_CLAIMS = frozenset((5, 10, 15, 20, 30))
_MOST_STEPS = 9
_BUCKETS_MS = (60, 150, 600, 1200, 2500, 5000, 10_000)


@dataclass(frozen=True, slots=True)
class _Window:
    """A time before or after a place: what starts there is counted in steps, each named."""

    length_ms: int
    step: int
    before: tuple[str, ...]
    after: tuple[str, ...]


def _windows(name: str, *windows_s: tuple[int, int]) -> tuple[_Window, ...]:
    steps = range(_MOST_STEPS + 1)
    return tuple(
        _Window(
            1000 * window_s,
            step,
            tuple(f"{name}l{window_s} {count}" for count in steps),
            tuple(f"{name}r{window_s} {count}" for count in steps),
        )
        for window_s, step in windows_s
    )


# How busy the talk is: seconds before and after a place, and words or numbers to a step.
_WORD_WINDOWS = _windows("d", (4, 1), (10, 4), (25, 10))
_NUMBER_WINDOWS = _windows("n", (5, 1), (12, 1), (30, 1))


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

    ``claims`` are the words that may claim seconds left, and how many; ``counted_down``
    those with which a count comes down to one.
    """

    words: tuple[Word, ...]
    clock: str
    tokens: tuple[str, ...]
    classes: tuple[str, ...]
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


def gather_facts(talk: Talk, word_classes: Sequence[Phrase]) -> TalkFacts:
    """Look once at every word of the talk."""
    words = talk.words
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
        values=values,
        down=down,
        up=up,
        line_left=left,
        line_right=right,
        has_stops=60 * sum(_ends_sentence(word) for word in words) > len(words),
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


def _ends_sentence(word: Word) -> bool:
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
    breaks = [b.start_ms - a.end_ms >= 150 or _ends_sentence(a) for a, b in pairwise(words)]
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
    return bisect_right(_BUCKETS_MS, length_ms)


def features_at(facts: TalkFacts, place: Place) -> list[str]:
    """Name everything seen around one place."""
    at, kind, clock = place.word, place.kind, facts.clock
    before, after = _silence_around(facts, place)
    found = [f"k{kind}{clock}", f"{clock}{kind}b{bucket(before)}", f"{clock}{kind}a{bucket(after)}"]
    found += _word_features(facts, at) if kind == "W" else _silence_features(facts, kind, at)
    found += {f"LB{facts.tokens[j]}" for j in range(max(0, at - 10), at - 3)}
    found += {f"LC{facts.classes[j]}" for j in range(max(0, at - 8), at - 2) if facts.classes[j]}
    found += _number_features(facts, place)
    found += _pace_features(facts, place.at_ms)
    return found


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


def _word_features(facts: TalkFacts, at: int) -> list[str]:
    r1, r2, r3 = (_token(facts, at + n) for n in range(3))
    l1, l2, l3 = (_token(facts, at - n) for n in (1, 2, 3))
    right = min(facts.line_right[at], 7)
    left = min(facts.line_left[at], 7) if at < len(facts.words) else 0
    found = [
        f"R1{r1}", f"R2{r2}", f"R3{r3}", f"L1{l1}", f"L2{l2}", f"L3{l3}",
        f"RP{r1} {r2}", f"RQ{r2} {r3}", f"LP{l2} {l1}", f"LR{l1} {r1}", f"RT{r1} {r2} {r3}",
        f"{facts.clock}ll{left}", f"{facts.clock}lr{right if left == 0 else 0}",
        f"Rc1{_class(facts, at)}", f"Lc1{_class(facts, at - 1)}", f"Rc2{_class(facts, at + 1)}",
    ]  # fmt: skip
    if facts.has_stops:
        found.append(f"st{int(at == 0 or _ends_sentence(facts.words[at - 1]))}")
    found += {f"RB{facts.tokens[j]}" for j in range(at + 3, min(at + 8, len(facts.tokens)))}
    ahead = range(at + 2, min(at + 8, len(facts.classes)))
    found += {f"RC{facts.classes[j]}" for j in ahead if facts.classes[j]}
    return found


def _silence_features(facts: TalkFacts, kind: str, at: int) -> list[str]:
    l1, l2 = _token(facts, at - 1), _token(facts, at - 2)
    r1, r2 = _token(facts, at), _token(facts, at + 1)
    return [
        f"{kind}1{l1}", f"{kind}2{l2}", f"{kind}P{l2} {l1}", f"SR1{r1}", f"SR2{r2}",
        f"SRP{r1} {r2}", f"{kind}c1{_class(facts, at - 1)}", f"Sc1{_class(facts, at)}",
    ]  # fmt: skip


def _number_features(facts: TalkFacts, place: Place) -> list[str]:
    """Say how counts and claims of seconds left bear on this place."""
    found: list[str] = []
    at = place.word
    last = facts.values[at - 1] if at else None
    if last is not None and place.kind != "S":
        since = bucket(place.at_ms - facts.words[at - 1].start_ms)
        found += [
            f"cd{min(facts.down[at - 1], 5)} {min(last, 3)}",
            f"cu{min(facts.up[at - 1], 4)}",
            f"cs{since}",
        ]
    following = facts.values[at] if at < len(facts.values) else None
    if following is not None:
        found.append(f"cn{min(following, 6)}")
    found += _count_done(facts, place)
    found += _claims_due(facts, place)
    return found


def _pace_features(facts: TalkFacts, at_ms: int) -> list[str]:
    """Say how much talk (``d``), and how much counting (``n``), there is close by."""
    return [
        *_near(facts.starts_ms, at_ms, _WORD_WINDOWS),
        *_near(facts.number_starts_ms, at_ms, _NUMBER_WINDOWS),
    ]


def _near(starts_ms: Sequence[int], at_ms: int, windows: Iterable[_Window]) -> Iterator[str]:
    """Count, in steps, what starts in windows before and after a moment."""
    here = bisect_left(starts_ms, at_ms)
    for window in windows:
        before = here - bisect_left(starts_ms, at_ms - window.length_ms)
        after = bisect_left(starts_ms, at_ms + window.length_ms) - here
        yield window.before[min(before // window.step, _MOST_STEPS)]
        yield window.after[min(after // window.step, _MOST_STEPS)]


def _count_done(facts: TalkFacts, place: Place) -> list[str]:
    """Say how long ago, in steps of two seconds, the last count came down to one."""
    nth = bisect_left(facts.counted_down, place.word)
    if not nth:
        return []
    since = place.at_ms - facts.words[facts.counted_down[nth - 1]].start_ms
    return [f"cc{since // 2000}"] if since < 14_000 else []


def _claims_due(facts: TalkFacts, place: Place) -> list[str]:
    """Say how far off the place is from the end of each "ten seconds" said before it."""
    found: list[str] = []
    for nth in range(bisect_left(facts.claims, (place.word,)) - 1, -1, -1):
        claim, claimed_s = facts.claims[nth]
        since = place.at_ms - facts.words[claim].end_ms
        if since >= 35_000:
            break
        off = since / 1000 - claimed_s
        if -3 < off < 3:
            found.append(f"cl{min(claimed_s, 15)} {int(off // 1)}")
    return found


def work_features(facts: TalkFacts, at: int) -> list[str]:
    """Name what says whether a word is talk during work or between intervals."""
    tokens = facts.tokens
    found = [f"0{tokens[at]}", f"-{_token(facts, at - 1)} {tokens[at]}", f"0c{facts.classes[at]}"]
    found += [f"a{_token(facts, j)}" for j in range(at - 6, at)]
    found += [f"b{_token(facts, j)}" for j in range(at + 1, at + 7)]
    near = (*range(max(0, at - 6), at), *range(at + 1, min(at + 7, len(tokens))))
    found += [f"c{facts.classes[j]}" for j in near if facts.classes[j]]
    return found
