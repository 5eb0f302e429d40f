"""Judge "no jumping", "no floor work" and the like by moves done and by what was asked for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from reviewkit.findings.asked_for import Sought, asked_at
from reviewkit.findings.claims import claims, is_for_class, is_sworn, name_words, verdict_on
from reviewkit.findings.places import done_intervals, start_ms
from reviewkit.language.matching import stem
from reviewkit.language.wordsets import word_set
from reviewkit.model import HeardClass, Interval, Mark, Promise
from reviewkit.times import format_clock

_JUMPS = word_set(
    "jump jumps jumping hop hops hopping burpee burpees jack jacks skater skaters "
    "plyo leap leaps bound bounds bounce"
)
# Words in a move's name that take the jump out of it: "low impact jack", "step jack".
_WITHOUT_JUMPS = word_set(
    "shoulder shoulders low low-impact impact step stepping stepped walking no without "
    "jumpless slow half"
)
_FLOOR = word_set(
    "plank planks crunch crunches bridge bridges climber climbers sit-up sit-ups "
    "situp situps bug superman clam clams press-up push-up push-ups press-ups dog"
)
_NOT_ON_FLOOR = word_set(
    "wall desk chair standing incline counter bench seated step table pew sofa rail railing kerb "
    "worktop sink parapet banister bannister handrail fence gate door doorway tree car box "
    "bar barre stool bed vertical hamstring"
)
# How a move is done says where: a "lying knee hug" is on the floor whatever it is.
_DOWN = word_set(
    "lying side-lying kneeling half-kneeling supine prone all-fours quadruped floor cobra cat-cow"
)
_TOUCHED = word_set("touch tap reach touches taps")
# A "side crunch" is mostly done upright, and may be.
_CRUNCHES, _SIDEWAYS = word_set("crunch crunches"), word_set("side oblique")
_FLOOR_PATTERNS = word_set("anti-extension-core anti-rotation-core flexion-core bridge")

# Any other move, called by its own word; such words of two have these behind.
_NO_MOVE = "no_move"
_BEGUN = word_set("yourself doing do into hold come down quick another round time")
_SECOND_WORDS = word_set("up ups down downs sit sits hold holds")
# How words begin that name, or ask for, a move the class was to do without.
_NO_MOVES = {
    "no_running": ("run", "jog", "sprint"),
    "no_burpees": ("burpee",),
    "no_kneeling": ("kneel",),
    "no_sit_ups": ("sit-up", "situp", "crunch"),
}

# What each of these is called when a class is asked for it all the same.
_SOUGHT = {
    "no_jumping": Sought(
        word_set("jump jumps jumping hop hops hopping leap leaping bounce bouncing spring"),
        word_set("ground floor flaw leave air little"),
        "jump_asked",
    ),
    "no_floor": Sought(frozenset(), frozenset(), "floor_asked"),
    "no_running": Sought(word_set("run runs running jog jogging sprint sprints"), frozenset()),
    "no_burpees": Sought(word_set("burpee burpees"), word_set("doing")),
    "no_kneeling": Sought(word_set("kneel kneeling"), word_set("knee knees ground")),
    "no_sit_ups": Sought(word_set("sit-up sit-ups situp situps crunch crunches"), frozenset()),
}


def _words(move: str) -> frozenset[str]:
    return frozenset(move.lower().split()) | frozenset(name_words(move))


def _patterns(heard: HeardClass) -> dict[str, str]:
    """Give the movement pattern of each move the lexicon knows, by name and alias."""
    return {
        name.lower(): move.pattern
        for move in heard.lexicon.moves
        for name in (move.name, *move.aliases)
    }


def _jumps(heard: HeardClass, _: Mark) -> Iterable[Interval]:
    patterns = _patterns(heard)
    for one in done_intervals(heard):
        words = _words(one.move_done)
        if words & _WITHOUT_JUMPS:
            continue
        by_name = bool(words & _JUMPS)
        if one.kind == "work" and (by_name or "jump" in patterns.get(one.move_done.lower(), "")):
            yield one


def _on_floor(heard: HeardClass, _: Mark) -> Iterable[Interval]:
    patterns = _patterns(heard)
    for one in done_intervals(heard):
        words = _words(one.move_done)
        is_floor = words & _FLOOR or patterns.get(one.move_done.lower()) in _FLOOR_PATTERNS
        is_upright = words & _NOT_ON_FLOOR or (words & _CRUNCHES and words & _SIDEWAYS)
        is_down = words & _DOWN and not words & _TOUCHED
        if (is_down or is_floor) and not is_upright:
            yield one


def _named_moves(heard: HeardClass, mark: Mark) -> Iterable[Interval]:
    stems = _NO_MOVES[mark.ref]
    for one in done_intervals(heard):
        if any(word.startswith(stems) for word in _words(one.move_done)):
            yield one


def _thing(heard: HeardClass, mark: Mark) -> list[str]:
    """Give the words for a move the class was to do without: "planks", "push ups"."""
    words = [word.norm for word in heard.talk.words[mark.first : mark.last + 1]]
    return words[-2:] if words[-1] in _SECOND_WORDS else words[-1:]


def _moves_called(heard: HeardClass, mark: Mark) -> Iterable[Interval]:
    """Give what was done and is called as the thing ruled out, or goes by one of its words."""
    thing = {stem(word) for part in _thing(heard, mark) for word in part.split("-")}
    for one in done_intervals(heard):
        if thing <= {stem(word) for word in _words(one.move_done)}:
            yield one


def _judge_move(heard: HeardClass, mark: Mark) -> Promise:
    """Judge a class without some move by the names of the moves done."""
    thing = _thing(heard, mark)
    what, said = "_".join(("no", *thing)).replace("-", "_"), " ".join(("no", *thing))
    return _verdict(heard, mark, what, said, _moves_called(heard, mark), _sought(heard, thing))


def _sought(heard: HeardClass, thing: Sequence[str]) -> Sought:
    """Say what a move ruled out is called in the class, in all its forms."""
    root = stem(thing[0]) if len(thing) == 1 else ""
    forms = {word.norm for word in heard.talk.words if root and stem(word.norm) == root}
    return Sought(frozenset(forms), _BEGUN)


def _judge(heard: HeardClass, mark: Mark) -> Promise:
    """Judge a class without something by the moves done, added ones too, and by what was asked."""
    what = mark.ref if mark.ref in _NO_MOVES else mark.ref.removeprefix("no_")
    said = _SAID.get(mark.ref, mark.ref.replace("_", " "))
    moves = _MOVES.get(mark.ref, _named_moves)(heard, mark)
    return _verdict(heard, mark, what, said, moves, _SOUGHT[mark.ref])


def _verdict(
    heard: HeardClass,
    mark: Mark,
    what: str,
    said: str,
    moves: Iterable[Interval],
    sought: Sought,
) -> Promise:
    """Judge by the first of the moves done after the claim, or else by what was asked for."""
    done = next((one for one in moves if start_ms(one) > mark.start_ms), None)
    if done is not None:
        why = f"{done.move_done} was done"
        return verdict_on(what, mark, done.move_done, "broken", why, said=said)
    asked = asked_at(heard, sought, mark.start_ms)
    if asked is not None:
        why = f"at {format_clock(asked[0])}: {asked[1]}"
        return verdict_on(what, mark, asked[1], "broken", why, said=said)
    return verdict_on(what, mark, said, "kept", said=said)


_MOVES = {"no_jumping": _jumps, "no_floor": _on_floor}
_PLAINLY = word_set("no nobody nothing none")
_SAID = {"no_floor": "no floor work"}


def judge_without(heard: HeardClass) -> list[Promise]:
    """Judge every promise to do without something, made before the work began or sworn later."""
    return [
        _judge_move(heard, mark) if mark.ref == _NO_MOVE else _judge(heard, mark)
        for mark in claims(heard, *_SOUGHT, _NO_MOVE)
        if is_for_class(heard, mark) or _is_sworn_later(heard, mark)
    ]


def _is_sworn_later(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether the rest of the class is sworn to do without: "no jumping from here, I swear".

    "Make it a step and not a jump" is of one move.
    """
    is_plain = heard.talk.words[mark.first].norm in _PLAINLY
    return mark.ref in _MOVES and is_sworn(mark) and is_plain
