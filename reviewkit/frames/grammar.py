"""Parse talk into frames: which part, on which axis, at which pole, for which phase.

"Don't let the heels lift" and "heels stay glued to the floor" are the same frame: heel,
height, down. The list ``axes`` says which words stand for which pole of which axis;
words such as "don't" and "never" turn the pole of what follows them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest

from reviewkit.frames.terms import (
    PARTS_LIST,
    POLES_LIST,
    Term,
    TermBook,
    fold,
    make_book,
    read_terms,
)
from reviewkit.language.wordsets import word_set
from reviewkit.model import Lexicon, Phrase
from reviewkit.once import once_for

AXES_LIST = "axes"

# Words on either side of a pole word among which its body part is looked for.
_PART_REACH = 9
# Words between a pole word and the part it surely speaks of.
_CLOSE_REACH = 5
# Words before a pole word among which a turning word still turns it.
_TURN_REACH = 5
_TURNERS = word_set(
    "don't not never no without nobody isn't aren't doesn't cannot can't won't nothing stop avoid"
    " shouldn't dont doesnt none neither"
)
# "Nobody with a bump is lying flat": whom a ban is for may stand in between.
_FAR_TURNERS = word_set("nobody none no-one")
_FAR_REACH = 8
_URGES = word_set("want wants try tries trying love loves like likes tend tends")
_TURN_ENDS = word_set("but and just only it's they're instead so because keep then i")

# The other pole of each pole.
_PAIRS = (
    ("height:up", "height:down"),
    ("width:out", "width:in"),
    ("distance:near", "distance:far"),
    ("bend:soft", "bend:locked"),
    ("curve:flat", "curve:arch"),
    ("round:flat", "round:round"),
    ("depth:shallow", "depth:deep"),
    ("size:small", "size:big"),
    ("hold:on", "hold:off"),
    ("rebound:settle", "rebound:bounce"),
    ("load:light", "load:full"),
    ("pace:slow", "pace:fast"),
    ("point:down", "point:up"),
    ("gaze:up", "gaze:down"),
    ("turn:ahead", "turn:out"),
    ("lean:upright", "lean:lean"),
    ("weight:heels", "weight:toes"),
    ("tension:tight", "tension:loose"),
    ("hipheight:up", "hipheight:down"),
    ("breath:out", "breath:in"),
    ("swing:still", "swing:swing"),
    ("past:behind", "past:past"),
    ("palm:up", "palm:down"),
    ("palm:in", "palm:front"),
    ("slack:tight", "slack:loose"),
    ("travel:spot", "travel:travel"),
    ("sag:line", "sag:sag"),
    ("cave:line", "cave:cave"),
    ("level:level", "level:tip"),
    ("cross:front", "cross:behind"),
    ("hop:ground", "hop:hop"),
    ("sight:open", "sight:shut"),
    ("breath:flow", "breath:held"),
    ("first:heel", "first:toes"),
    ("sole:whole", "sole:toes"),
    ("twist:still", "twist:twist"),
    ("sit:hover", "sit:sit"),
    ("prop:flat", "prop:up"),
    ("stack:stacked", "stack:rolled"),
    ("stay:low", "stay:tall"),
    ("push:back", "push:forward"),
    ("noise:quiet", "noise:loud"),
    ("eyes:fixed", "eyes:roam"),
    ("row:low", "row:high"),
    ("tilt:forward", "tilt:back"),
    ("tail:under", "tail:out"),
    ("guard:up", "guard:down"),
    ("pivot:turn", "pivot:stay"),
    ("lead:trunk", "lead:arm"),
    ("dip:legs", "dip:waist"),
    ("rate:together", "rate:alternate"),
)
OPPOSITES = {one: other for pair in _PAIRS for one, other in (pair, pair[::-1])}
# Axes with more than two poles, each of which shuts the others out.
_MANY = ("palm",)
_HELD = frozenset({"breath:held", "breath:out"})
# Words that name a part only where somebody owns it, or it is said how it is: "send it back"
# and "as low as you can" name none.
_MAYBE_PARTS = word_set("back backs face can drop drops")
_BEFORE_PARTS = word_set(
    "your the my his her their our that this those whole a an each tin flat straight long lower"
    " upper low strong entire mid of and"
)
_AFTER_PARTS = word_set(
    "as flat straight long neutral stays stay arches rounds arched rounded pressed tall strong is"
    " isn't"
)
_DIRECTION = "front of you"
_SIDES = frozenset({"side", "sides"})
_OWNERS = dict.fromkeys(("my", "the", "their", "those", "these", "his", "her", "our"), "your")

# What the breath goes with: words of the way up and of the way down.
_PHASES = {
    **dict.fromkeys(
        (
            "lift",
            "rise",
            "up",
            "push",
            "press",
            "stand",
            "raise",
            "curl",
            "pull",
            "row",
            "punch",
            "drive",
            "throw",
            "slam",
        ),
        "rise",
    ),
    **dict.fromkeys(("lower", "down", "sink", "drop", "descend", "sit"), "lower"),
    **dict.fromkeys(("away", "extend", "reach", "lengthen", "open", "straighten"), "away"),
    **dict.fromkeys(("return", "back", "home", "close", "fold", "bend"), "home"),
}
_PHASE_REACH = 7
_JOINTS = word_set("and then but or in out")
_POINTERS = word_set("they them those it that these it's they're")


@dataclass(frozen=True, slots=True)
class Frame:
    """One thing asked for: parts, a pole such as "height:down", and where it was said.

    ``is_turned`` tells that a turning word made it the opposite of the words heard;
    ``close`` holds the part named nearest to the pole, ``gap`` how many words lie between
    them, ``parts`` all that are near.
    """

    parts: frozenset[str]
    pole: str
    at: int
    length: int = 1
    is_turned: bool = False
    close: frozenset[str] = frozenset()
    gap: int = 0

    @property
    def axis(self) -> str:
        """The axis the pole lies on."""
        return self.pole.partition(":")[0]


@dataclass(frozen=True, slots=True)
class FrameBook:
    """The word lists that frames are parsed with: body parts, and poles of axes."""

    parts: TermBook
    axes: TermBook


def frame_book(lexicon: Lexicon) -> FrameBook:
    """Index the lists; call it once and hand the book on."""
    lists = lexicon.lists
    return make_frame_book(
        lists.get(PARTS_LIST, ()), lists.get(POLES_LIST, ()), lists.get(AXES_LIST, ())
    )


def make_frame_book(
    parts: tuple[Phrase, ...], poles: tuple[Phrase, ...], axes: tuple[Phrase, ...]
) -> FrameBook:
    """Index the lines of the three lists."""
    return FrameBook(make_book(parts, poles), _axis_book(axes))


def parse_frames(words: Sequence[str], book: FrameBook) -> tuple[Frame, ...]:
    """Parse lower-case words into frames, in the order of their pole words."""
    terms = [term for term in read_terms(_one_owner(words), book.axes) if term.senses]
    parts = parts_heard(words, book.parts) if terms else []
    frames: list[Frame] = []
    end = since = 0
    for term in terms:
        if term.at < end:
            continue
        is_turned = is_turned_at(words, term.at, since) or (
            term.at == end and _goes_on(frames, term.senses)
        )
        end = term.at + term.length
        since = end
        near = _nearest(parts, words, term.at, end)
        for pole in sorted(term.senses):
            turned = OPPOSITES.get(pole, pole) if is_turned else pole
            goes_with = _phases(words, term.at, end) if pole.startswith("breath") else near
            gap, close = _closest(parts, term.at, end)
            if pole.startswith("breath"):
                gap, close = 0, goes_with
            frames.append(Frame(goes_with, turned, term.at, term.length, is_turned, close, gap))
    return tuple(frames)


def _goes_on(frames: Sequence[Frame], senses: frozenset[str]) -> bool:
    """Tell whether what was just said was turned and goes on: "don't lift off the floor"."""
    return bool(frames) and frames[-1].is_turned and frames[-1].pole not in senses


def are_opposite(one: Frame, other: Frame) -> bool:
    """Tell whether two frames lie at opposite poles, whatever their parts."""
    return (
        OPPOSITES.get(one.pole) == other.pole
        or (one.axis in _MANY and one.axis == other.axis and one.pole != other.pole)
        or {one.pole, other.pole} == _HELD
    )


@once_for(4)
def _axis_book(lines: tuple[Phrase, ...]) -> TermBook:
    """Index the lines; whose part it is makes no difference."""
    owned = (Phrase(" ".join(_one_owner(line.phrase.split())), line.label) for line in lines)
    return make_book((), tuple(owned))


def _one_owner(words: Sequence[str]) -> list[str]:
    """Give every owner as "your"; "to the side" is away from oneself and "your side" is not."""
    return [
        word if after in _SIDES else _OWNERS.get(word, word)
        for word, after in zip_longest(words, words[1:])
    ]


def is_turned_at(words: Sequence[str], at: int, since: int = 0) -> bool:
    """Tell whether a turning word before a place, from ``since`` on, turns what is said."""
    for place in range(at - 1, max(-1, at - 1 - _FAR_REACH), -1):
        is_near = place >= at - _TURN_REACH
        turners = _TURNERS if is_near else _FAR_TURNERS
        if (is_near and _is_urge(words, place)) or (place >= since and words[place] in turners):
            return True
        if words[place] in _TURN_ENDS:
            return False
    return False


def _is_urge(words: Sequence[str], place: int) -> bool:
    """Tell whether a part "wants to" or "will try to": the opposite of what is asked."""
    return (
        words[place] == "to"
        and place > 1
        and words[place - 1] in _URGES
        and words[place - 2] not in ("i", "we", "you", "i'd")
    )


def parts_heard(words: Sequence[str], book: TermBook) -> list[tuple[int, int, frozenset[str]]]:
    """Find the body parts: place, end and senses."""
    found = []
    end = 0
    for term in read_terms(words, book):
        senses = term.senses & book.parts
        if senses and end <= term.at and _is_part(words, term):
            end = term.at + term.length
            found.append((term.at, end, senses))
    return found


def _is_part(words: Sequence[str], term: Term) -> bool:
    """Tell a part from a word that only sounds like one."""
    if term.length > 1:
        return term.key != _DIRECTION
    if words[term.at] not in _MAYBE_PARTS:
        return True
    before, after = words[max(0, term.at - 1) : term.at], words[term.at + 1 : term.at + 2]
    return not _BEFORE_PARTS.isdisjoint(before) or not _AFTER_PARTS.isdisjoint(after)


def _nearest(
    parts: Sequence[tuple[int, int, frozenset[str]]], words: Sequence[str], at: int, end: int
) -> frozenset[str]:
    """Give the senses of the parts near a pole word, and of the part a pointer stands for."""
    near = [
        senses
        for start, stop, senses in parts
        if at - _PART_REACH <= stop and start <= end + _PART_REACH
    ]
    pointer = next((word for word in words[max(0, at - 6) : at] if word in _POINTERS), None)
    before = [senses for _, stop, senses in parts if stop <= at]
    if pointer and before:
        near.append(before[-1])
    return frozenset().union(*near)


def _closest(
    parts: Sequence[tuple[int, int, frozenset[str]]], at: int, end: int
) -> tuple[int, frozenset[str]]:
    """Give the senses of the part, or the two parts, nearest to a pole word, and how near."""
    gaps = [(max(start - end, at - stop, 0), senses) for start, stop, senses in parts]
    least = min((gap for gap, _ in gaps), default=_CLOSE_REACH + 1)
    if least > _CLOSE_REACH:
        return _CLOSE_REACH + 1, frozenset()
    return least, frozenset().union(*(senses for gap, senses in gaps if gap == least))


def _phases(words: Sequence[str], at: int, end: int) -> frozenset[str]:
    """Give the phases named beside a word of breath."""
    before = list(words[max(0, at - _PHASE_REACH) : at])[::-1]
    after = list(words[end : end + _PHASE_REACH])
    around = (*_until_joint(before), *_until_joint(after))
    return frozenset(_PHASES[fold(word)] for word in around if fold(word) in _PHASES)


def _until_joint(words: Sequence[str]) -> Sequence[str]:
    """Keep the words before the first one that starts another clause."""
    return words[: next((at for at, word in enumerate(words) if word in _JOINTS), len(words))]
