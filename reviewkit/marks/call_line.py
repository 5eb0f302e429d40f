"""One line of talk as the readers of time calls see it: words and the lists around them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from reviewkit.phrase_index import EMPTY, PhraseIndex
from reviewkit.wordsets import word_set

# What may follow a call without turning it into something else.
_GOES_ON = word_set(
    "and so then keep go now well come don't if you we it let stay hold push breathe one "
    "two nice good hang halfway change switch really great dig just but squeeze drive sit my "
    "folks guys team everyone everybody people all come yes okay oh with use still there on for "
    "here this that in"
)


@dataclass(frozen=True, slots=True)
class Call:
    """A call inside one line: words ``first`` to ``last`` and what they claim."""

    first: int
    last: int
    ref: str
    value: float | None = None


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

    def is_all_filled(self, first: int, last: int) -> bool:
        """Tell whether nothing but fillers surrounds words first to last."""
        rest = (*range(first), *range(last + 1, len(self.words)))
        return all(self.named("fill").length_at(self.words, i) for i in rest)


def about_class(line: CallLine, call: Call) -> Call:
    """Turn a call about the workout into one that no interval is held to."""
    rest = line.words[call.last + 1 : call.last + 6]
    is_class = bool(line.named("class").find(rest)) and rest[:1] != ("and",)
    return replace(call, ref="class") if is_class else call
