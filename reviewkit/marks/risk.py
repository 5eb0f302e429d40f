"""Hear talk that may hurt somebody: pushing through pain, held breath, cures, shame.

Two ways lead to a mark. A set wording of the word list stands for its risk by itself
("no pain no gain"). A frame needs two kinds of words near each other: something that
hurts and a call to go on, a smaller body and a certainty, an illness and a cure, food and
a debt. Negations, careful ways out ("if it hurts, stop") and words put into other
people's mouths turn a mark off.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reviewkit.lines import split_lines
from reviewkit.marks.wording import Hit, Patterns, Spoken, as_spoken, compile_list, find_wordings
from reviewkit.model import Lexicon, Line, Mark, Talk
from reviewkit.numbers import find_numbers
from reviewkit.wordsets import word_set

KIND = "risky_talk"
LIST = "risky_talk"
# How many words may lie between the two halves of a frame.
_NEAR = {"pain": 12, "warning": 12, "breath": 9, "loss": 14, "cure": 12, "food": 5}
# A word that opens a new clause ends the reach of a negation before it.
_CLAUSE_BREAKS = word_set("if and so but then because when just now keep")
_NEGATION_REACH = 5
# Before a call only helping words stand, so a negation may be farther off.
_CALL_REACH = 8
_BEFORE_CALLS = word_set(
    "telling tell tells asking ask asks saying say suggesting getting making wanting expecting "
    "gonna dream dreaming would i'm we're "
    "you ever just try to want anyone anybody let be have need going please simply always feel "
    "like must should a the it about of we us them that this and i i'd people"
)
# Verbs that lead to "through it": "never push on through a joint that hurts".
_CALLS = word_set("push pushing work working go going press run power train carry keep fight on")
_SECOND_HALF_WORDS = 16
# How many words before a line may deny it or put it into other people's mouths.
_LEAD_WORDS = 8
_QUOTE_REACH = 6
# Others do it in a story: "she beat them all to the bus stop".
_OTHERS = word_set("he she they who it we i everybody somebody")
_TELLING = word_set("beat beats")
_KIT_REACH = 12
# "Hold it in front" holds no breath.
_PLACES = word_set("front place position line the your one both a that there here between")
_SAME_RISK_MS = 12_000
# A longer pause ends a thought, by how exact the clock is.
_THOUGHT_PAUSE_MS = {"words": 1200, "captions": 1500, "blocks": 15_000}


@dataclass(frozen=True, slots=True)
class _Heard:
    """One stretch of talk and every wording of the list found in it, by label."""

    norms: tuple[str, ...]
    hits: dict[str, tuple[Hit, ...]]

    def of(self, *labels: str) -> tuple[Hit, ...]:
        """Give the hits of some labels in the order spoken."""
        found = [hit for label in labels for hit in self.hits.get(label, ())]
        return tuple(sorted(found, key=lambda hit: (hit.first, hit.last)))


@dataclass(frozen=True, slots=True)
class _Risk:
    first: int
    last: int
    reason: str


def _own_negations(heard: _Heard, hit: Hit) -> set[int]:
    """Give the negations that belong to another wording of the list ("don't stop").

    One that runs into the hit is the hit's own: "don't stop breathing" stops nothing.
    """
    return {
        at
        for one in heard.of("go_on", "cure", "keep_in", "normal")
        for at in range(one.first, one.last + 1)
        if one == hit or not one.first < hit.first <= one.last
    }


def _is_negated(heard: _Heard, hit: Hit) -> bool:
    """Tell whether a negation just before the words, in the same clause, turns them.

    Before a call to go on, only helping words may stand between: "don't you push through",
    but not "don't sit down push on".
    """
    own = _own_negations(heard, hit)
    is_call = hit in heard.of("go_on", "through_pain")
    reach = _CALL_REACH if is_call else _NEGATION_REACH
    for negation in heard.of("negation"):
        between = heard.norms[negation.last + 1 : hit.first]
        if is_call and not set(between) <= _BEFORE_CALLS | _CALLS:
            continue
        is_before = negation.last < hit.first and len(between) < reach
        if is_before and negation.first not in own and not _CLAUSE_BREAKS & set(between):
            return True
    return False


def _is_disowned(heard: _Heard, hit: Hit) -> bool:
    """Tell whether a saying is quoted from others or turned down right after.

    Words that the coach makes their own stay the coach's: "and she was right".
    """
    quoted = any(one.last < hit.first <= one.last + _QUOTE_REACH for one in heard.of("reported"))
    withdrawn = any(hit.last < one.first <= hit.last + 3 for one in heard.of("retract"))
    if any(hit.last < one.first for one in heard.of("endorse")):
        return False
    turned = any(hit.last < one.first <= hit.last + 7 for one in heard.of("negation"))
    return (
        quoted
        or withdrawn
        or (turned and bool({"pain", "gain"} & set(heard.norms[hit.first : hit.last + 1])))
    )


def _gap(one: Hit, other: Hit) -> int:
    """Count the words between two hits; negative when they overlap."""
    return max(one.first, other.first) - min(one.last, other.last) - 1


def _pairs(heard: _Heard, ones: Iterable[Hit], others: Iterable[Hit], near: int) -> list[_Risk]:
    """Pair words of two kinds that are near each other (or overlap) and not negated."""
    open_others = [hit for hit in others if not _is_negated(heard, hit)]
    return [
        _Risk(min(one.first, other.first), max(one.last, other.last), "")
        for one in ones
        if not _is_negated(heard, one)
        for other in open_others
        if _gap(one, other) <= near and (one.first, one.last) != (other.first, other.last)
    ]


def _is_careful(heard: _Heard, risk: _Risk) -> bool:
    """Tell whether a careful way out is offered around a call to go on."""
    calls = heard.of("go_on")
    for way in heard.of("way_out"):
        inside_call = any(call.first <= way.first and way.last <= call.last for call in calls)
        is_near = risk.first - 4 <= way.first <= risk.last + 8
        if is_near and not inside_call and not _is_negated(heard, way):
            return True
    return False


def _complaints(heard: _Heard) -> list[Hit]:
    """Find joints that complain: tired muscles may, joints may not."""
    joints = heard.of("joint")
    return [
        hit for hit in heard.of("complaint") if any(0 <= _gap(hit, joint) <= 4 for joint in joints)
    ]


def _as_reason(risks: Iterable[_Risk], reason: str) -> list[_Risk]:
    return [_Risk(risk.first, risk.last, reason) for risk in risks]


def _pain_risks(heard: _Heard) -> list[_Risk]:
    """Find pain or a warning sign with a call to go on, or made light of."""
    hurts = [*heard.of("pain"), *_complaints(heard)]
    calls = heard.of("go_on")
    after = [
        risk
        for hit in hurts
        for risk in _pairs(
            heard, [hit], [one for one in calls if hit.last < one.first], _NEAR["pain"]
        )
    ]
    before = [risk for hit in hurts for risk in _pairs(heard, [hit], _before(heard, hit), 3)]
    light = [risk for hit in hurts for risk in _pairs(heard, [hit], _after(heard, hit), 8)]
    warned = _pairs(heard, heard.of("warning"), heard.of("go_on", "normal"), _NEAR["warning"])
    found = [*_as_reason([*before, *after, *light], "pain"), *_as_reason(warned, "warning")]
    return [risk for risk in found if not _is_careful(heard, risk) and not _is_bone(heard, risk)]


def _before(heard: _Heard, hurt: Hit) -> list[Hit]:
    """Find calls that lead straight to the hurt: "push through the", "even if it"."""
    return [one for one in heard.of("through_pain", "go_on") if one.last < hurt.first]


def _after(heard: _Heard, hurt: Hit) -> list[Hit]:
    """Find what makes light of a hurt named before it; "only ten seconds" does not."""
    return [
        one
        for one in heard.of("normal")
        if hurt.last < one.first and not find_numbers(heard.norms[one.last + 1 : one.last + 2])
    ]


def _other_frames(heard: _Heard) -> list[_Risk]:
    """Find held breath, promised bodies, promised cures and food as a debt."""
    breath = _pairs(heard, heard.of("breath_word"), heard.of("keep_in"), _NEAR["breath"])
    loss = _pairs(heard, heard.of("loss"), heard.of("sure", "gone"), _NEAR["loss"])
    ill = heard.of("illness")
    cure = _pairs(heard, ill, heard.of("cure", "gone"), _NEAR["cure"])
    food = _pairs(heard, heard.of("guilt_verb"), heard.of("guilt_food"), _NEAR["food"])
    return [
        *_as_reason(breath, "breath"),
        *_as_reason(loss, "loss"),
        *_as_reason([risk for risk in cure if not _asks_first(heard, risk)], "medical"),
        *_as_reason(food, "food"),
    ]


def _asks_first(heard: _Heard, risk: _Risk) -> bool:
    """Tell whether viewers are sent to somebody who can judge ("ask your midwife")."""
    around = set(heard.norms[max(0, risk.first - 4) : risk.last + 7])
    return bool(
        around & {"ask", "check", "checked", "ring", "speak", "chat", "clearance", "cleared"}
    )


def _set_risks(heard: _Heard) -> list[_Risk]:
    """Find set wordings; the label's ending names the risk."""
    return [
        _Risk(hit.first, hit.last, label.removeprefix("set_"))
        for label, hits in heard.hits.items()
        if label.startswith("set_")
        for hit in hits
        if not _is_negated(heard, hit) and not _is_of_another(heard, hit, label)
    ]


