"""Say in words what speaks for a moment being an edge: what the odds would be without it.

The network is asked again with one thing at a time left out of what it is given (Zeiler
and Fergus 2014, "Visualizing and understanding convolutional networks": occlusion). What
the odds lose is what that thing speaks for the edge; what is left over is all else.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from reviewkit.marks.edge_features import Place, TalkFacts
from reviewkit.marks.edge_inputs import PLACE_FACTS, WORD_FACTS
from reviewkit.marks.edge_net import OUTPUTS, REACHES, EdgeNet, Heard, hear, weigh
from reviewkit.model.explained import Reason

SHOWN_WORDS = 4
FURTHER_WORDS = 8
NUMBER_WORDS = 8
ALL_ELSE = "any moment, and all else around it"
ONE_COUNTED = "a count came down to one"
BUSY_AROUND = "how much is said and counted before and after"
# What speaks for less than this is told with all else.
LEAST_TOLD = 0.05


@dataclass(frozen=True, slots=True)
class _LeftOut:
    """Something heard: how it is told, and what the network is given without it."""

    text: str
    rest: Heard


def edge_reasons(net: EdgeNet, facts: TalkFacts, place: Place, output: str) -> tuple[Reason, ...]:
    """Give what the talk says of one place, strongest first; the weights add up to its odds.

    Args:
        net: The fitted network.
        facts: Of the whole talk.
        place: The moment.
        output: ``start`` or ``end``.
    """
    column = OUTPUTS.index(output)
    heard = _close_by(hear(net, facts, [place]))

    def odds(given: Heard) -> float:
        return float(weigh(net, given).edges[0, column])

    whole = odds(heard)
    told = [
        Reason(one.text, weight)
        for one in _things_heard(facts, place, heard)
        if abs(weight := whole - odds(one.rest)) >= LEAST_TOLD
    ]
    rest = Reason(ALL_ELSE, whole - sum(reason.weight for reason in told))
    return tuple(sorted((*told, rest), key=lambda one: (-abs(one.weight), one.text)))


def words_before(facts: TalkFacts, place: Place, most: int = SHOWN_WORDS) -> str:
    """Give the last words said before a place."""
    return _said(facts, range(max(0, place.word - most), place.word))


def words_after(facts: TalkFacts, place: Place, most: int = SHOWN_WORDS) -> str:
    """Give the first words said from a place on."""
    return _said(facts, range(place.word, min(len(facts.words), place.word + most)))


def _said(facts: TalkFacts, places: range) -> str:
    return " ".join(word.text for word in facts.words[places.start : places.stop])


def _close_by(heard: Heard) -> Heard:
    """Keep the words that the network can see from the one place."""
    at, reach = int(heard.at[0]), sum(REACHES)
    low = max(0, at - 1 - reach)
    seen = slice(low, at + reach + 1)
    return replace(
        heard,
        words=heard.words[seen],
        classes=heard.classes[seen],
        word_facts=heard.word_facts[seen],
        at=heard.at - low,
    )


# Facts that tell of the silence between two words: of the word before it, and after.
_BEFORE_SILENCE = ("silence after", "pause after")
_AFTER_SILENCE = ("silence before", "since the word before", "pause before")
_NUMBERS = ("number", "value", "counted down", "counted up", "counted to one")
_PLANNED = ("in a planned name", "in a planned point")
_COUNT_DONE = ("since a count to one", "right after a count to one")
_CLAIM = ("claim due", "claim near")
_BUSY = tuple(name for name in PLACE_FACTS if name.startswith(("words ", "numbers ")))


def _things_heard(facts: TalkFacts, place: Place, heard: Heard) -> Iterator[_LeftOut]:
    """List what may speak for or against an edge, each with the talk as it would be without."""
    at = int(heard.at[0])
    near, far = SHOWN_WORDS, SHOWN_WORDS + FURTHER_WORDS
    for told, first, last in (
        ("the words before", -near, 0),
        ("the words after", 0, near),
        ("said before that", -far, -near),
        ("said after that", near, far),
    ):
        said = _said(facts, range(max(0, place.word + first), max(0, place.word + last)))
        if said:
            words = slice(max(0, at + first), max(0, at + last))
            yield _LeftOut(f'{told}: "{said}"', _without_words(heard, words))
    silence = _without(heard, slice(max(0, at - 1), at), _BEFORE_SILENCE)
    silence = _without(silence, slice(at, at + 1), _AFTER_SILENCE)
    yield _LeftOut(
        _pauses(facts, place), _without_of_place(silence, ("silence before", "silence after"))
    )
    counted = _without(heard, slice(max(0, at - NUMBER_WORDS), at), _NUMBERS)
    yield _LeftOut(_count(facts, place), _without_of_place(counted, _COUNT_DONE))
    yield _LeftOut(_claim(facts, place), _without_of_place(heard, _CLAIM))
    yield _LeftOut(BUSY_AROUND, _without_of_place(heard, _BUSY))


def _without_words(heard: Heard, left_out: slice) -> Heard:
    """Take some words for words that neither the network nor the plan knows."""
    words, classes = heard.words.copy(), heard.classes.copy()
    words[left_out] = classes[left_out] = 0
    return _without(replace(heard, words=words, classes=classes), left_out, _PLANNED)


def _without(heard: Heard, words: slice, names: Sequence[str]) -> Heard:
    given = heard.word_facts.copy()
    given[words, [WORD_FACTS.index(name) for name in names]] = 0
    return replace(heard, word_facts=given)


def _without_of_place(heard: Heard, names: Sequence[str]) -> Heard:
    given = heard.place_facts.copy()
    given[:, [PLACE_FACTS.index(name) for name in names]] = 0
    return replace(heard, place_facts=given)


def _pauses(facts: TalkFacts, place: Place) -> str:
    words, at = facts.words, place.word
    before = _pause(place.at_ms - words[at - 1].end_ms, "before") if at else ""
    if place.kind == "W" or not at:
        return before or "nothing was said before"
    if at == len(words):
        return "nothing is said after"
    return f"{before}, {_pause(words[at].start_ms - place.at_ms, 'after')}"


def _pause(length_ms: int, where: str) -> str:
    return (
        f"a pause of {length_ms / 1000:.1f} s {where}" if length_ms >= 100 else f"no pause {where}"
    )


def _count(facts: TalkFacts, place: Place) -> str:
    """Tell of the last number before a place, and of the count that it ends."""
    numbers = (at for at in range(place.word - 1, -1, -1) if facts.values[at] is not None)
    at = next(numbers, None)
    if at is None:
        return "no count before"
    word, since_s = facts.words[at].norm, (place.at_ms - facts.words[at].start_ms) / 1000
    if facts.down[at] >= 2 and facts.values[at] == 1:
        return ONE_COUNTED if since_s < 2 else f"{ONE_COUNTED} {since_s:.0f} s before"
    if facts.down[at] >= 2:
        return f'a count came down to "{word}"'
    if facts.up[at] >= 2:
        return f'a count went up to "{word}"'
    return f'the number "{word}" before'


def _claim(facts: TalkFacts, place: Place) -> str:
    """Name the claim of seconds left that falls due nearest to the place."""
    due = [
        (abs((place.at_ms - facts.words[at].end_ms) / 1000 - claimed_s), at)
        for at, claimed_s in facts.claims
        if at < place.word
    ]
    if not due:
        return "no seconds counted off"
    at = min(due)[1]
    since_s = (place.at_ms - facts.words[at].end_ms) / 1000
    unit = _said(facts, range(at + 1, min(at + 2, place.word)))
    said = f"{facts.words[at].text} {unit}" if unit.startswith("sec") else facts.words[at].text
    return f'"{said}" said {since_s:.0f} s before'
