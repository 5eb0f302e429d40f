"""What a line of talk is: form, safety, breathing, option, motivation and so on.

A line may have several labels or none, which is chat. Breath and time are read by their
own detectors; every label is weighed by a linear model over the line's words, pairs of
words, classes and senses of words and phrases of the flat lists, and by a small network
(``label_net``), which hears what unlike words have in common. The weights of both travel
with the language (``fitted/labels.csv``, ``label_words.csv``, ``label_layers.csv``) and
were fitted on labelled utterances by ``tests/fit/fit_labels.py``, each with its share of
the whole. A sum above zero gives the label.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, pairwise
from math import exp, fsum
from typing import get_args

from reviewkit.language.matching import stem
from reviewkit.language.overlap import overlaps
from reviewkit.language.phrase_index import PhraseIndex, index_phrases
from reviewkit.language.word_classes import class_table, classes_of, sense_table
from reviewkit.marks.breath_patterns import Prompt
from reviewkit.marks.breathing import read_prompts
from reviewkit.marks.call_line import Call
from reviewkit.marks.counts import find_counts
from reviewkit.marks.label_net import hear_lines, lexicon_net
from reviewkit.marks.time_calls import read_calls
from reviewkit.model import Label, Lexicon, Line, Mark, Talk
from reviewkit.once import once

WEIGHTS = "labels"
PHRASE_LISTS = ("options", "safety", "motivation", "announcements", "rest", "chat")
LABELS: tuple[Label, ...] = get_args(Label)
BIAS = "bias"
# Marks of whole lines; the detectors of breath and time make marks of the same kinds.
REF = "line"
# The detectors of breath and time are trusted against the models, unless these are sure.
_SURE = 1.0
_DOUBTED = {"time_call": -2.0, "breathing": -1.0}
# What may be said in one breath with a time call, in so many words beside it.
_BESIDE_CALLS = ("form", "safety", "option", "motivation")
_LEAST_BESIDE = 2
_EDGE = "^"
_LENGTHS = ((1, "1"), (2, "2"), (4, "3 to 4"), (8, "5 to 8"), (14, "9 to 14"))


@dataclass(frozen=True, slots=True)
class Reading:
    """What one line is: the sum of both models by label, and what the detectors heard."""

    sums: tuple[float, ...]
    calls: tuple[Call, ...]
    prompts: tuple[Prompt, ...]
    counts_down: bool

    @property
    def labels(self) -> tuple[Label, ...]:
        """The labels of the line, in the order of ``LABELS``."""
        return tuple(
            label for label, value in zip(LABELS, self.sums, strict=True) if self._is(label, value)
        )

    def _is(self, label: Label, value: float) -> bool:
        if label == "time_call":
            is_heard = bool(self.calls) or self.counts_down
        elif label == "breathing":
            is_heard = any(not prompt.is_bare and not prompt.is_hold for prompt in self.prompts)
        else:
            return value > 0
        if is_heard:
            return value >= _DOUBTED[label]
        return value > (0 if label == "breathing" and self.prompts else _SURE)


# --- features ------------------------------------------------------------------------


def _word_features(words: Sequence[str], classes: Sequence[tuple[str, ...]]) -> Iterator[str]:
    """Give words, stems, pairs of words and pairs of classes, with the line's edges."""
    for word in words:
        yield word
        base = stem(word)
        if base != word:
            yield f"{base}*"
    padded = [_EDGE, *words, "$"]
    known = [(), *classes, ()]
    for (left, left_classes), (right, right_classes) in pairwise(zip(padded, known, strict=True)):
        yield f"{left} {right}"
        for name in left_classes:
            yield f"{name} {right}"
            for other in right_classes:
                yield f"{name} {other}"
        for other in right_classes:
            yield f"{left} {other}"


def _sense_features(words: Sequence[str], lexicon: Lexicon) -> Iterator[str]:
    """Give what the words may be about, and what more than one of them is."""
    table = sense_table(lexicon)
    found = Counter(sense for word in words for sense in classes_of(word, table))
    for sense, times in found.items():
        yield f"~{sense}"
        if times > 1:
            yield f"~{sense} twice"


def _list_features(words: Sequence[str], lists: Sequence[tuple[str, PhraseIndex]]) -> Iterator[str]:
    """Give one feature for each flat list that has phrases in the line, and how many."""
    is_any = False
    for name, index in lists:
        found = index.find(words)
        if not found:
            continue
        is_any = True
        yield f"@{name}"
        if len(found) > 1:
            yield f"@{name} twice"
        if found[0][0] == 0:
            yield f"@{name} first"
        if any(last > first for first, last in found):
            yield f"@{name} long"
    if not is_any:
        yield "@none"


def line_features(words: Sequence[str], lexicon: Lexicon) -> frozenset[str]:
    """Give everything the model weighs in the normalised words of one line."""
    return _features(words, lexicon, read_calls(words, lexicon), read_prompts(words, lexicon))


def _features(
    words: Sequence[str],
    lexicon: Lexicon,
    calls: Sequence[Call],
    prompts: Sequence[Prompt],
) -> frozenset[str]:
    table = class_table(lexicon)
    classes = [classes_of(word, table) for word in words]
    seen = sorted({name for names in classes for name in names})
    features = set(_word_features(words, classes))
    features.update(seen)
    features.update(f"{one} & {other}" for one, other in combinations(seen, 2))
    features.update(_sense_features(words, lexicon))
    features.update(_list_features(words, _flat_lists(lexicon)))
    features.update(f"@call {call.ref}" for call in calls)
    features.update(_prompt_feature(prompt) for prompt in prompts)
    length = next((name for most, name in _LENGTHS if len(words) <= most), "15 or more")
    features.add(f"@words {length}")
    return frozenset(features)


