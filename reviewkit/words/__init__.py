"""Transcript -> Talk: cut the text of cues into words and give every word its time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import median

from reviewkit.language.tokens import Token, norm, speaker_names, split_tokens
from reviewkit.model import Bridge, Clock, Cue, Talk, Transcript, Weights, Word
from reviewkit.words.pauses import PAUSE_WEIGHTS
from reviewkit.words.times import (
    LONG_STRETCH_MS,
    LONGEST_WORD_MS,
    RUNNING_WORDS_PER_S,
    Stretch,
    Timed,
    place_words,
    speech_ms,
)

__all__ = ["PAUSE_WEIGHTS", "norm", "split_words"]

OWN_SPREAD_MS = 100
BLOCK_MS = 12_000
# How far the median error lies below the half-width that holds nine in ten.
_MEDIAN_SHARE = 1 / 3
# Own times a little outside their cue are rounding; farther out they are mistakes.
_OUTSIDE_MS = 1000
_OPEN_CUE_MS = 60_000
_FEWEST_STRETCHES = 5
_FASTEST = 4.5
# How much of the silence of other stretches the last one holds: where 198 classes ended, a
# guess so made is off by less than half a second on average, and by 13 s one time in ten.
_SILENCE_AT_LAST = 0.8
# A stamp cut to the second is up to half a second off its middle, nine in ten less.
_CUT_SPREAD = 0.6


@dataclass(frozen=True, slots=True)
class _Run:
    """Tokens that share one known start, and one known end where the file gave it."""

    tokens: tuple[Token, ...]
    start_ms: int | None
    end_ms: int | None


@dataclass(frozen=True, slots=True)
class _Spoken:
    """A cue with its tokens, and when its talk is over at the latest, open where it is a guess."""

    cue: Cue
    tokens: tuple[Token, ...]
    end_ms: int
    following: str
    is_open: bool = False


def split_words(transcript: Transcript, pauses: Weights | None = None) -> Talk:
    """Give every spoken word of a transcript its time, and say how exact the times are.

    Own word times are kept; other words are placed inside their cue (``word_times``).
    Stamps cut to the second count half a second later. Sounds in brackets, speaker
    names, dashes and notes are no words; breath sounds stay, marked ``is_sound``.
    ``pauses`` says beside which words silences lie (``pauses.py``).
    """
    names = speaker_names(transcript.cues)
    spoken = _leave_open(
        _find_ends([(cue, tuple(split_tokens(cue, names))) for cue in transcript.cues])
    )
    rate = _fit_rate(spoken)
    late_ms = transcript.stamp_step_ms // 2
    placed: list[Word] = []
    bridges: list[Bridge] = []
    exact = 0
    for item in spoken:
        runs = _runs(item)
        exact += sum(len(run.tokens) == 1 and run.start_ms is not None for run in runs)
        if len(runs) == 1 and item.end_ms - item.cue.start_ms > LONG_STRETCH_MS:
            last = len(placed) + len(item.tokens) - 1
            start_ms, end_ms = item.cue.start_ms + late_ms, item.end_ms + late_ms
            bridges.append(Bridge(len(placed), last, start_ms, end_ms))
        placed += _place(item, runs, late_ms, rate, pauses)
    words = sorted(placed, key=lambda word: word.start_ms)
    ends = [word.end_ms for word in words] + [item.end_ms for item in spoken]
    return Talk(
        tuple(words),
        _clock(spoken, exact, len(words)),
        round(median(word.spread_ms for word in words) * _MEDIAN_SHARE) if words else 0,
        max(ends, default=0),
        # Where cues overlap, the words of two are mixed, and neither is one stretch.
        tuple(bridges) if words == placed else (),
    )


def _find_ends(cues: Sequence[tuple[Cue, tuple[Token, ...]]]) -> list[_Spoken]:
    """Give each cue its end: its own, or the next cue's start where that comes first."""
    spoken: list[_Spoken] = []
    next_ms: int | None = None
    following = ""
    after: tuple[int, str] | None = None
    for cue, tokens in reversed(cues):
        if not tokens:
            continue
        if after is not None and cue.start_ms < after[0]:
            next_ms, following = after
        end_ms, word = _end(cue, tokens, next_ms, following)
        spoken.append(_Spoken(cue, tokens, end_ms, word))
        after = (cue.start_ms, tokens[0].norm)
    spoken.reverse()
    return spoken


def _end(cue: Cue, tokens: Sequence[Token], next_ms: int | None, following: str) -> tuple[int, str]:
    if cue.end_ms is not None and (next_ms is None or cue.end_ms < next_ms):
        return cue.end_ms, ""
    if next_ms is not None:
        return next_ms, following
    return cue.start_ms + round(sum(speech_ms([token.norm for token in tokens]))), ""


