"""One line of talk as the readers of time calls see it: words and the lists around them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import chain

from reviewkit.language.overlap import overlaps
from reviewkit.language.phrase_index import EMPTY, PhraseIndex
from reviewkit.language.wordsets import word_set

# Bare numbers that coaches call as seconds; others are repetitions or beats.
ROUND_S = frozenset((5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 90, 120))
_STORY = word_set(
    "was were had said told took ago years year weeks people came cost costs bought waited "
    "he she he's she's pounds quid euros dollars o'clock percent train bus video ferry"
)
_STORY_BEFORE, _STORY_AFTER = 7, 4
# Nouns that do not end in s and still say what a number counts.
_COUNTED = word_set("each people men women children percent kilo kilos pound pounds degree reps")
_NOT_PLURAL = word_set(
    "this is yes us seconds secs ticks minutes mins let's that's it's there's here's guys folks "
    "always was has as its perhaps begins starts remains says reads shows goes stands comes "
    "ladies legends boys girls friends class champs champions heroes warriors troops campers lads "
    "lasses blokes fellas peeps dears darlings loves lovelies petals beauties babes queens kings "
    "superstars rockstars fighters athletes comrades mates amigos amigas dancers walkers swimmers "
    "sisters brothers humans y'all"
)
# What may follow a call without turning it into something else.
_GOES_ON = word_set(
    "and so then keep go now well come don't if you we it let stay hold push breathe one "
    "two nice good hang halfway change switch really great dig just but squeeze drive sit my "
    "folks guys team everyone everybody people all come yes okay oh with use still there on for "
    "here this that in i he she they"
)


@dataclass(frozen=True, slots=True)
class Call:
    """A call inside one line: words ``first`` to ``last``, what they claim and how surely."""

    first: int
    last: int
    ref: str
    value: float | None = None
    weight: float = 1.0


@dataclass(frozen=True, slots=True)
class CallLine:
    """The words of one line with the lists that read them."""

    words: tuple[str, ...]
    lists: dict[str, PhraseIndex]

    def named(self, label: str) -> PhraseIndex:
        """Give the phrases of one label, none when nobody uses it."""
        return self.lists.get(label, EMPTY)

    def word(self, at: int) -> str:
        """Give one word, nothing outside the line."""
        return self.words[at] if 0 <= at < len(self.words) else ""

    def after(self, label: str, at: int, skip: int = 0) -> int:
        """Give where a phrase of a list ends that starts at most ``skip`` words on, or -1."""
        for start in range(at, at + skip + 1):
            length = self.named(label).length_at(self.words, start)
            if length:
                return start + length - 1
            if not self.named("fill").length_at(self.words, start):
                break
        return -1

    def is_before(self, label: str, at: int) -> bool:
        """Tell whether a phrase of a list ends just before a word."""
        return self.named(label).length_before(self.words, at) > 0

    def opens_at(self, at: int) -> bool:
        """Tell whether only fillers stand before a word."""
        return all(self.named("fill").length_at(self.words, i) for i in range(at))

    def closes_after(self, last: int) -> bool:
        """Tell whether the line ends here or goes on with something new."""
        return last + 1 >= len(self.words) or self.word(last + 1) in _GOES_ON

    def names_things(self, at: int) -> bool:
        """Tell whether the word says what is counted: "five more people", "last four dips"."""
        word = self.word(at)
        return word in _COUNTED or (
            word.endswith("s") and not word.endswith("ss") and word not in _NOT_PLURAL
        )

    def is_story(self, first: int, after: int) -> bool:
        """Tell whether words of telling stand near: "i waited five minutes for the bus"."""
        # "Ten seconds people" speaks to them.
        after += self.word(after) == "people"
        near = self.words[max(0, first - _STORY_BEFORE) : first], self.words[after:][:_STORY_AFTER]
        return not _STORY.isdisjoint(chain(*near))

    def is_all_filled(self, first: int, last: int) -> bool:
        """Tell whether nothing but fillers surrounds words first to last."""
        rest = (*range(first), *range(last + 1, len(self.words)))
        return all(self.named("fill").length_at(self.words, i) for i in rest)


def touches(call: Call, others: Iterable[Call]) -> bool:
    """Tell whether a call shares a word with one of the others."""
    return any(overlaps(call, other) for other in others)


def about_class(line: CallLine, call: Call) -> Call:
    """Turn a call about the workout into one that no interval is held to."""
    rest = line.words[call.last + 1 : call.last + 6]
    # "Ten seconds left, class" speaks to the class.
    is_class = bool(line.named("class").find(rest)) and rest[:1] != ("and",) and rest != ("class",)
    is_class = is_class or line.is_before("class", call.first)
    return replace(call, ref="class") if is_class else call
