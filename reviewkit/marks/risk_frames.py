"""Risks that have no set wording: two or three kinds of words near each other.

Something that hurts and a call to go on, a warning sign and a shrug, a smaller body and a
certainty, an illness and a cure, food and a debt, a rest and its denial. Words that are
negated make no frame; a careful way out beside a call takes it back.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reviewkit.language.numbers import find_numbers
from reviewkit.marks.risk_words import Heard, Risk, is_negated, pairs
from reviewkit.marks.wording import Hit, gap_between

# How many words may lie between something that hurts, or a warning, and what makes it risky.
_PAIN_REACH = 12
_WARNING_REACH = 12
_LIGHT_REACH = 8
# Words between a joint or a thing and what is wrong with it.
_WRONG_REACH = 4
_UNLESS_REACH = 8
# "It'll ease off" says what the pain does and offers no way out.
_EASES = frozenset({"it", "it'll", "it's", "that'll", "they'll", "will"})


@dataclass(frozen=True, slots=True)
class Frame:
    """A risk told by words of two kinds near each other.

    ``ones`` and ``others`` are labels of the word list, ``near`` the most words between
    the two; ``in_order`` asks for the first kind to come first; words of ``unless`` close
    by take the risk back.
    """

    reason: str
    ones: tuple[str, ...]
    others: tuple[str, ...]
    near: int
    in_order: bool = False
    unless: str = ""


FRAMES = (
    Frame("breath", ("breath_word",), ("keep_in",), 9),
    Frame("breath", ("no_air",), ("condition",), 4, in_order=True),
    Frame("loss", ("loss",), ("sure", "gone"), 14),
    Frame("loss", ("body_less",), ("sure", "by_when"), 10),
    Frame("medical", ("illness",), ("cure", "gone"), 12, unless="asks_first"),
    Frame("medical", ("advice",), ("scorn_advice",), 6),
    Frame("medical", ("need_no_more",), ("aid",), 4, in_order=True),
    Frame("lying", ("supine",), ("pregnant",), 9, unless="propped"),
    Frame("form", ("fault",), ("so_what",), 6),
    Frame("food", ("guilt_verb",), ("guilt_food",), 5),
    Frame("shame", ("body_blamed",), ("blame",), 6),
    Frame("limits", ("quitting",), ("scorn",), 6),
    Frame("limits", ("outdo",), ("rival",), 3, in_order=True),
    Frame("limits", ("until",), ("collapse",), 4, in_order=True),
    Frame("limits", ("collapse",), ("egging_on",), 6, in_order=True),
    Frame("limits", ("rest_denied",), ("condition",), 6, in_order=True),
    Frame("stretch", ("force",), ("joint", "limb"), 3, in_order=True),
    Frame(
        "warm_up", ("left_out", "not_done"), ("warming",), 4, in_order=True, unless="done_before"
    ),
    Frame("stretch", ("left_out",), ("stretching",), 4, in_order=True, unless="done_before"),
    Frame("lock", ("slam_straight",), ("hinge",), 3, in_order=True),
)


def frame_risks(heard: Heard) -> list[Risk]:
    """Find every risk that a frame tells, in no order."""
    return [
        *_pain_risks(heard),
        *_kit_risks(heard),
        *(risk for frame in FRAMES for risk in _framed(heard, frame)),
    ]


def _framed(heard: Heard, frame: Frame) -> list[Risk]:
    ones, others = heard.of(*frame.ones), heard.of(*frame.others)
    if not (ones and others):
        return []
    found = [
        risk
        for one in ones
        for risk in pairs(
            heard,
            [one],
            [other for other in others if not frame.in_order or one.first < other.first],
            frame.near,
        )
    ]
    return [
        Risk(risk.first, risk.last, frame.reason)
        for risk in found
        if not (frame.unless and _is_taken_back(heard, risk, frame.unless))
    ]


def _is_taken_back(heard: Heard, risk: Risk, label: str) -> bool:
    return any(
        risk.first - _WRONG_REACH <= one.first <= risk.last + _UNLESS_REACH
        for one in heard.of(label)
    )


def _kit_risks(heard: Heard) -> list[Risk]:
    """Find a thing that gives way and is used all the same: "it rocks a bit, never mind"."""
    things = heard.of("kit_thing")
    failing = [
        hit
        for hit in heard.of("failing")
        if any(0 <= gap_between(hit, thing) <= _WRONG_REACH for thing in things)
    ]
    return _as_reason(pairs(heard, failing, heard.of("shrug"), 6), "kit")


def _is_careful(heard: Heard, risk: Risk) -> bool:
    """Tell whether a careful way out is offered around a call to go on."""
    calls = heard.of("go_on")
    for way in heard.of("way_out"):
        inside_call = any(call.first <= way.first and way.last <= call.last for call in calls)
        if not _EASES.isdisjoint(heard.norms[max(0, way.first - 1) : way.first]):
            continue
        is_near = risk.first - 4 <= way.first <= risk.last + 8
        if is_near and not inside_call and not is_negated(heard, way):
            return True
    return False


def _complaints(heard: Heard) -> list[Hit]:
    """Find joints that complain: tired muscles may, joints may not."""
    joints = heard.of("joint")
    return [
        hit
        for hit in heard.of("complaint")
        if any(0 <= gap_between(hit, joint) <= _WRONG_REACH for joint in joints)
    ]


def _as_reason(risks: Iterable[Risk], reason: str) -> list[Risk]:
    return [Risk(risk.first, risk.last, reason) for risk in risks]


def _pain_risks(heard: Heard) -> list[Risk]:
    """Find pain or a warning sign with a call to go on, or made light of."""
    hurts = [*heard.of("pain"), *_complaints(heard)]
    calls = heard.of("go_on")
    after = [
        risk
        for hit in hurts
        for risk in pairs(heard, [hit], [one for one in calls if hit.last < one.first], _PAIN_REACH)
    ]
    before = [risk for hit in hurts for risk in pairs(heard, [hit], _before(heard, hit), 3)]
    light = [
        risk for hit in hurts for risk in pairs(heard, [hit], _after(heard, hit), _LIGHT_REACH)
    ]
    warned = pairs(heard, heard.of("warning"), heard.of("go_on", "normal"), _WARNING_REACH)
    found = [*_as_reason([*before, *after, *light], "pain"), *_as_reason(warned, "warning")]
    return [risk for risk in found if not _is_careful(heard, risk) and not _is_bone(heard, risk)]


def _before(heard: Heard, hurt: Hit) -> list[Hit]:
    """Find calls that lead straight to the hurt: "push through the", "even if it"."""
    return [one for one in heard.of("through_pain", "go_on") if one.last < hurt.first]


def _after(heard: Heard, hurt: Hit) -> list[Hit]:
    """Find what makes light of a hurt named before it; "only ten seconds" does not."""
    return [
        one
        for one in heard.of("normal")
        if hurt.last < one.first and not find_numbers(heard.norms[one.last + 1 : one.last + 2])
    ]


def _is_bone(heard: Heard, risk: Risk) -> bool:
    """Tell whether "the head is spinning" speaks of a bone in its socket."""
    words = heard.norms[max(0, risk.first - 3) : risk.last + 4]
    is_head = heard.norms[risk.first].startswith("head")
    before = heard.norms[max(0, risk.first - 1) : risk.first]
    named = any(one.last == risk.first - 1 for one in heard.of("anatomy"))
    return is_head and (named or bool({"socket", "cup"} & set(words)) or before == ("of",))
