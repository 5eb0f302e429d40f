"""Flag cues for the same move that ask for opposite things.

Two cues contradict when they speak of the same part, lie at opposite poles of an axis
that matters for that part, and at least one of them insists ("stays", "never", "all the
way"). Options, conditions and cues that name both poles (a movement up and down) do not.
The rule would rather stay silent than accuse: it flags at most one pair a move.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.frames.grammar import Frame, are_opposite, frame_book, parse_frames
from reviewkit.frames.utterances import Utterance, split_cues
from reviewkit.model import Flag, HeardClass, Interval
from reviewkit.wordsets import word_set

KIND = "contradiction"

# Least score of a contradiction: higher where windows of words may mix two cues.
LEAST_SCORE = 2.5
LEAST_BLOCK_SCORE = 3.0
_APART_MS = 12_000
# What each further word for the same pole adds, and the most they add.
_EXTRA, _MOST_EXTRA = 0.5, 1.0

# Parts for which an axis is a matter of form and not of the movement itself; an empty
# set stands for the move as a whole.
_REGIONS = {
    "height": ("heel ball-of-foot", "shoulder blades", "chin head", "chest"),
    "width": ("elbow", "knee thigh", "foot heel"),
    "distance": ("weight bar",),
    "bend": ("knee", "elbow arm"),
    "curve": ("low-back back waist spine",),
    "round": ("back spine low-back",),
    "hipheight": ("hips glutes",),
    "point": ("toes heel ball-of-foot",),
    "turn": ("toes foot",),
    "gaze": ("eyes face head",),
    "breath": ("rise", "lower"),
    "tension": ("core",),
    "past": ("knee",),
    "palm": ("palm hand",),
    "slack": ("band",),
    "lean": ("chest torso",),
}
_FORM_OF = {
    axis: tuple(word_set(region) for region in regions) for axis, regions in _REGIONS.items()
}
_OF_THE_MOVE = word_set("depth hold rebound load size distance swing")

_INSISTS = word_set(
    "stay stays keep always never every whole right all now want don't doesn't let's please must"
    " no nobody only time stuck glued once both"
)
_CHANGES = (
    ("this", "time"),
    ("now",),
    ("all", "the", "way"),
    ("let's",),
    ("right",),
    ("this", "one"),
)
_OPTIONS = word_set(
    "if option easier harder instead or might maybe unless either fine"
    " optional allowed sore tired wobbly rather"
)


@dataclass(frozen=True, slots=True)
class Cue:
    """An utterance inside an interval with its frames and how much it insists."""

    utterance: Utterance
    interval: Interval
    frames: tuple[Frame, ...]
    insists: float


def find_contradictions(heard: HeardClass) -> tuple[Flag, ...]:
    """Flag the clearest contradiction of each move, in the order they were said."""
    cues: dict[str, list[Cue]] = {}
    for cue in _cues(heard, split_cues(heard.talk)):
        cues.setdefault(cue.interval.move_done, []).append(cue)
    least = LEAST_BLOCK_SCORE if heard.talk.clock == "blocks" else LEAST_SCORE
    flags = []
    for move, said in cues.items():
        best = max(_pairs(said), key=lambda pair: pair[0], default=None)
        if best is not None and best[0] >= least:
            flags.append(_flag(move, best[1], best[2]))
    return tuple(sorted(flags, key=lambda flag: flag.at_ms))


def _cues(heard: HeardClass, utterances: Sequence[Utterance]) -> Iterator[Cue]:
    """Give the utterances of each interval that ask for something without conditions."""
    book = frame_book(heard.lexicon)
    for interval in done_intervals(heard):
        for one in utterances:
            if not start_ms(interval) - 1_000 <= one.line.start_ms < end_ms(interval):
                continue
            if _OPTIONS & set(one.words) or "you could" in one.line.text or len(one.words) < 4:
                continue
            frames = _steady(parse_frames(one.words, book))
            if frames:
                yield Cue(one, interval, frames, _insistence(one.words))


def _steady(frames: Sequence[Frame]) -> tuple[Frame, ...]:
    """Leave out axes of which a cue names both poles: it describes a movement."""
    return tuple(
        frame
        for frame in frames
        if not any(are_opposite(frame, other) and _meet(frame, other) for other in frames)
        and (frame.axis in _OF_THE_MOVE or _regions(frame))
    )


def _regions(frame: Frame) -> frozenset[int]:
    """Number the regions of the body a frame speaks of, as far as its axis is form there."""
    regions = _FORM_OF.get(frame.axis, ())
    return frozenset(place for place, region in enumerate(regions) if frame.parts & region)


def _insistence(words: Sequence[str]) -> float:
    """Count, up to 3, the words that make a cue a rule and not a moment of a movement."""
    return float(min(3, sum(word in _INSISTS for word in words)))


def _pairs(cues: Sequence[Cue]) -> Iterator[tuple[float, Cue, Cue]]:
    """Give every pair of opposed cues of one move with its score."""
    for place, one in enumerate(cues):
        for two in cues[place + 1 :]:
            if two.utterance.line.start_ms - one.utterance.line.end_ms < _APART_MS:
                continue
            score = _opposition(one, two)
            if score:
                yield score + one.insists / 2 + two.insists / 2 + _changes(two), one, two


def _changes(cue: Cue) -> float:
    """Give 1 to a cue that says it wants something else this time."""
    words = cue.utterance.words
    return float(
        any(words[at : at + len(sign)] == sign for at in range(len(words)) for sign in _CHANGES)
    )


def _opposition(one: Cue, two: Cue) -> float:
    """Score how opposed two cues are, 0 when they are not."""
    pairs = [
        (mine, other)
        for mine in one.frames
        for other in two.frames
        if are_opposite(mine, other) and _meet(mine, other)
    ]
    if not pairs:
        return 0.0
    base = max(2.0 if _regions(mine) & _regions(other) else 1.5 for mine, other in pairs)
    axes = {mine.axis for mine, _ in pairs}
    said = [len({frame.at for frame in cue.frames if frame.axis in axes}) - 1 for cue in (one, two)]
    return base + sum(min(_MOST_EXTRA, count * _EXTRA) for count in said)


def _meet(one: Frame, other: Frame) -> bool:
    """Tell whether two frames speak of the same part, or of the move as a whole."""
    return bool(_regions(one) & _regions(other)) or one.axis in _OF_THE_MOVE


def _flag(move: str, one: Cue, two: Cue) -> Flag:
    return Flag(
        kind=KIND,
        at_ms=two.utterance.line.start_ms,
        move=two.interval.move,
        round=two.interval.round,
        text=two.utterance.line.text,
        why=f"Earlier in {move} the opposite was asked for; say which one holds, or for whom.",
        interval=two.interval.id,
        other_at_ms=one.utterance.line.start_ms,
        other_text=one.utterance.line.text,
    )