def _is_of_another(heard: _Heard, hit: Hit, label: str) -> bool:
    """Tell whether set words stand in a story, a comparison, or speak of no kit at all."""
    before = heard.norms[max(0, hit.first - 2) : hit.first]
    if label == "set_kit":
        things = heard.of("kit_thing")
        return "like" in before or not any(_gap(hit, one) <= _KIT_REACH for one in things)
    if label == "set_breath":
        after = heard.norms[hit.last + 1 : hit.last + 2]
        return heard.norms[hit.last] == "in" and bool(set(after) & _PLACES)
    return heard.norms[hit.first] in _TELLING and bool(set(before[-1:]) & _OTHERS)


def _is_bone(heard: _Heard, risk: _Risk) -> bool:
    """Tell whether "the head is spinning" speaks of a bone in its socket."""
    words = heard.norms[max(0, risk.first - 3) : risk.last + 4]
    is_head = heard.norms[risk.first].startswith("head")
    before = heard.norms[max(0, risk.first - 1) : risk.first]
    named = any(one.last == risk.first - 1 for one in heard.of("anatomy"))
    return is_head and (named or bool({"socket", "cup"} & set(words)) or before == ("of",))


def _heard(norms: tuple[str, ...], patterns: Patterns) -> _Heard:
    spoken: Spoken = as_spoken(norms)
    return _Heard(norms, {label: find_wordings(spoken, one) for label, one in patterns.items()})