def _prompt_feature(prompt: Prompt) -> str:
    return f"@breath {'held' if prompt.is_hold else 'bare' if prompt.is_bare else 'prompt'}"


@once
def _flat_lists(lexicon: Lexicon) -> tuple[tuple[str, PhraseIndex], ...]:
    indexes = [index_phrases(lexicon.lists.get(name, ())) for name in PHRASE_LISTS]
    return tuple(
        (label, index) for by_label in indexes for label, index in sorted(by_label.items())
    )


# --- the model -----------------------------------------------------------------------


def weigh(features: frozenset[str], lexicon: Lexicon) -> tuple[tuple[str, tuple[float, ...]], ...]:
    """Give the weights of the known features, by label in the order of ``LABELS``."""
    fitted = lexicon.weights.get(WEIGHTS)
    if fitted is None:
        return ()
    rows = fitted.rows
    return tuple([(feature, rows[feature]) for feature in (BIAS, *features) if feature in rows])


def read_line(words: Sequence[str], lexicon: Lexicon, *, counts_down: bool = False) -> Reading:
    """Read the labels of one line.

    Args:
        words: Normalised words of one utterance.
        lexicon: Its flat lists hold the phrases, classes and weights.
        counts_down: Whether a countdown was heard in the line.
    """
    return _read_lines([words], [counts_down], lexicon)[0]


def _read_lines(
    lines: Sequence[Sequence[str]], count_down: Sequence[bool], lexicon: Lexicon
) -> tuple[Reading, ...]:
    """Read some lines, of each its words and whether it counts down.

    What is said beside a time call is read by itself as well, as it would be without the call.
    """
    readings = _read_each(lines, count_down, lexicon)
    beside = {
        at: rest
        for at, (words, one) in enumerate(zip(lines, readings, strict=True))
        if one.calls and len(rest := _beside(words, one.calls)) >= _LEAST_BESIDE
    }
    alone = _read_each(list(beside.values()), [False] * len(beside), lexicon)
    told = dict(zip(beside, alone, strict=True))
    return tuple(_likelier(one, told.get(at)) for at, one in enumerate(readings))


def _read_each(
    lines: Sequence[Sequence[str]], count_down: Sequence[bool], lexicon: Lexicon
) -> list[Reading]:
    """Read some lines as they stand."""
    told = _tell(lines, lexicon) if lines else []
    return [
        _read(words, by_net, is_down, lexicon)
        for words, by_net, is_down in zip(lines, told, count_down, strict=True)
    ]


def _beside(words: Sequence[str], calls: Sequence[Call]) -> list[str]:
    """Give the words before the first of a line's calls and after the last."""
    first, last = min(one.first for one in calls), max(one.last for one in calls)
    return [*words[:first], *words[last + 1 :]]


def _likelier(line: Reading, beside: Reading | None) -> Reading:
    """Give a line the labels that it has, or that what is said beside its calls has."""
    if beside is None:
        return line
    sums = [
        max(own, other) if label in _BESIDE_CALLS else own
        for label, own, other in zip(LABELS, line.sums, beside.sums, strict=True)
    ]
    return replace(line, sums=tuple(sums))


def _tell(lines: Sequence[Sequence[str]], lexicon: Lexicon) -> list[list[float]]:
    """Give what the network tells of some lines, nothing where there is none."""
    net = lexicon_net(lexicon)
    if net is None:
        return [[0.0] * len(LABELS) for _ in lines]
    told: list[list[float]] = hear_lines(net, lines, lexicon, LABELS).tolist()
    return told


def _read(
    words: Sequence[str], by_net: Sequence[float], counts_down: bool, lexicon: Lexicon
) -> Reading:
    calls, prompts = read_calls(words, lexicon), read_prompts(words, lexicon)
    weighed = [weights for _, weights in weigh(_features(words, lexicon, calls, prompts), lexicon)]
    # Exact sums: features come from a set, and their order must make no difference.
    sums = tuple(fsum(column) for column in zip(by_net, *weighed, strict=True))
    return Reading(sums if weighed else (-1.0,) * len(LABELS), calls, prompts, counts_down)


def label_lines(talk: Talk, lines: Sequence[Line], lexicon: Lexicon) -> tuple[Mark, ...]:
    """Give one mark for each label of each line, in order; ``kind`` is the label.

    ``ref`` is "line", because the detectors make marks of the kinds "breathing" and
    "time_call" as well.
    ``weight`` is how sure the model is, 0 to 1; a line without a mark is chat.
    """
    downs = [count for count in find_counts(talk) if count.ref.startswith("down")]
    said = [[word.norm for word in talk.words[line.first : line.last + 1]] for line in lines]
    count_down = [any(overlaps(line, count) for count in downs) for line in lines]
    marks = []
    for line, reading in zip(lines, _read_lines(said, count_down, lexicon), strict=True):
        for label in reading.labels:
            sure = reading.sums[LABELS.index(label)]
            marks.append(_mark(line, label, 1 / (1 + exp(-max(-30.0, min(30.0, sure))))))
    return tuple(marks)


def _mark(line: Line, label: Label, weight: float) -> Mark:
    return Mark(
        kind=label,
        first=line.first,
        last=line.last,
        start_ms=line.start_ms,
        end_ms=line.end_ms,
        text=line.text,
        ref=REF,
        weight=weight,
    )
