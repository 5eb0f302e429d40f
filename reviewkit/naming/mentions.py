"""How a move is named: announced, given away, offered as a choice, looked back on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reviewkit.language.wordsets import word_set
from reviewkit.model import Mark, Talk

# How many words may lie between a name and the words that say how it is meant.
_BEFORE, _AFTER = 3, 4
_OFFER_WORDS, _MEANT_WORDS = 6, 5
# A giving away reaches this many words on to the name, or back to it.
_GIVEN_ON, _GIVEN_BACK = 5, 7
# Words on the other side of a pause say nothing of a name.
_PAUSE_MS = 900
_PLAIN = 1.0

_REFUSED = word_set(
    "no not without never skip skipping swap swapping replace replacing forget scrap drop dropping"
    " ditch ditching bin binning enough cancel cancelled than isn't aren't won't can't"
)
# "X nope", "X can wait", "X is off tonight", "you've pressed enough".
_REFUSED_AFTER = word_set("nope no wait enough off out cancelled isn't aren't won't can't cannot")
# "It should be X", "I was going to do X", "you were expecting X".
_MEANT = (
    ("should",), ("supposed",), ("meant",), ("was", "going"), ("were", "going"), ("was", "gonna"),
    ("were", "gonna"), ("was", "about"), ("expecting",), ("looking", "for"), ("had",),
    ("promised",), ("planned",), ("would", "have"),
)  # fmt: skip
_ANNOUNCES = word_set(
    "it's its we're we'll doing do called time try let's going gonna i'm swap take give so have"
)
_OFFERS = word_set(
    "if option options easier harder rather prefer either alternatively version unless when"
)
_LIKE = word_set("like as")
_PAST = word_set("was were did")
_INSTEAD, _OF, _OR = "instead", "of", "or"


@dataclass(frozen=True, slots=True)
class How:
    """How one mention of a move is meant."""

    is_announced: bool
    is_refused: bool
    is_offered: bool
    is_instead: bool
    is_past: bool

    @property
    def is_kept(self) -> bool:
        """Whether the move is neither given away nor looked back on."""
        return not (self.is_refused or self.is_past)

    @property
    def is_to_do(self) -> bool:
        """Whether the move is named as one to do, not as a choice."""
        return self.is_kept and not self.is_offered


def how_named(name: Mark, calls: Sequence[Mark], talk: Talk) -> How:
    """Tell how a move is named by the words around it.

    Args:
        name: The mention.
        calls: Words close by that give a move away.
        talk: The words of the class.
    """
    early = words_before(name, talk, _OFFER_WORDS)
    before, after = early[-_BEFORE:], words_after(name, talk, _AFTER)
    is_offered = (
        bool(_OFFERS & set(early)) or before[-1:] == (_OR,) or bool(_LIKE & set(before[-2:]))
    )
    is_refused = (
        before[-2:] == (_INSTEAD, _OF)
        or bool(_REFUSED & set(before))
        or bool(_REFUSED_AFTER & set(after[:2]))
        or any(_has_run(early[-_MEANT_WORDS:], run) for run in _MEANT)
        or any(_gives_away(call, name) for call in calls)
    )
    return How(
        is_announced=bool(_ANNOUNCES & set(before)) and not is_offered,
        is_refused=is_refused,
        is_offered=is_offered,
        is_instead=_INSTEAD in after and _OF not in after,
        is_past=bool(_PAST & set(before[-2:])),
    )


def _gives_away(call: Mark, name: Mark) -> bool:
    """Tell whether a name is given away: "scrap the X", "X on a wet roof not happening"."""
    if call.text.endswith(_INSTEAD):
        return False
    on, back = name.first - call.last, call.first - name.last
    return 0 < on <= _GIVEN_ON or (0 < back <= _GIVEN_BACK and call.weight >= _PLAIN)


def _has_run(words: Sequence[str], run: tuple[str, ...]) -> bool:
    return any(tuple(words[at : at + len(run)]) == run for at in range(len(words)))


def words_before(name: Mark, talk: Talk, most: int) -> tuple[str, ...]:
    """Give the words right before a name, back to the last pause."""
    first = name.first
    while name.first - first < most and first and _is_close(talk, first - 1):
        first -= 1
    return tuple(word.norm for word in talk.words[first : name.first])


def words_after(name: Mark, talk: Talk, most: int) -> tuple[str, ...]:
    """Give the words right after a name, up to the next pause."""
    last = name.last
    while last - name.last < most and last + 1 < len(talk.words) and _is_close(talk, last):
        last += 1
    return tuple(word.norm for word in talk.words[name.last + 1 : last + 1])


def _is_close(talk: Talk, at: int) -> bool:
    """Tell whether no pause lies between a word and the next."""
    return talk.words[at + 1].start_ms - talk.words[at].end_ms <= _PAUSE_MS
