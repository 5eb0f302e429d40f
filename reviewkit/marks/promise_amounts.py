"""Say of each amount in a stretch of talk what it measures.

The wordings around an amount say it first. What they leave open its place may say: the
amount after a length of work is likely a rest ("forty on the hob, then fifteen to
cool"), the one before a rest likely work. Such amounts, and lengths that nothing
explains, are told as ``maybe_rest``, ``maybe_work`` and ``length``: only the plan can
confirm them. An amount is claimed once.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from reviewkit.language.wordsets import word_set
from reviewkit.marks.promise_parts import part_lengths
from reviewkit.marks.promise_tokens import Claim, Token
from reviewkit.marks.wording import Hit, Hits

# Kinds of amount in the order in which they may claim one.
_BY_AMOUNT = (
    "not_counted",
    "rest_rounds",
    "rest_sides",
    "warm_length",
    "cool_length",
    "part_length",
    "rest",
    "work",
    "rounds",
    "moves",
    "intervals",
)
# Kinds that measure time: of two amounts in their wording they mean the length.
_LENGTHS = word_set(
    "rest_rounds rest_sides warm_length cool_length part_length rest work not_counted"
)
_PART_LENGTHS = word_set("warm_length cool_length part_length")
_RESTS, _EACH = word_set("between off rest"), word_set("each every")
# Kinds whose wordings may reach over several words after the amount.
_REACHING = ("rest_rounds", "rest")
# How many words behind "a minute, and after each" the length of the rest may come.
_BEHIND = 5
_LEAST_CLASS_S = 240
# Lengths that can be meant, in seconds; "one, off we trot" is no rest of a second.
_SENSIBLE_S = {
    "work": (8, 300), "rest": (3, 239), "rest_sides": (3, 239), "rest_rounds": (5, 200),
    "length": (5, 300), "warm_length": (20, 600), "cool_length": (20, 600),
}  # fmt: skip
# What follows here counts nothing: "not an hour".
_NOT = word_set("not isn't wasn't aren't ain't")
_NOT_FOR = word_set("in for within even quite")
# What takes a time may be the class or another thing.
_TAKES = word_set("takes lasts")
_WILL = word_set("be take")
_OVER = word_set("through over round around")
_GOERS = word_set("we you i ye y'all")
_PIECES = word_set("pieces bits lots bouts stints slices chunks portions parts spells goes")
_CLASS = word_set(
    "it this that class session workout whole lot thing all programme practice one each round "
    "circuit everything which lap set move exercise episode tour and every pause rest break "
    "breather effort recovery"
)
_SUBJECT = 2
# Words from a place between two rounds to the length of the rest there.
_PLACE_REACH, _PLACE_BEFORE = 12, 6
# Words between a correction and what it puts right: "two, no, I changed it, it's three".
_CORRECTS_WITHIN, _CORRECTS_SOON = 6, 2
_OPEN_KINDS = ("maybe_", "length")
# Least and most that are counted by a noun of the coach's own, and how far off it is.
_COUNTABLE = (2, 40)
_NOUN_REACH = 3
# "I've got seven on my card", "eight of them": a number that is had, and counts what is understood.
_HAVE = word_set("got have has are be there's we've i've you've that's")
_UNDERSTOOD = word_set("of on in to for and altogether today tonight")
_THEM = word_set("them these those 'em")
_SHORT = 3
# How many words may lie between an amount and the one that explains it.
_PAIR_REACH = 9
# Words that may follow a bare number of seconds: "twenty to mop your brow".
_AFTER_SECONDS = word_set("to off on in for of at between after with while")


def claim_amounts(tokens: Sequence[Token], hits: Hits) -> list[Claim]:
    """Say of each amount what it measures, in the order spoken; corrected ones are left out."""
    claimed = _by_wording(tokens, hits)
    for at, token in enumerate(tokens):
        if token.is_length and at not in claimed and token.value >= _LEAST_CLASS_S:
            claimed[at] = Claim("minutes", token.value / 60, at, at, at)
    claimed |= _by_place(tokens, claimed)
    claimed |= _countable(tokens, claimed)
    claimed |= _at_rest_places(claimed, hits.get("rest_place", ()))
    claimed |= part_lengths(tokens, hits, claimed)
    back = _taken_back(tokens, hits.get("correction", ()))
    claimed |= _put_right(tokens, claimed, back)
    return [
        claim
        for at, claim in sorted(claimed.items())
        if at not in back and not _is_of_another(tokens, at) and not _is_counted_out(tokens, at)
    ]


def _is_counted_out(tokens: Sequence[Token], at: int) -> bool:
    """Tell whether a number is one of those counted out: "five, six, seven, eight"."""
    if _is_how_often(tokens, at):
        return False
    beside = (tokens[other] for other in (at - 1, at + 1) if 0 <= other < len(tokens))
    return tokens[at].is_number and any(
        one.is_number and abs(one.value - tokens[at].value) == 1 for one in beside
    )


def _is_of_another(tokens: Sequence[Token], at: int) -> bool:
    """Tell whether an amount is denied ("not an hour") or of a thing ("the dye takes an hour")."""
    before = tokens[at - 1].text if at else ""
    if at > 1 and before in _NOT_FOR and tokens[at - 2].text in _NOT:
        return True
    if before not in _TAKES or at < _SUBJECT:
        return before in _NOT
    subject = {one.text for one in tokens[max(0, at - _SUBJECT - 1) : at - 1]}
    return _CLASS.isdisjoint(subject)


def _at_rest_places(claimed: Mapping[int, Claim], places: Sequence[Hit]) -> dict[int, Claim]:
    """Read the first length after a place between two rounds as the rest there, or one before.

    "Half a minute leaning on the gate after every round" comes before it.
    """
    found: dict[int, Claim] = {}
    for place in places:
        near = (at for at in sorted(claimed) if 0 < at - place.last <= _PLACE_REACH)
        before = (
            at for at in sorted(claimed, reverse=True) if 0 < place.first - at <= _PLACE_BEFORE
        )
        at = next(before, None) or next(near, None)
        if at is not None and claimed[at].what in ("length", "rest", "maybe_work", "maybe_rest"):
            found[at] = Claim("rest_rounds", claimed[at].value, place.first, at, at)
    return found


def _countable(tokens: Sequence[Token], claimed: Mapping[int, Claim]) -> dict[int, Claim]:
    """Read bare numbers by what they count: so many times, so many of some things.

    What the things are called is a coach's own ("six stops on the route"), so it is not
    asked; only the plan can say whether they are its moves or its rounds.
    """
    found: dict[int, Claim] = {}
    for at, token in enumerate(tokens):
        low, high = _COUNTABLE
        if at in claimed or not token.is_number or not low <= token.value <= high:
            continue
        after = [one.text for one in tokens[at + 1 : at + 1 + _NOUN_REACH]]
        if after[:1] == ["times"]:
            found[at] = Claim("maybe_rounds", token.value, at, at + 1, at)
        elif _is_had(tokens, at) or (
            after[:1] != ["of"] and any(_is_plural(word) for word in after)
        ):
            found[at] = Claim("maybe_moves", token.value, at, at, at)
    return found


def _is_had(tokens: Sequence[Token], at: int) -> bool:
    """Tell whether the class has so many, of what needs no name: "eight of them", "all eight"."""
    before = {token.text for token in tokens[max(0, at - 1) : at]}
    after = [token.text for token in tokens[at + 1 : at + 3]]
    return "all" in before or (
        not before.isdisjoint(_HAVE)
        and (not after or (after[0] in _UNDERSTOOD and (after[0] != "of" or after[-1] in _THEM)))
    )


def _is_plural(word: str) -> bool:
    return len(word) > _SHORT and word[-1:] == "s" and word[-2:] != "ss" and word.isalpha()


def _by_wording(tokens: Sequence[Token], hits: Hits) -> dict[int, Claim]:
    """Claim amounts by the first kind whose wording holds them."""
    claimed: dict[int, Claim] = {}
    for label in _BY_AMOUNT:
        low, high = _SENSIBLE_S.get(label, (0, 10_000))
        for hit in hits.get(label, ()):
            at = _amount_in(tokens, hit, label)
            if label in _REACHING and at == hit.first:
                at = _amount_behind(tokens, hit) or at
            if at is None or at in claimed or not low <= tokens[at].value <= high:
                continue
            if label == "rest" and at == hit.first and _ends_named(tokens, at, hits):
                # "Work is thirty, rest is twenty": the rest comes right behind.
                at = _amount_soon(tokens, hit)
                if at is None or at in claimed:
                    continue
            if label == "rest" and _goes_off(tokens, hit):
                continue
            if label in _PART_LENGTHS and _is_rest(tokens, hit):
                continue
            if label == "not_counted" and (_is_how_often(tokens, at) or _goes_over(tokens, hit)):
                continue
            if label == "part_length" and _is_whole(tokens, at):
                continue
            if label == "work" and _is_of_pieces(tokens, at):
                continue
            if not (label in _REACHING and _is_told_sooner(hit, hits.get("work", ()))):
                claimed[at] = Claim(label, tokens[at].value, hit.first, hit.last, at)
    return claimed


def _goes_off(tokens: Sequence[Token], hit: Hit) -> bool:
    """Tell "at five and a half off we go" from a rest."""
    following = {token.text for token in tokens[hit.last + 1 : hit.last + 2]}
    return tokens[hit.last].text == "off" and not following.isdisjoint(_GOERS)


def _goes_over(tokens: Sequence[Token], hit: Hit) -> bool:
    """Tell "six exercises to go through" from six that are left to go."""
    following = {token.text for token in tokens[hit.last + 1 : hit.last + 2]}
    return tokens[hit.last].text == "go" and not following.isdisjoint(_OVER)


def _is_of_pieces(tokens: Sequence[Token], at: int) -> bool:
    """Tell "eighteen pieces of work" from a length of work."""
    following = {token.text for token in tokens[at + 1 : at + 2]}
    return tokens[at].is_number and not following.isdisjoint(_PIECES)


def _is_whole(tokens: Sequence[Token], at: int) -> bool:
    """Tell the class, which "will be" or "take" so long, from a part of it."""
    return at > 0 and tokens[at - 1].text in _WILL


def _is_how_often(tokens: Sequence[Token], at: int) -> bool:
    """Tell "each of these four times" from "these four"."""
    return [token.text for token in tokens[at + 1 : at + 2]] == ["times"]


def _ends_named(tokens: Sequence[Token], at: int, hits: Hits) -> bool:
    """Tell whether an amount is named as work just before: "work is a minute, rest is ..."."""
    return any(
        one.last == at and tokens[at - 1].text in ("is", "for", "lasts")
        for one in hits.get("work", ())
    )


def _is_rest(tokens: Sequence[Token], hit: Hit) -> bool:
    """Tell "fifteen between each, a warm-up first" and "at the end of each" from a part."""
    behind = [token.text for token in tokens[hit.last + 1 : hit.last + 3]]
    is_of_each = behind[:1] == ["of"] and not _EACH.isdisjoint(behind)
    return is_of_each or any(token.text in _RESTS for token in tokens[hit.first : hit.last + 1])


def _is_told_sooner(hit: Hit, others: Sequence[Hit]) -> bool:
    """Tell whether fewer words say another thing: "fifty of work each time after each"."""
    return any(one.first == hit.first and one.last < hit.last - 1 for one in others)


def _amount_in(tokens: Sequence[Token], hit: Hit, label: str) -> int | None:
    """Give the place of the amount that a wording claims."""
    places = [at for at in range(hit.first, hit.last + 1) if tokens[at].is_amount]
    lengths = [at for at in places if tokens[at].is_length and label in _LENGTHS]
    return next(iter(lengths or places), None)


def _amount_behind(tokens: Sequence[Token], hit: Hit) -> int | None:
    """Give the length right behind a wording: "a minute, and after each, twenty seconds"."""
    behind = range(hit.last + 1, min(len(tokens), hit.last + _BEHIND))
    return next((at for at in behind if tokens[at].is_length), None)


def _amount_soon(tokens: Sequence[Token], hit: Hit) -> int | None:
    """Give the amount one or two words behind a wording."""
    behind = range(hit.last + 1, min(len(tokens), hit.last + 3))
    return next((at for at in behind if tokens[at].is_amount), None)


def _by_place(tokens: Sequence[Token], claimed: Mapping[int, Claim]) -> dict[int, Claim]:
    """Read amounts that no wording explains by the amounts before and after them."""
    found: dict[int, Claim] = {}
    amounts = [at for at, token in enumerate(tokens) if token.is_amount]
    neighbours = {at: (before, after) for before, at, after in _triples(amounts)}
    for at in amounts:
        low, high = _SENSIBLE_S["length"]
        if at in claimed or not low <= tokens[at].value <= high or not _is_time(tokens, at):
            continue
        before, _ = neighbours[at]
        past, coming = (_what(tokens, claimed, at, other) for other in neighbours[at])
        if past == "work" and before is not None:
            found[at] = Claim("maybe_rest", tokens[at].value, before, at, at)
        elif coming == "rest":
            found[at] = Claim("maybe_work", tokens[at].value, at, at, at)
        elif tokens[at].is_length or past or coming:
            found[at] = Claim("length", tokens[at].value, at, at, at)
    return found


def _triples(places: Sequence[int]) -> list[tuple[int | None, int, int | None]]:
    padded = [None, *places, None]
    return [
        (before, at, after)
        for (before, at), (_, after) in pairwise(pairwise(padded))
        if at is not None
    ]


def _is_time(tokens: Sequence[Token], at: int) -> bool:
    """Tell whether an amount can be a length: it has a unit, or none where none is needed."""
    following = tokens[at + 1].text if at + 1 < len(tokens) else ""
    return tokens[at].is_length or following in _AFTER_SECONDS


def _what(tokens: Sequence[Token], claimed: Mapping[int, Claim], at: int, other: int | None) -> str:
    """Name what a neighbouring amount measures, empty when it tells nothing here."""
    if other is None or abs(at - other) > _PAIR_REACH:
        return ""
    if other in claimed:
        return claimed[other].what if claimed[other].what in ("work", "rest") else ""
    return "length" if _is_time(tokens, other) else ""


def _is_alike(token: Token, other: Token, reach: int) -> bool:
    """Tell whether one amount can put another right: "thirty seconds, no sorry, forty"."""
    is_plain = token.is_length and reach > _CORRECTS_SOON
    return is_plain or token.text[:2] == other.text[:2]


def _reach(tokens: Sequence[Token], correction: Hit) -> int:
    """Give how many words a correction may take: "no, I changed it, it's three"."""
    after = [token.text for token in tokens[correction.last + 1 : correction.last + 2]]
    is_long = after in (["i"], ["what"], ["hang"]) or " " in correction.text
    return _CORRECTS_WITHIN if is_long else _CORRECTS_SOON


def _put_right(
    tokens: Sequence[Token], claimed: Mapping[int, Claim], back: Mapping[int, int]
) -> dict[int, Claim]:
    """Say of the amounts that put others right that they measure the same.

    "Breaks are thirty seconds, no, what am I saying, ten": where nothing else says what.
    """
    return {
        right: Claim(claimed[wrong].what, tokens[right].value, right, right, right)
        for wrong, right in back.items()
        if wrong in claimed
        and not claimed[wrong].what.startswith(_OPEN_KINDS)
        and (right not in claimed or claimed[right].what.startswith(_OPEN_KINDS))
    }


def _taken_back(tokens: Sequence[Token], corrections: Sequence[Hit]) -> dict[int, int]:
    """Find amounts that the coach corrects at once, and those that put them right.

    "Three no two rounds"; to say the same again is to stress it: "three, and I mean three".
    """
    amounts = [at for at, token in enumerate(tokens) if token.is_amount]
    return {
        at: following
        for at, following in pairwise(amounts)
        for one in corrections
        if at < one.first <= at + 3 and one.last < following <= one.last + _reach(tokens, one)
        if tokens[at].value != tokens[following].value
        and _is_alike(tokens[at], tokens[following], _reach(tokens, one))
    }
