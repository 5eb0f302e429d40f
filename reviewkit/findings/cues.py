"""Cut the talk of each move into cues, with what they ask for and what points they give."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from reviewkit.findings.asked_frames import asked_frames
from reviewkit.findings.given_points import Asked, Given, ask
from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.frames.cue_words import TURN_WEIGHTS, weigh_turns
from reviewkit.frames.grammar import Frame, frame_book, is_turned_at, parts_heard
from reviewkit.frames.terms import fold, is_little
from reviewkit.frames.utterances import Utterance, split_cues, windows_of
from reviewkit.language.wordsets import word_set
from reviewkit.model import HeardClass, Interval, Lexicon

# Words that insist, whatever on.
INSISTS = word_set(
    "stay stays keep always never every whole right all now want don't doesn't let's please must"
    " no nobody only time stuck glued once both"
)
_MOST_TURN = 6.0
# A line goes on in the next one when no more than this lies between.
_RUNS_ON_MS = 700
# A cue between intervals belongs to the next one when that comes this soon.
_LEAD_MS = 45_000
_LEAST_WORDS = 3
# A window of a coarse clock must hold a whole cue.
_WINDOW_WORDS = 13


@dataclass(frozen=True, slots=True)
class Cue:
    """An utterance with its frames and the interval it belongs to.

    ``is_before`` tells that it was said before its interval, ``content`` which words of
    meaning it has, and for each whether a turning word turns it. ``parts`` are all body
    parts named, ``turn`` how much the words sound like going back on something, ``asked``
    what the points of the plan that it gives ask for.
    """

    utterance: Utterance
    interval: Interval
    is_before: bool
    frames: tuple[Frame, ...]
    content: Mapping[str, bool]
    parts: frozenset[str]
    turn: float
    asked: Asked


def cues_by_move(heard: HeardClass, given: Sequence[Given]) -> Mapping[str, list[Cue]]:
    """Give the cues of each move that was done, in the order they were said.

    Args:
        heard: The class.
        given: Where the plan's points were given.
    """
    book = frame_book(heard.lexicon)
    talk = heard.talk
    is_coarse = talk.clock == "blocks"
    utterances = windows_of(talk, _WINDOW_WORDS) if is_coarse else split_cues(talk)
    intervals = done_intervals(heard)
    cues: dict[str, list[Cue]] = defaultdict(list)
    turns = _turns(utterances, heard.lexicon)
    before: Utterance | None = None
    for one, turn in zip(utterances, turns, strict=True):
        lead = () if is_coarse else _lead(before, one)
        before = one
        interval = _interval_of(one.line.start_ms, intervals)
        if interval is None or len(one.words) < _LEAST_WORDS:
            continue
        is_before = one.line.start_ms < start_ms(interval) - 1_000
        frames = asked_frames(one.words, book, lead=lead, is_coarse=is_coarse)
        named = (senses for _, _, senses in parts_heard(one.words, book.parts))
        parts = frozenset().union(*named)
        points = dict.fromkeys(
            each.point
            for each in given
            if each.move == interval.move and each.shares_time(one.line)
        )
        asked = ask(points, book)
        cue = Cue(one, interval, is_before, frames, _content(one.words), parts, turn, asked)
        cues[interval.move_done].append(cue)
    return cues


def _turns(utterances: Sequence[Utterance], lexicon: Lexicon) -> list[float]:
    """Say how much each sounds like going back on something: least of all without weights."""
    if TURN_WEIGHTS not in lexicon.weights:
        return [-_MOST_TURN] * len(utterances)
    turns: list[float] = weigh_turns(utterances, lexicon).clip(-_MOST_TURN, _MOST_TURN).tolist()
    return turns


def _lead(before: Utterance | None, one: Utterance) -> tuple[str, ...]:
    """Give the words of the line before when it runs on into this one."""
    if before is None or one.line.start_ms - before.line.end_ms > _RUNS_ON_MS:
        return ()
    return before.words


def _interval_of(at_ms: int, intervals: Sequence[Interval]) -> Interval | None:
    """Give the interval that holds a moment, or the next one when it starts soon."""
    one = next((one for one in intervals if at_ms < end_ms(one)), None)
    return one if one is not None and start_ms(one) - at_ms <= _LEAD_MS else None


def _content(words: Sequence[str]) -> dict[str, bool]:
    found: dict[str, bool] = {}
    for at, word in enumerate(words):
        if not is_little(word) and word not in INSISTS:
            found.setdefault(fold(word), is_turned_at(words, at))
    return found
