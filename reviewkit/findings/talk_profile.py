"""How a coach talks, described and not scored: the evidence for one best way is mixed.

Names end in their unit. ``None`` stands for "nothing to measure". Attention to the body
or to its effect is told apart by words: parts of the body against things outside it.

Source for the two kinds of attention: G. Wulf (2013), International Review of Sport and
Exercise Psychology 6(1), 77-104; reviews since then differ on how much it matters.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from statistics import mean

from reviewkit.language.wordsets import word_set
from reviewkit.measures import (
    CUE_LABELS,
    LABELS,
    line_marks,
    longest_silence_ms,
    marks_in,
    per_minute,
    share,
    span_of,
    words_in,
)
from reviewkit.model import HeardClass, Interval, Mark

BODY_CLASS = "body"
_FILLERS = word_set("um uh er erm uhm hmm like basically actually literally okay so right")
_NEGATIVES = word_set("don't not no never without stop avoid nobody nothing isn't can't shouldn't")
_EFFECTS = word_set(
    "like as imagine pretend picture floor ground wall ceiling sky mat bar bell band weight ball "
    "room window door bench box rope dumbbell kettlebell handle pedal tray table string"
)
_SIDES = ("left", "right")
Profile = tuple[tuple[str, float | None], ...]


def _text_words(mark: Mark) -> list[str]:
    return [word.strip('.,!?;:"()').lower() for word in mark.text.split()]


def _share_of(marks: Sequence[Mark], holds: Callable[[list[str]], bool]) -> float | None:
    return share(sum(holds(_text_words(mark)) for mark in marks), len(marks))


def _speech(heard: HeardClass) -> Profile:
    """Measure pace, share of talk, fillers and the longest silence in an interval."""
    words = [word for word in heard.talk.words if not word.is_sound]
    spoken_ms = sum(word.end_ms - word.start_ms for word in words)
    ordered = sorted(heard.talk.words, key=lambda word: word.start_ms)
    spans = [span for span in map(span_of, heard.intervals) if span is not None]
    silences = [longest_silence_ms(ordered, span) / 1000 for span in spans]
    fillers = sum(word.norm in _FILLERS for word in words)
    length_ms = heard.talk.length_ms
    exact = heard.talk.clock != "blocks"
    return (
        ("words_per_min", per_minute(len(words), length_ms)),
        ("talk_share", share(spoken_ms, length_ms) if exact else None),
        ("longest_silence_s", max(silences, default=None) if exact else None),
        ("filler_share", share(fillers, len(words))),
    )


def _cue_rates(heard: HeardClass, marks: Sequence[Mark]) -> Profile:
    """Count lines of every label a minute, inside intervals."""
    spans = [span for span in map(span_of, heard.intervals) if span is not None]
    length_ms = sum(span.length_ms for span in spans)
    inside = marks_in(marks, spans)
    return tuple(
        (f"{label}_per_min", per_minute(sum(one.kind == label for one in inside), length_ms))
        for label in LABELS
    )


def _wording(heard: HeardClass, marks: Sequence[Mark]) -> Profile:
    """Tell praise that names what was good, "don't" cues and what cues point at."""
    form = [mark for mark in marks if mark.kind in ("form", "safety")]
    praise = [mark for mark in marks if mark.kind == "motivation"]
    form_lines = {mark.first for mark in form}
    body = frozenset(
        line.phrase
        for line in heard.lexicon.lists.get("word_classes", ())
        if BODY_CLASS in line.label.split()
    )
    return (
        (
            "praise_specific_share",
            share(sum(one.first in form_lines for one in praise), len(praise)),
        ),
        ("dont_cue_share", _share_of(form, lambda words: not _NEGATIVES.isdisjoint(words))),
        ("body_cue_share", _share_of(form, lambda words: not body.isdisjoint(words))),
        ("effect_cue_share", _share_of(form, lambda words: not _EFFECTS.isdisjoint(words))),
    )


def _cues_per_min(intervals: Sequence[Interval], marks: Sequence[Mark]) -> float | None:
    spans = [span for span in map(span_of, intervals) if span is not None]
    cues = {mark.first for mark in marks_in(marks, spans) if mark.kind in CUE_LABELS}
    return per_minute(len(cues), sum(span.length_ms for span in spans))


def _fade(heard: HeardClass, marks: Sequence[Mark]) -> Profile:
    """Compare the last round's cues with the first's: below 1 the coaching fades."""
    work = [interval for interval in heard.intervals if interval.kind == "work"]
    rounds = sorted({interval.round for interval in work})
    rates = [_cues_per_min([one for one in work if one.round == n], marks) for n in rounds]
    first = rates[0] if rates else None
    last = rates[-1] if rates else None
    kept = None if len(rates) < 2 or not first or last is None else last / first
    named = tuple((f"cues_per_min_round_{n}", rate) for n, rate in zip(rounds, rates, strict=True))
    return (*named, ("last_round_to_first_ratio", kept))


def _evenness(heard: HeardClass) -> Profile:
    """Compare the words spent on the less and the more coached side: 1 is even."""
    words = sorted(heard.talk.words, key=lambda word: word.start_ms)

    def pace(side: str) -> float | None:
        spans = [span_of(one) for one in heard.intervals if one.side == side]
        rates = [
            per_minute(len(words_in(words, span)), span.length_ms)
            for span in spans
            if span is not None
        ]
        known = [rate for rate in rates if rate is not None]
        return mean(known) if known else None

    left, right = (pace(side) for side in _SIDES)
    if left is None or right is None:
        return (("side_evenness_ratio", None),)
    return (("side_evenness_ratio", share(min(left, right), max(left, right))),)


def profile_talk(heard: HeardClass) -> Profile:
    """Describe the talk of a class as (name, value) in a fixed order.

    The marks must hold those that label whole lines. Rounds have an entry each, as many
    as the class had.
    """
    marks = line_marks(heard.marks)
    return (
        *_speech(heard),
        *_cue_rates(heard, marks),
        *_wording(heard, marks),
        *_fade(heard, marks),
        *_evenness(heard),
    )
