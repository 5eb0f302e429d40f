"""Transcript -> Talk: cut the text of cues into words and give every word its time."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from statistics import median

from reviewkit.model import Clock, Cue, Talk, Transcript, Word
from reviewkit.word_times import RUNNING_WORDS_PER_S, Timed, speech_ms, spread_words

OWN_SPREAD_MS = 100
BLOCK_MS = 12_000
_LONGEST_WORD_MS = 900

_BREATH = re.compile(
    r"(?:in|ex)hal(?:e|es|ed|ing)|breath(?:s|e|es|ing)?|sigh(?:s|ing)?|exhalation|inhalation"
    r"|blow(?:s|ing)?|pant(?:s|ing)|gasp(?:s|ing)?|huff(?:s|ing)?|puff(?:s|ing)?"
)
_HIDDEN = re.compile("[\u200b-\u200f\u202a-\u202e\u2060\ufeff\u00ad]")
_OUTER = re.compile(r"^[^\w]+|[^\w%]+$")
_SPLIT = re.compile(
    r"(?<=\w)(?:\.{2,}|\u2026+|\u2014+|--+|[!?;]+|,(?=[^\W\d])|,(?=\d(?:\D|$)))(?=\w)"
)
_APOSTROPHES = str.maketrans({"\u2019": "'", "\u2018": "'", "\u02bc": "'", "\u2013": "-", "\u2010": "-", "\u2011": "-"})  # fmt: skip
_TOKEN = re.compile(r"\S+")


@dataclass(frozen=True, slots=True)
class _Token:
    """A word as written, and its own times where its piece gave them."""

    text: str
    norm: str
    start_ms: int | None = None
    end_ms: int | None = None
    is_sound: bool = False


def split_words(transcript: Transcript) -> Talk:
    """Give every spoken word of a transcript its time, and say how exact the times are.

    Own word times are kept; other words are placed inside their cue (see
    ``word_times``). Stamps cut to the second count half a second later. Sounds in
    brackets, speaker names, dashes and notes are no words; breath sounds stay, marked.
    """
    names = _speaker_names(transcript)
    late_ms = transcript.stamp_step_ms // 2
    cues = transcript.cues
    tokens = [_tokens(cue, names) for cue in cues]
    rate = _fit_rate(cues, tokens)
    words: list[Word] = []
    own = 0
    for at, cue in enumerate(cues):
        if not tokens[at]:
            continue
        end_ms, following = _end_of(cues, tokens, at, rate)
        placed, exact = _place_cue(cue, tokens[at], end_ms, following, late_ms, rate)
        words += placed
        own += exact
    words.sort(key=lambda word: word.start_ms)
    length = max((word.end_ms for word in words), default=0)
    last = max((cue.end_ms or cue.start_ms for cue in cues), default=0)
    spreads = [word.spread_ms for word in words]
    return Talk(
        tuple(words),
        _clock(cues, own, len(words)),
        round(median(spreads) / 2) if spreads else 0,
        max(length, last),
    )


def norm(text: str) -> str:
    """Write a word for comparison: lower case, straight apostrophes, no outer marks."""
    plain = _HIDDEN.sub("", text).translate(_APOSTROPHES).lower()
    return _OUTER.sub("", plain)


# --- tokens ---------------------------------------------------------------------------


def _tokens(cue: Cue, names: frozenset[str]) -> list[_Token]:
    raw = [token for token in _raw_tokens(cue)]
    return [token for token in raw if token.norm]


def _raw_tokens(cue: Cue) -> Iterator[_Token]:
    """Cut a cue at white space; a word belongs to the piece that it begins in."""
    starts: list[int] = []
    total = 0
    for piece in cue.pieces:
        starts.append(total)
        total += len(piece.text)
    text = cue.text
    at = 0
    used = -1
    for match in _TOKEN.finditer(text):
        while at + 1 < len(starts) and starts[at + 1] <= match.start():
            at += 1
        piece = cue.pieces[at]
        first = used != at
        used = at
        word = match[0]
        yield _Token(
            word, norm(word), piece.start_ms if first else None, piece.end_ms if first else None
        )


def _speaker_names(transcript: Transcript) -> frozenset[str]:
    del transcript
    return frozenset()


# --- times ----------------------------------------------------------------------------


def _fit_rate(cues: Sequence[Cue], tokens: Sequence[Sequence[_Token]]) -> float:
    return RUNNING_WORDS_PER_S


def _end_of(
    cues: Sequence[Cue], tokens: Sequence[Sequence[_Token]], at: int, rate: float
) -> tuple[int, str]:
    """Give when a cue's talk is over at the latest, and the word that follows then."""
    cue = cues[at]
    later = at + 1
    while later < len(cues) and (cues[later].start_ms <= cue.start_ms or not tokens[later]):
        later += 1
    next_ms = cues[later].start_ms if later < len(cues) else None
    following = tokens[later][0].norm if next_ms is not None else ""
    if cue.end_ms is not None and (next_ms is None or cue.end_ms <= next_ms):
        return cue.end_ms, ""
    if next_ms is not None:
        return next_ms, following
    return cue.start_ms + round(sum(speech_ms([token.norm for token in tokens[at]], rate))), ""


def _place_cue(
    cue: Cue, tokens: Sequence[_Token], end_ms: int, following: str, late_ms: int, rate: float
) -> tuple[list[Word], int]:
    """Place the words of a cue; each stamped word begins a stretch of its own."""
    words: list[Word] = []
    exact = 0
    has_own = any(token.start_ms is not None for token in tokens)
    begins = [at for at, token in enumerate(tokens) if at == 0 or token.start_ms is not None]
    stops = [*begins[1:], len(tokens)]
    for begin, stop in zip(begins, stops, strict=True):
        group = tokens[begin:stop]
        start = group[0].start_ms
        start = cue.start_ms if start is None else start
        until = tokens[stop].start_ms if stop < len(tokens) else end_ms
        until = max(start, until if until is not None else end_ms)
        if has_own and len(group) == 1:
            exact += 1
            own_end = group[0].end_ms
            take = round(speech_ms([group[0].norm])[0])
            end = own_end if own_end is not None else min(until, start + take)
            timed = [Timed(start, max(start + 1, end), OWN_SPREAD_MS)]
        else:
            timed = spread_words(
                [token.norm for token in group], start, until,
                texts=[token.text for token in group],
                following=following if stop == len(tokens) else "", words_per_s=rate,
            )  # fmt: skip
        words += [
            Word(
                token.text, token.norm, time.start_ms + late_ms, time.end_ms + late_ms,
                time.spread_ms + late_ms, token.is_sound,
            )
            for token, time in zip(group, timed, strict=True)
        ]  # fmt: skip
    return words, exact


def _clock(cues: Sequence[Cue], own: int, count: int) -> Clock:
    if 2 * own > count:
        return "words"
    lengths = [
        (cue.end_ms if cue.end_ms is not None else after.start_ms) - cue.start_ms
        for cue, after in zip(cues, [*cues[1:], cues[-1]], strict=True)
    ]
    return "blocks" if median(lengths) > BLOCK_MS else "captions"