def _leave_open(spoken: Sequence[_Spoken]) -> Sequence[_Spoken]:
    """Guess when the talk of a last long stretch is over, where no file says.

    It holds nearly as much silence as the other stretches do, and is no longer than these.
    """
    if not spoken or spoken[-1].cue.end_ms is not None:
        return spoken
    *others, last = spoken
    lengths_ms = [item.end_ms - item.cue.start_ms for item in others]
    if len(others) < _FEWEST_STRETCHES or median(lengths_ms) <= LONG_STRETCH_MS:
        return spoken
    fill = median(
        _talk_ms(item) / length_ms
        for item, length_ms in zip(others, lengths_ms, strict=True)
        if length_ms > 0
    )
    talk_ms = _talk_ms(last)
    length_ms = talk_ms + _SILENCE_AT_LAST * max(0.0, talk_ms / fill - talk_ms)
    end_ms = last.cue.start_ms + round(max(talk_ms, min(length_ms, max(lengths_ms))))
    return [*others, replace(last, end_ms=end_ms, is_open=True)]


def _talk_ms(item: _Spoken) -> float:
    return sum(speech_ms([token.norm for token in item.tokens]))


def _fit_rate(spoken: Sequence[_Spoken]) -> float:
    """Give the rate of running talk, in words a second, from the fullest long stretches.

    Only a fast talker shows: what a slow one leaves over looks like silence.
    """
    fill = sorted(
        _talk_ms(item) / length_ms
        for item in spoken
        if (length_ms := item.end_ms - item.cue.start_ms) > LONG_STRETCH_MS
    )
    if len(fill) < _FEWEST_STRETCHES:
        return RUNNING_WORDS_PER_S
    fullest = fill[round(0.9 * (len(fill) - 1))]
    return RUNNING_WORDS_PER_S * min(max(1.0, fullest), _FASTEST / RUNNING_WORDS_PER_S)


def _runs(item: _Spoken) -> list[_Run]:
    """Part the tokens of a cue where a piece brings its own time.

    Tokens of a piece without a time go on with the run before them, or, where that
    run's end is known, make a run of their own.
    """
    runs: list[_Run] = []
    tokens: list[Token] = []
    start_ms, end_ms = _own_times(item, item.tokens[0])
    piece = item.tokens[0].piece
    for token in item.tokens:
        if token.piece != piece:
            piece = token.piece
            times = _own_times(item, token)
            if times[0] is not None or end_ms is not None:
                runs.append(_Run(tuple(tokens), start_ms, end_ms))
                tokens = []
                start_ms, end_ms = times
        tokens.append(token)
    runs.append(_Run(tuple(tokens), start_ms, end_ms))
    return runs


def _own_times(item: _Spoken, token: Token) -> tuple[int | None, int | None]:
    """Give the times of a token's piece, unless they lie outside the cue."""
    cue = item.cue
    piece = cue.pieces[token.piece]
    if piece.start_ms is None:
        return None, None
    latest_ms = cue.start_ms + _OPEN_CUE_MS if cue.end_ms is None else cue.end_ms
    if not cue.start_ms - _OUTSIDE_MS <= piece.start_ms <= latest_ms + _OUTSIDE_MS:
        return None, None
    return piece.start_ms, piece.end_ms


def _place(
    item: _Spoken, runs: Sequence[_Run], late_ms: int, rate: float, pauses: Weights | None
) -> list[Word]:
    """Place the words of a cue, one run of known start after the other."""
    words: list[Word] = []
    reached_ms = item.cue.start_ms
    for at, run in enumerate(runs):
        start_ms = reached_ms if run.start_ms is None else run.start_ms
        later = [after.start_ms for after in runs[at + 1 : at + 2] if after.start_ms is not None]
        until_ms = run.end_ms if run.end_ms is not None else later[0] if later else item.end_ms
        until_ms = max(start_ms + 1, until_ms)
        reached_ms = until_ms
        is_last = at + 1 == len(runs)
        following, is_open = (item.following, item.is_open) if is_last else ("", False)
        for token, timed in zip(
            run.tokens,
            _time_run(
                run,
                Stretch((), (), start_ms, until_ms, following, is_open),
                rate,
                pauses,
                has_others=len(runs) > 1,
            ),
            strict=True,
        ):
            words.append(
                Word(
                    token.text,
                    token.norm,
                    timed.start_ms + late_ms,
                    max(timed.start_ms + 1, timed.end_ms) + late_ms,
                    timed.spread_ms + round(_CUT_SPREAD * late_ms),
                    token.is_sound,
                )
            )
    return words


def _time_run(
    run: _Run, within: Stretch, rate: float, pauses: Weights | None, *, has_others: bool
) -> Sequence[Timed]:
    normed = tuple(token.norm for token in run.tokens)
    if len(normed) == 1 and (run.start_ms is not None or has_others):
        end_ms = within.end_ms
        if run.end_ms is None:
            end_ms = min(end_ms, within.start_ms + LONGEST_WORD_MS)
        return (Timed(within.start_ms, end_ms, OWN_SPREAD_MS),)
    texts = tuple(token.text for token in run.tokens)
    return place_words(replace(within, words=normed, texts=texts), rate, pauses)


def _clock(spoken: Sequence[_Spoken], exact: int, count: int) -> Clock:
    if 2 * exact > count:
        return "words"
    lengths = [item.end_ms - item.cue.start_ms for item in spoken]
    return "blocks" if lengths and median(lengths) > BLOCK_MS else "captions"
