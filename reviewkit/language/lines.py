"""Cut talk into lines: utterances as a listener would hear them.

Transcripts seldom have full stops, so a line ends where any of several things says so: a
pause, a mark of punctuation, an opening word once enough was said, or the longest length
a line may have. Where the clock is coarse, pauses mean little and the words decide.
"""

from __future__ import annotations

from reviewkit.language.numbers import find_numbers
from reviewkit.language.wordsets import word_set
from reviewkit.model import Clock, Line, Talk, Word
from reviewkit.once import once_for

# A pause this long ends a line, by how exact the clock is.
PAUSE_MS = {"words": 420, "captions": 480, "blocks": 900}
LONGEST_WORDS = 24
# A line must have this many words before an opening word starts the next one.
OPENS_AFTER_WORDS = 7
_STOPS = (".", "!", "?", "...", "\u2026", ";")
_OPENERS = word_set("now so okay ok alright right next remember then also if")
_NEVER_BEFORE = word_set("the a an your to of and or as than until till by just even like")
# Words that belong to the next or the one before: a guessed pause there is no end.
_LEADS_ON = _NEVER_BEFORE | word_set("that's we're you're it's there's in at last final another")
_HANGS_ON = word_set("seconds second minutes minute left more to go of")


def _splits_phrase(before: Word, word: Word) -> bool:
    """Tell whether a line would end inside a number or right after a word that leads on."""
    pair = [before.norm, word.norm]
    return (
        before.norm in _LEADS_ON
        or word.norm in _HANGS_ON
        or any(number.first < number.last for number in find_numbers(pair))
    )


def _stops_after(word: Word) -> bool:
    """Tell whether punctuation ends a line here; a dot inside a number does not."""
    return word.text.rstrip("\"')]").endswith(_STOPS)


def _opens(word: Word, before: Word, length: int) -> bool:
    return (
        length >= OPENS_AFTER_WORDS
        and word.norm in _OPENERS
        and before.norm not in _NEVER_BEFORE
        and not (word.norm in ("right", "now", "then") and before.norm in ("right", "by"))
    )


def _ends_before(words: tuple[Word, ...], at: int, first: int, clock: Clock) -> bool:
    """Tell whether a line that began at ``first`` ends before word ``at``."""
    before, word = words[at - 1], words[at]
    length = at - first
    is_exact = clock == "words"
    is_pause = word.start_ms - before.end_ms >= PAUSE_MS[clock]
    return (
        (is_pause and (is_exact or not _splits_phrase(before, word)))
        or _stops_after(before)
        or length >= LONGEST_WORDS
        or _opens(word, before, length)
    )


def _line(words: tuple[Word, ...], first: int, last: int) -> Line:
    text = " ".join(word.text for word in words[first : last + 1])
    return Line(first, last, words[first].start_ms, words[last].end_ms, text)


@once_for(4)
def split_lines(talk: Talk) -> tuple[Line, ...]:
    """Cut all words of a talk into lines, in order; every word is in exactly one."""
    words = talk.words
    if not words:
        return ()
    lines = []
    first = 0
    for at in range(1, len(words)):
        if _ends_before(words, at, first, talk.clock):
            lines.append(_line(words, first, at - 1))
            first = at
    lines.append(_line(words, first, len(words) - 1))
    return tuple(lines)
