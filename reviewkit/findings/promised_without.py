"""Judge "no jumping" and "no floor work" by the moves done and by what was asked for."""

from __future__ import annotations

from collections.abc import Iterable

from reviewkit.findings.claims import claims, is_for_class, verdict_on
from reviewkit.findings.places import done_intervals, interval_at
from reviewkit.frames.grammar import frame_book, parse_frames
from reviewkit.frames.utterances import split_cues
from reviewkit.language.wordsets import word_set
from reviewkit.model import HeardClass, Interval, Mark, Promise
from reviewkit.times import format_clock

_JUMPS = word_set(
    "jump jumps jumping hop hops hopping burpee burpees jack jacks skater skaters "
    "plyo leap leaps bound bounds tuck bounce"
)
# Words in a move's name that take the jump out of it: "low impact jack", "step jack".
_WITHOUT_JUMPS = word_set(
    "low low-impact impact step stepping stepped walking no jumpless slow half"
)
_FLOOR = word_set(
    "plank planks crunch crunches bridge bridges climber climbers sit-up sit-ups "
    "situp situps bug superman clam clams press-up push-up push-ups press-ups dog"
)
_NOT_ON_FLOOR = word_set(
    "wall desk chair standing incline counter bench seated step table pew sofa rail railing kerb "
    "worktop sink fence gate door doorway tree car box bar barre stool bed vertical"
)
_FLOOR_PATTERNS = word_set("anti-extension-core anti-rotation-core flexion-core bridge")

# How words begin that name, or ask for, a move the class was to do without.
_NO_MOVES = {
    "no_running": ("run", "jog", "sprint"),
    "no_burpees": ("burpee",),
    "no_kneeling": ("kneel",),
    "no_sit_ups": ("sit-up", "situp", "crunch"),
}

# Words for leaving the ground, and those that leave it to the viewer or deny it.
_LEAVES_GROUND = word_set(
    "jump jumps jumping hop hops hopping leap leaps leaping bounce bounces airborne air ground"
    " floor spring"
)
_LEAVES_IT_OPEN = word_set("if or option instead could might like unless prefer rather version")


def _words(move: str) -> frozenset[str]:
    return frozenset(move.lower().split()) | frozenset(move.lower().replace("-", " ").split())


def _patterns(heard: HeardClass) -> dict[str, str]:
    """Give the movement pattern of each move the lexicon knows, by name and alias."""
    return {
        name.lower(): move.pattern
        for move in heard.lexicon.moves
        for name in (move.name, *move.aliases)
    }


def _jumps(heard: HeardClass) -> Iterable[Interval]:
    patterns = _patterns(heard)
    for one in done_intervals(heard):
        words = _words(one.move_done)
        if words & _WITHOUT_JUMPS:
            continue
        by_name = bool(words & _JUMPS)
        if one.kind == "work" and (by_name or "jump" in patterns.get(one.move_done.lower(), "")):
            yield one


def _on_floor(heard: HeardClass) -> Iterable[Interval]:
    patterns = _patterns(heard)
    for one in done_intervals(heard):
        words = _words(one.move_done)
        is_floor = words & _FLOOR or patterns.get(one.move_done.lower()) in _FLOOR_PATTERNS
        if one.kind == "work" and is_floor and not words & _NOT_ON_FLOOR:
            yield one


def _asked_to_jump(heard: HeardClass) -> Iterable[tuple[int, str]]:
    """Give the moves in which the talk asks for a jump though it was no jumping move."""
    book = frame_book(heard.lexicon)
    for one in split_cues(heard.talk):
        interval = interval_at(heard, one.line.start_ms)
        words = set(one.words)
        if interval is None or words & _LEAVES_IT_OPEN or not words & _LEAVES_GROUND:
            continue
        poles = {frame.pole for frame in parse_frames(one.words, book)}
        if "hop:hop" in poles and "hop:ground" not in poles:
            yield one.line.start_ms, one.line.text


def _judge_no_move(heard: HeardClass, mark: Mark) -> Promise:
    """Judge a class without a kind of move by the moves done, added ones too, and what was asked.

    What is said of it once the class has begun, and not denied, asks for it.
    """
    what, said = mark.ref, mark.ref.replace("_", " ")
    stems = _NO_MOVES[what]
    for one in done_intervals(heard):
        if any(word.startswith(stems) for word in _words(one.move_done)):
            why = f"{one.move_done} was done"
            return verdict_on(what, mark, one.move_done, "broken", why, said=said)
    for cue in split_cues(heard.talk):
        is_inside = interval_at(heard, cue.line.start_ms) is not None
        is_asked = cue.words[:1] and cue.words[0].startswith(stems)
        if is_inside and is_asked and not set(cue.words) & _LEAVES_IT_OPEN:
            why = f"at {format_clock(cue.line.start_ms)}: {cue.line.text}"
            return verdict_on(what, mark, cue.line.text, "broken", why, said=said)
    return verdict_on(what, mark, said, "kept", said=said)


def _judge_no_jumping(heard: HeardClass, mark: Mark) -> Promise:
    said = "no jumping"
    jump = next(iter(_jumps(heard)), None)
    if jump is not None:
        why = f"{jump.move_done} was done"
        return verdict_on("jumping", mark, jump.move_done, "broken", why, said=said)
    asked = next(iter(_asked_to_jump(heard)), None)
    if asked is not None:
        why = f"at {format_clock(asked[0])}: {asked[1]}"
        return verdict_on("jumping", mark, "a jump was asked for", "broken", why, said=said)
    return verdict_on("jumping", mark, said, "kept", said=said)


def _judge_no_floor(heard: HeardClass, mark: Mark) -> Promise:
    said = "no floor work"
    found = next(iter(_on_floor(heard)), None)
    if found is None:
        return verdict_on("floor", mark, said, "kept", said=said)
    why = f"{found.move_done} was done"
    return verdict_on("floor", mark, found.move_done, "broken", why, said=said)


def judge_without(heard: HeardClass) -> list[Promise]:
    """Judge every promise to do without jumps or floor work made before the work began."""
    judges = {
        "no_jumping": _judge_no_jumping,
        "no_floor": _judge_no_floor,
        **dict.fromkeys(_NO_MOVES, _judge_no_move),
    }
    return [
        judges[mark.ref](heard, mark)
        for mark in claims(heard, *judges)
        if is_for_class(heard, mark)
    ]
