"""Hear single utterances: their labels, points and claims, with the words that gave them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reviewkit.language.tokens import norm
from reviewkit.marks.breath_patterns import Prompt
from reviewkit.marks.call_line import Call
from reviewkit.marks.counts import find_counts
from reviewkit.marks.labels import LABELS, Reading, line_features, read_line, weigh
from reviewkit.marks.points import find_points
from reviewkit.model import Label, Lexicon, Plan, Talk, Word

# How many pieces of evidence are shown for a label.
MOST_REASONS = 4
_WORD_MS = 350


@dataclass(frozen=True, slots=True)
class Heard:
    """What was heard in one utterance; ``reasons`` name the words behind each label."""

    text: str
    labels: tuple[Label, ...]
    reasons: tuple[tuple[Label, tuple[str, ...]], ...]
    points: tuple[str, ...]
    claimed_left_s: float | None


def talk_of(text: str) -> Talk:
    """Make a talk of one utterance, its words at an even pace."""
    said = [(part, norm(part)) for part in text.split()]
    words = tuple(
        Word(part, plain, at * _WORD_MS, (at + 1) * _WORD_MS, 0)
        for at, (part, plain) in enumerate((part, plain) for part, plain in said if plain)
    )
    return Talk(words, "words", 0, len(words) * _WORD_MS)


def hear_text(text: str, lexicon: Lexicon) -> Heard:
    """Hear one utterance.

    ``claimed_left_s`` is the number of seconds said to be left; "halfway" claims none,
    because an utterance has no plan.
    """
    talk = talk_of(text)
    words = [word.norm for word in talk.words]
    is_down = any(count.ref.startswith("down") for count in find_counts(talk))
    reading = read_line(words, lexicon, counts_down=is_down)
    claims = [call.value for call in reading.calls if call.ref in ("left", "class")]
    points = find_points(talk, Plan("", ()), lexicon)
    return Heard(
        text=text,
        labels=reading.labels,
        reasons=_reasons(words, reading, lexicon),
        points=tuple(dict.fromkeys(mark.ref for mark in points)),
        claimed_left_s=next((claim for claim in reversed(claims) if claim is not None), None),
    )


def _reasons(
    words: Sequence[str], reading: Reading, lexicon: Lexicon
) -> tuple[tuple[Label, tuple[str, ...]], ...]:
    weighed = weigh(line_features(words, lexicon), lexicon)
    return tuple((label, _why(words, label, reading, weighed)) for label in reading.labels)


def _why(
    words: Sequence[str],
    label: Label,
    reading: Reading,
    weighed: Sequence[tuple[str, tuple[float, ...]]],
) -> tuple[str, ...]:
    """Name the words that speak most for a label, those of a detector first."""
    spans = [(item.first, item.last) for item in _detected(label, reading)]
    found = [" ".join(words[first : last + 1]) for first, last in spans]
    column = LABELS.index(label)
    ranked = sorted(weighed, key=lambda item: (-item[1][column], item[0]))
    said = f" {' '.join(words)} "
    spoken = [name for name, weights in ranked if weights[column] > 0 and f" {name} " in said]
    return tuple(dict.fromkeys([*found, *spoken]))[:MOST_REASONS]


def _detected(label: Label, reading: Reading) -> Sequence[Call | Prompt]:
    if label == "time_call":
        return reading.calls
    return reading.prompts if label == "breathing" else ()