def _stretches(talk: Talk, lines: tuple[Line, ...]) -> Iterable[tuple[int, int, int, int]]:
    """Give each line with the words around it that may belong to its thought.

    A pause ends the thought where the clock can tell a pause; elsewhere the words go on.
    Yields the first word of the stretch, first and last of the line, last of the stretch.
    """
    pause_ms = _THOUGHT_PAUSE_MS[talk.clock]
    for at, line in enumerate(lines):
        end = line.last
        for following in lines[at + 1 : at + 4]:
            if following.start_ms - talk.words[end].end_ms > pause_ms:
                break
            end = following.last
        start = line.first
        if start and line.start_ms - talk.words[start - 1].end_ms <= pause_ms:
            start = max(lines[at - 1].first, start - _LEAD_WORDS)
        yield start, line.first, line.last, min(end, line.last + _SECOND_HALF_WORDS)


def _mark(talk: Talk, line: tuple[int, int], first: int, last: int, reason: str) -> Mark:
    """Make a mark of the risky words, its text the line (or two) they stand in."""
    words = talk.words[line[0] : max(line[1], last) + 1]
    start, end = talk.words[first].start_ms, talk.words[last].end_ms
    return Mark(KIND, first, last, start, end, " ".join(word.text for word in words), ref=reason)


def find_risky_talk(talk: Talk, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Mark talk that may hurt somebody, one mark an utterance, in the order spoken.

    The mark's text is the line around it, its ``ref`` the kind of risk: ``pain``,
    ``warning``, ``breath``, ``loss``, ``medical``, ``shame``, ``food``, ``limits``,
    ``warm_up``, ``stretch``, ``kit`` or ``lock``.
    """
    patterns = compile_list(lexicon.lists.get(LIST, ()), {word.norm for word in talk.words})
    marks: list[Mark] = []
    for start, first, line_last, last in _stretches(talk, split_lines(talk)):
        heard = _heard(tuple(word.norm for word in talk.words[start : last + 1]), patterns)
        risks = [*_set_risks(heard), *_pain_risks(heard), *_other_frames(heard)]
        own = [
            risk
            for risk in risks
            if first <= start + risk.first <= line_last
            and not _is_disowned(heard, Hit(risk.first, risk.last, ""))
        ]
        if not own:
            continue
        risk = min(own, key=lambda one: (one.first, one.last - one.first))
        mark = _mark(talk, (first, line_last), start + risk.first, start + risk.last, risk.reason)
        if not marks or mark.start_ms - marks[-1].end_ms > _SAME_RISK_MS:
            marks.append(mark)
    return tuple(marks)
