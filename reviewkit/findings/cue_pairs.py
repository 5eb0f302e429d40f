"""Find pairs of cues for one move that may ask for opposite things, and measure them.

Two cues make a pair when they name opposite poles of an axis for the same part, or for
the move as a whole; or when they name the same part, or the earlier one gives a point of
the plan, and the later one sounds like going back on something. A cue that gives a point
asks for what the plan says of it as well: "the back is a board" for a flat back. Most
such pairs are no contradiction: they are the two ways of a movement, an option, a story,
or a fault and its mending. ``FEATURES`` measure what tells them apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import log

from reviewkit.findings.cue_meeting import Meeting, meet
from reviewkit.findings.cues import INSISTS, Cue, cues_by_move
from reviewkit.findings.given_points import Given
from reviewkit.frames.grammar import Frame, are_opposite
from reviewkit.frames.terms import fold
from reviewkit.language.wordsets import word_set
from reviewkit.model import HeardClass

# What each number of a pair is; "first" and "second" are its two cues in order of time.
FEATURES = (
    "same region, close by",
    "same region",
    "of the move",
    "part unnamed",
    "neither region nor close",
    "words between pole and part",
    "length of pole words",
    "axis height",
    "axis breath",
    "poles that agree",
    "both poles in first",
    "both poles in second",
    "more poles in first",
    "more poles in second",
    "cues like first",
    "cues like second",
    "words with and without a not",
    "words in common",
    "same interval",
    "first before its interval",
    "second before its interval",
    "length of second",
    "insists in first",
    "insists in second",
    "change in first",
    "change in second",
    "option in first",
    "option in second",
    "oneself in second",
    "fault seen in first",
    "fault seen in second",
    "goes back on something in second",
    "part alone",
    "first gives a point",
    "opposed to the point",
    "part of the point",
    "words of the point",
    "point alone",
)

# Cues less far apart describe one movement.
_APART_MS = 8_000
# A cue that goes back on something is paired with any earlier one for the same part, and
# with any that gives a point.
_LEAST_TURN = -2.0
_CHANGES = word_set("now actually here instead today let's")
_CHANGE_PAIRS = frozenset({("this", "time"), ("this", "one"), ("these", "ones"), ("this", "round")})
_OPTIONS = word_set(
    "if option easier harder instead or might maybe unless either fine"
    " optional allowed sore tired wobbly rather"
)
_SEES = word_set("see seeing saw spot spotted watching caught catch some somebody someone")
_ONESELF = word_set("i my me mine i'm i'd i've he she was were said")
# Stands for a frame where only the part is shared.
_NOTHING = Frame(frozenset(), "", 0, length=0)


@dataclass(frozen=True, slots=True)
class Pair:
    """Two cues of one move with opposite poles, and their ``FEATURES``."""

    first: Cue
    second: Cue
    features: tuple[float, ...]


def find_pairs(heard: HeardClass, given: Sequence[Given] = ()) -> dict[str, tuple[Pair, ...]]:
    """Give every pair of opposed cues, by the move that was done.

    Args:
        heard: The class.
        given: Where the plan's points were given.
    """
    return {move: tuple(_pairs(cues)) for move, cues in cues_by_move(heard, given).items()}


def _opposed(frames: Sequence[Frame], two: Cue) -> list[tuple[Frame, Frame, Meeting]]:
    """Give the frames that meet those of a cue at opposite poles, the surest first."""
    found = [
        (mine, other, meeting)
        for mine in frames
        for other in two.frames
        if are_opposite(mine, other) and (meeting := meet(mine, other))
    ]
    return sorted(found, key=_sureness, reverse=True)


def _sureness(opposed: tuple[Frame, Frame, Meeting]) -> tuple[bool, bool, bool, bool, int]:
    one, other, meeting = opposed
    plain = one.length + other.length - one.gap - other.gap
    return meeting.region_close, meeting.region, meeting.part, meeting.of_the_move, plain


# --- pairs -----------------------------------------------------------------------------


def _pairs(cues: Sequence[Cue]) -> Iterator[Pair]:
    likes: dict[Frame, int] = {}
    poles = [_poles(cue.frames) for cue in cues]
    asked = [_poles((*cue.frames, *cue.asked.frames)) for cue in cues]
    opposites = _opposites(frozenset().union(*asked))
    contrary = [frozenset().union(*(opposites[pole] for pole in own)) for own in asked]
    turning = [_may_turn(cue) for cue in cues]
    for place, one in enumerate(cues):
        own = contrary[place]
        for later in range(place + 1, len(cues)):
            two = cues[later]
            may_turn = turning[later] and (bool(one.asked) or _names_same(one, two))
            if not may_turn and own.isdisjoint(poles[later]):
                continue
            if two.utterance.line.start_ms - one.utterance.line.end_ms < _APART_MS:
                continue
            opposed = _opposed(one.frames, two) or _opposed(one.asked.frames, two)
            if opposed:
                for frame in opposed[0][:2]:
                    if frame not in likes:
                        likes[frame] = _count_like(frame, cues)
                counts = (likes[opposed[0][0]], likes[opposed[0][1]])
                yield Pair(one, two, _measure(one, two, opposed, counts))
            elif may_turn:
                yield Pair(one, two, _measure(one, two, (), (1, 1)))


def _poles(frames: Sequence[Frame]) -> frozenset[str]:
    return frozenset(frame.pole for frame in frames)


def _opposites(poles: frozenset[str]) -> dict[str, frozenset[str]]:
    """Give for each pole those among the others that it shuts out."""
    bare = [Frame(frozenset(), pole, 0) for pole in poles]
    return {
        one.pole: frozenset(other.pole for other in bare if are_opposite(one, other))
        for one in bare
    }


def _names_same(one: Cue, two: Cue) -> bool:
    """Tell whether a cue names a part of an earlier one, or of the points that one gives."""
    return not (one.parts | one.asked.parts).isdisjoint(two.parts)


def _may_turn(cue: Cue) -> bool:
    """Tell whether a cue may go back on something by its words; "if" makes it an option."""
    return cue.turn > _LEAST_TURN and cue.utterance.words[0] != "if"


def _count_like(frame: Frame, cues: Sequence[Cue]) -> int:
    """Count the cues that ask for the same: a pole asked for often is the usual one."""
    return sum(
        any(other.pole == frame.pole and meet(frame, other) for other in cue.frames) for cue in cues
    )


def _measure(
    one: Cue,
    two: Cue,
    opposed: Sequence[tuple[Frame, Frame, Meeting]],
    counts: tuple[int, int],
) -> tuple[float, ...]:
    """Give the features of a pair, in the order of ``FEATURES``."""
    mine, other, _ = opposed[0] if opposed else (_NOTHING, _NOTHING, None)
    meetings = [meeting for _, _, meeting in opposed]
    axes = frozenset(frame.axis for frame, _, _ in opposed)
    is_region = any(meeting.region for meeting in meetings)
    is_close = any(meeting.region_close for meeting in meetings)
    return (
        float(is_close),
        float(is_region),
        float(any(meeting.of_the_move for meeting in meetings)),
        float(bool(meetings) and all(meeting.unnamed for meeting in meetings)),
        float(not is_region and not is_close),
        (mine.gap + other.gap) / 2,
        float(min(3, mine.length) + min(3, other.length)),
        float(mine.axis == "height"),
        float(mine.axis == "breath"),
        float(min(2, _agreement(one, two))),
        *(float(_names_both(cue, axes)) for cue in (one, two)),
        *(float(_further_poles(cue, axes)) for cue in (one, two)),
        *(log(max(1, count)) for count in counts),
        *_shared_words(one, two),
        float(one.interval.id == two.interval.id),
        float(one.is_before),
        float(two.is_before),
        min(20, len(two.utterance.words)) / 10,
        *(_count(INSISTS, cue, 3) for cue in (one, two)),
        *(_changes(cue) for cue in (one, two)),
        *(_count(_OPTIONS, cue, 1) for cue in (one, two)),
        _count(_ONESELF, two, 1),
        *(_count(_SEES, cue, 1) for cue in (one, two)),
        two.turn,
        float(not opposed),
        *_beside_points(one, two, is_opposed=bool(opposed)),
    )


def _beside_points(one: Cue, two: Cue, *, is_opposed: bool) -> tuple[float, ...]:
    """Say how a cue stands to the points of the plan that an earlier one gives."""
    asked = one.asked
    return (
        float(bool(asked)),
        float(bool(_opposed(asked.frames, two))),
        float(not asked.parts.isdisjoint(two.parts)),
        float(min(2, len(asked.words & set(map(fold, two.utterance.words))))),
        float(bool(asked) and not is_opposed and one.parts.isdisjoint(two.parts)),
    )


def _agreement(one: Cue, two: Cue) -> int:
    """Count the frames in which two cues ask for the same."""
    return sum(
        mine.pole == other.pole and bool(meet(mine, other))
        for mine in one.frames
        for other in two.frames
    )


def _names_both(cue: Cue, axes: frozenset[str]) -> bool:
    """Tell whether a cue names both poles of an axis: it may describe a movement."""
    return any(
        mine.axis in axes and are_opposite(mine, other)
        for mine in cue.frames
        for other in cue.frames
    )


def _further_poles(cue: Cue, axes: frozenset[str]) -> int:
    """Count, up to 2, the further words of a cue that lie on the axes in question."""
    return max(0, min(2, len({frame.at for frame in cue.frames if frame.axis in axes}) - 1))


def _shared_words(one: Cue, two: Cue) -> tuple[float, float]:
    """Count shared words that one cue turns and the other does not, and all shared ones."""
    shared = one.content.keys() & two.content.keys()
    turned = sum(one.content[word] != two.content[word] for word in shared)
    return float(min(2, turned)), float(min(3, len(shared)))


def _count(words: frozenset[str], cue: Cue, most: int) -> float:
    return float(min(most, sum(word in words for word in cue.utterance.words)))


def _changes(cue: Cue) -> float:
    """Count, up to 2, the words of a cue that say it wants something else from now on."""
    words = cue.utterance.words
    pairs = sum(pair in _CHANGE_PAIRS for pair in pairwise(words))
    return min(2.0, pairs + _count(_CHANGES, cue, 2))
