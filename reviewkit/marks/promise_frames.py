"""Hear promises that have no set wording: two or three kinds of words near each other.

A cool-down is something slow and a word for the end ("something slow for the hips, and
then we're done"); a warm-up is something loosening and a word for the start; both sides
are one side, the other, and a word that makes it a rule ("whatever the left leg does,
the right leg does").
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reviewkit.language.wordsets import word_set
from reviewkit.marks.promise_tokens import Claim, Token
from reviewkit.marks.wording import Hit, Hits, gap_between

# What is promised, the label of the thing itself, and of the words that place it.
_FRAMES = (("cool_down", "slow_thing", "closing"), ("warm_up", "loosening", "opening"))
_REACH = 7
_SIDE_REACH = 10
_LEFT_RIGHT = word_set("left right")
_RULE_REACH = 8
NEGATIONS = word_set("no not don't without never isn't won't can't doesn't didn't nobody")
# Before a thing that must not be missed a negation is none: "don't skip the stretch".
_MISSED = word_set("skip miss forget rush leave run dash disappear switch worry fret panic")
# "At the end of your range" closes nothing, "at the end of class" does.
_WHOLES = word_set(
    "class it this that today session workout lesson everything all practice hour play"
)
_ARTICLES = word_set("the our this your my a")
_STANDING = word_set("standing stood upright")
_PARTS = word_set("one ones part parts bit bits half block move moves row rows at")
# A move that has no name of its own among these.
_NO_MOVE = "no_move"
# What is denied, how many words may lie between, and which may.
_DENIALS = (
    ("no_jumping", "jump_thing", 3),
    ("no_floor", "floor_thing", 8),
    ("no_running", "run_thing", 3),
    ("no_burpees", "burpee_thing", 3),
    ("no_kneeling", "kneel_thing", 3),
    ("no_sit_ups", "sit_up_thing", 3),
    (_NO_MOVE, "move_thing", 3),
)
# What a class may be without from end to end; other things are moves among many.
_OF_CLASS = ("no_jumping", "no_floor")
_BETWEEN = word_set(
    "get gets getting go goes going come comes coming lie lying lay be being is are need needs "
    "have has to down on onto over off with in at all of any a an the our your this that more "
    "touch touching roll rolling around about near anywhere gonna even ever once you we us "
    "anybody anyone for make making must should anything way do doing big silly "
    "i'll i'm ask asking asked want part parts "
    "i it's work single time done one feet foot leaving high comin goin leavin will this here"
)
# What follows such a word is about how a move is done: "no twisting the knee"; and a class that
# runs over does not run.
_SAYS_WITH = word_set("with over late long behind short")
_SAYS_HOW = word_set("with the your from past")
# "You need nothing, you need a floor" takes the floor from what is not needed.
_NOTHING = word_set("nothing nowt none zero")
_NEEDED = word_set("need want")
_OF_A_DAY = word_set("day hours hour night week shift")
# "Don't jump yet" tells somebody what to do now; a promise has a subject or a reach.
_ORDERS = word_set("don't not never")
# "You don't have to jump" leaves it to each viewer.
# "Not one jump" is a plain "no".
_NOT_ONE = (["one"], ["a"], ["single"])
_LEAVES = (["have", "to"], ["need", "to"])
_ADVERBS = word_set("really just all ever still even definitely absolutely simply")
_SUBJECTS = word_set("i we we're we'll you'll you won't i'm nobody no-one there's it's i'll none")
_SCOPE_REACH = 7
_BODY_REACH = 3
# "If you've a twinge anywhere don't run" is for some.
_IF_REACH = 7


def claim_frames(tokens: Sequence[Token], hits: Hits) -> Iterator[Claim]:
    """Give the promises of a warm-up, a cool-down and both sides that frames tell."""
    for what, thing, place in _FRAMES:
        places = [hit for hit in hits.get(place, ()) if is_of_class(tokens, hit)]
        for hit in hits.get(thing, ()):
            near = next((one for one in places if gap_between(hit, one) <= _REACH), None)
            if near and not is_negated(tokens, hit):
                yield _spanning(what, hit, near)
    yield from _endings(tokens, hits)
    yield from _both_sides(hits)
    yield from _second_sides(hits)
    yield from _denied(tokens, hits)
    yield from _all_standing(tokens, hits)


def _endings(tokens: Sequence[Token], hits: Hits) -> Iterator[Claim]:
    """Find "at the end": what comes there may be a cool-down, if the plan has one."""
    for hit in hits.get("ending", ()):
        around = {token.text for token in tokens[max(0, hit.first - 6) : hit.last + 6]}
        if is_of_class(tokens, hit) and not around & NEGATIONS:
            yield Claim("maybe_cool_down", None, hit.first, hit.last)


def _second_sides(hits: Hits) -> Iterator[Claim]:
    """Find "the same on the other leg every time": the other side, what it gets, a rule."""
    scopes = hits.get("side_scope", ())
    sames = hits.get("side_same", ())
    for other in hits.get("side_second", ()):
        near = [one for one in sames if gap_between(other, one) <= 3]
        if near and any(gap_between(other, one) <= _RULE_REACH for one in scopes):
            yield _spanning("both_sides", near[0], other)


def _denied(tokens: Sequence[Token], hits: Hits) -> Iterator[Claim]:
    """Find what the class is said to do without: "nobody's leaping about tonight"."""
    denials = hits.get("deny", ())
    scopes = hits.get("class_scope", ())
    leaps = hits.get("jump_thing", ())
    bodies = hits.get("body_part", ())
    for what, label, reach in _DENIALS:
        for thing in hits.get(label, ()):
            near = next((one for one in denials if _leads_to(tokens, one, thing, reach)), None)
            if near is None or any(0 < near.first - one.last <= _BODY_REACH for one in bodies):
                continue
            # "Nobody's feet come off the floor" is of jumps.
            if what == "no_floor" and any(gap_between(thing, one) < 0 for one in leaps):
                continue
            if what not in _OF_CLASS and not _is_plainly_denied(tokens, near, thing, what):
                continue
            if _is_promise(tokens, near, thing, scopes):
                yield _spanning(what, near, thing)


def _is_plainly_denied(tokens: Sequence[Token], denial: Hit, thing: Hit, what: str) -> bool:
    """Tell "no burpees" from "if you don't jog", "zero, run" and "no burpee with a jump"."""
    is_order = tokens[denial.first].text in _ORDERS
    reach = _IF_REACH if is_order else _BODY_REACH
    before = {token.text for token in tokens[max(0, denial.first - reach) : denial.first]}
    after = [token.text for token in tokens[thing.last + 1 : thing.last + 2]]
    is_number = tokens[denial.first].text in _NOTHING
    says_how = _SAYS_HOW if what == _NO_MOVE else _SAYS_WITH
    return not (is_number or "if" in before or not says_how.isdisjoint(after))


def _leads_to(tokens: Sequence[Token], denial: Hit, thing: Hit, reach: int) -> bool:
    """Tell whether only helping words, and few, stand between a denial and the thing."""
    between = {token.text for token in tokens[denial.last + 1 : thing.first]}
    before = tokens[denial.first - 1].text if denial.first else ""
    if tokens[denial.first].text in _NOTHING and (between & _NEEDED or before in NEGATIONS):
        return False
    return 0 <= thing.first - denial.last - 1 <= reach and between <= _BETWEEN


def _is_promise(tokens: Sequence[Token], denial: Hit, thing: Hit, scopes: Sequence[Hit]) -> bool:
    """Tell a promise from an order: a plain "no", somebody it is about, or all of the class."""
    if tokens[denial.first].text not in _ORDERS:
        return True
    after = [token.text for token in tokens[denial.first + 1 : denial.first + 3]]
    if after in _LEAVES:
        return False
    if tokens[denial.first].text == "not" and after[:1] in _NOT_ONE:
        return True
    at = denial.first - 1
    # "We really don't jump" has a subject; "you step, don't jump" is an order.
    while at > 0 and tokens[at].text in _ADVERBS:
        at -= 1
    before = {token.text for token in tokens[max(0, at) : denial.first]}
    span = Hit(denial.first, thing.last, "")
    return bool(before & _SUBJECTS) or any(gap_between(span, one) <= _SCOPE_REACH for one in scopes)


def _all_standing(tokens: Sequence[Token], hits: Hits) -> Iterator[Claim]:
    """Find "on our feet all session": upright, and a word for all of it.

    A part of the body stands otherwise, and "first standing only" tells of one move.
    """
    wholes = hits.get("whole_class", ())
    hours = [Hit(at, at, "") for at, token in enumerate(tokens) if token.text in _OF_A_DAY]
    bodies = (*hits.get("body_part", ()), *hits.get("opening", ()), *hours)
    for hit in hits.get("upright", ()):
        if any(gap_between(hit, one) < _BODY_REACH for one in bodies):
            continue
        if is_of_part(tokens, hit.last):
            continue
        near = next((one for one in wholes if gap_between(hit, one) <= 3), None)
        if near:
            yield _spanning("no_floor", hit, near)


def is_of_part(tokens: Sequence[Token], last: int) -> bool:
    """Tell by the words behind who is on the feet: "all the standing ones", not the class."""
    if tokens[last].text not in _STANDING:
        return False
    after = [token.text for token in tokens[last + 1 : last + 3]]
    after = after[1:] if after[:1] == ["up"] else after[:1]
    return not _PARTS.isdisjoint(after)


def _both_sides(hits: Hits) -> Iterator[Claim]:
    """Find one side, then the other, and a word of rule around them."""
    rules = hits.get("side_rule", ())
    others = hits.get("side_other", ())
    for one in hits.get("side_one", ()):
        for other in others:
            if not (one.last < other.first <= one.last + _SIDE_REACH) or _is_same_side(one, other):
                continue
            span = Hit(one.first, other.last, "")
            if any(gap_between(span, rule) <= _RULE_REACH for rule in rules):
                yield _spanning("both_sides", one, other)
                break


def _is_same_side(one: Hit, other: Hit) -> bool:
    """Tell whether both name the same side: "the right knee, the right is the bad one"."""
    sides = [_LEFT_RIGHT.intersection(hit.text.split()) for hit in (one, other)]
    return bool(sides[0]) and sides[0] == sides[1]


def _spanning(what: str, one: Hit, other: Hit) -> Claim:
    return Claim(what, None, min(one.first, other.first), max(one.last, other.last))


def is_of_class(tokens: Sequence[Token], place: Hit) -> bool:
    """Tell whether "at the end" is the class's end and not that of something else."""
    after = [token.text for token in tokens[place.last + 1 : place.last + 4]]
    if not after or after[0] not in ("of", "each", "every"):
        return True
    named = [word for word in after[1:] if word not in _ARTICLES]
    return after[0] == "of" and (not named or named[0] in _WHOLES)


def is_negated(tokens: Sequence[Token], thing: Hit | Claim) -> bool:
    """Tell whether a thing is denied: "no stretch", but not "don't skip the stretch"."""
    before = {token.text for token in tokens[max(0, thing.first - 3) : thing.first]}
    return bool(before & NEGATIONS) and not before & _MISSED
