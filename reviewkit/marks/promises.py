"""Hear what a coach says the class will be: lengths, counts, kit, parts, sides.

Amounts come first ("forty five seconds", "three", "twice", "a quarter of an hour"), then
the words around each amount say what it measures. Amounts of a story, of what is left,
or taken back in the same breath are dropped. Promises without an amount have set wordings
or are told by two kinds of words near each other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from reviewkit.language.lines import split_lines
from reviewkit.language.wordsets import word_set
from reviewkit.marks.promise_amounts import claim_amounts
from reviewkit.marks.promise_context import read_context
from reviewkit.marks.promise_frames import claim_frames, is_negated, is_of_part
from reviewkit.marks.promise_joins import claim_joins
from reviewkit.marks.promise_stress import firmness
from reviewkit.marks.promise_tokens import Claim, Token, read_tokens
from reviewkit.marks.wording import Hit, Hits, Wordings, find_wordings, index_label, index_wordings
from reviewkit.model import Lexicon, Mark, Phrase, Talk

KIND = "promise"
LIST = "promises"
_NO_PROMISE = word_set("not_counted part_length")
_PARTS = word_set("warm_up cool_down")
# Something at the end, and what says more of it in the same breath.
_MAYBE_COOL_DOWN = "maybe_cool_down"
_COOL_DOWNS = word_set("cool_down cool_length no_cool_down")
_NO_FLOOR = "no_floor"
# What a count is called that only the plan can tell.
_COUNTS = {"rounds": "maybe_rounds", "moves": "maybe_moves", "intervals": "maybe_moves"}
# Claims without an amount.
_PLAIN = (
    "rounds_again",
    "no_rest",
    "warm_up",
    "no_warm_up",
    "cool_down",
    "no_cool_down",
    "both_sides",
    "kit_none",
    "kit_only",
    "kit_that_is_all",
    "kit_list",
    "no_jumping",
    _NO_FLOOR,
)
# Things ruled out, and words that begin to.
_RULED_OUT = word_set("no_jumping no_floor no_running no_burpees no_kneeling no_sit_ups no_move")
_BEGINS = word_set("and also so there's there'll oh")
_PAIRS, _AGAIN = "kit_one", "rounds_again"
# How many words before a promise and after it may make it firm; lengths are told in more.
_STRESS_REACH, _OF_LENGTHS = 12, 16
_REACH = 16
# How many words around a claim are quoted.
_AROUND, _CUT, _FULL_STOPS = 6, "…", ".!?"
_PAUSE_MS = {"words": 1_500, "captions": 1_800, "blocks": 20_000}


def _plain_claims(heard: Hits) -> list[Claim]:
    """Find claims that need no amount."""
    hits = {label: heard.get(label, ()) for label in _PLAIN}
    denied = {
        at
        for label in ("no_warm_up", "no_cool_down")
        for hit in hits[label]
        for at in range(hit.first, hit.last + 1)
    }
    return [
        Claim(label, None, hit.first, hit.last)
        for label, found in hits.items()
        for hit in found
        if label.startswith("no_") or not denied & set(range(hit.first, hit.last + 1))
    ]


def _is_offer(label: str, hit: Claim, offers: Sequence[Hit]) -> bool:
    """Tell whether "no jumping" is meant for some viewers only."""
    return label in ("no_jumping", "no_floor", "kit_none") and any(
        hit.first - 4 <= one.last and one.first <= hit.last + 4 for one in offers
    )


def _stretches(talk: Talk) -> Iterator[tuple[int, int, int]]:
    """Give each line with the words after it that may complete a claim begun in it.

    Yields first word and last word of the line, and the last word of the stretch.
    """
    lines = split_lines(talk)
    for at, line in enumerate(lines):
        end = line.last
        for following in lines[at + 1 : at + 5]:
            if _PAUSE_MS[talk.clock] < following.start_ms - talk.words[end].end_ms:
                break
            end = following.last
        yield line.first, line.last, min(end, line.last + _REACH)


def _mark(talk: Talk, first: int, last: int, claim: Claim, lines: tuple[Phrase, ...]) -> Mark:
    """Make a mark of a claim; its text is the claim with some words around it."""
    before = [word.norm for word in talk.words[max(0, first - _STRESS_REACH) : first]]
    reach = (
        _STRESS_REACH if claim.what in _COUNTS.values() or claim.what in _COUNTS else _OF_LENGTHS
    )
    after = [word.norm for word in talk.words[first : last + 1 + reach]]
    return Mark(
        KIND,
        first,
        last,
        talk.words[first].start_ms,
        talk.words[last].end_ms,
        _text(talk, first, last),
        ref=claim.what,
        value=claim.value,
        weight=firmness(before, after, lines),
    )


def _text(talk: Talk, first: int, last: int) -> str:
    """Quote words with some around them, and a sign where they are cut out of a sentence."""
    begin, stop = max(0, first - _AROUND), min(len(talk.words), last + 1 + _AROUND)
    words = [word.text for word in talk.words[begin:stop]]
    is_cut = begin > 0 and talk.words[begin - 1].text[-1:] not in _FULL_STOPS
    goes_on = stop < len(talk.words) and words[-1][-1:] not in _FULL_STOPS
    return " ".join([*([_CUT] if is_cut else []), *words, *([_CUT] if goes_on else [])])


def find_promises(talk: Talk, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Mark every claim about the class, in the order spoken.

    ``ref`` is what is claimed: ``minutes``, ``rounds``, ``rounds_again``, ``moves``,
    ``intervals``, ``work``, ``rest``, ``rest_rounds``, ``rest_sides``, ``no_rest``,
    ``no_rest_sides``, ``no_rest_pair``,
    ``warm_up``, ``warm_length``, ``no_warm_up``, ``cool_down``, ``cool_length``, ``no_cool_down``,
    ``both_sides``, ``kit_none``, ``kit_only``, ``kit_that_is_all``, ``kit_one``,
    ``kit_list``, ``no_jumping``, ``no_floor``, ``no_running``, ``no_burpees``, ``no_kneeling``,
    ``no_sit_ups`` or ``no_move`` (another move); or a length that only the plan can tell:
    ``length``, ``maybe_work`` or ``maybe_rest``; a count of its kind: ``maybe_rounds`` or
    ``maybe_moves``; or something at the end: ``maybe_cool_down``. ``value`` is the amount, in
    seconds (whole classes: minutes) or as a count.
    """
    lines = lexicon.lists.get(LIST, ())
    wordings, pairs = index_wordings(lines), index_label(_PAIRS, lines)
    marks: list[Mark] = []
    taken: set[int] = set()
    for low, line_last, high in _stretches(talk):
        marks += [
            _mark(talk, low + hit.first, low + hit.last, Claim(_PAIRS, None, 0, 0), lines)
            for hit in _pairs_of_kit(talk, low, line_last, pairs)
        ]
        tokens = read_tokens([word.norm for word in talk.words[low : high + 1]])
        for claim in _claims(tokens, wordings, runs_on=talk.clock != "words"):
            first, last = low + tokens[claim.first].first, low + tokens[claim.last].last
            if line_last < first or taken & _amount_words(tokens, claim, low):
                continue
            taken |= _amount_words(tokens, claim, low)
            if claim.what not in _NO_PROMISE:
                marks.append(_mark(talk, first, last, claim, lines))
    return tuple(sorted(marks, key=lambda mark: (mark.first, mark.last)))


def _pairs_of_kit(talk: Talk, low: int, line_last: int, pairs: Wordings) -> list[Hit]:
    """Find "one pair of", read in words because a pair is an amount as well."""
    norms = [word.norm for word in talk.words[low : line_last + 4]]
    found = (hit for hits in find_wordings(norms, pairs).values() for hit in hits)
    return [hit for hit in found if low + hit.first <= line_last]


def _amount_words(tokens: Sequence[Token], claim: Claim, low: int) -> set[int]:
    """Give the words of a claim's amount, none for a claim without one."""
    if claim.amount is None:
        return set()
    token = tokens[claim.amount]
    return set(range(low + token.first, low + token.last + 1))


def _claims(tokens: Sequence[Token], wordings: Wordings, *, runs_on: bool) -> Iterator[Claim]:
    """Give the claims of one stretch, stories and offers to some viewers left out.

    Where talk runs on without full stops a story may end and the class begin in one stretch:
    the counts in it are left to the plan.
    """
    hits = find_wordings([token.text for token in tokens], wordings)
    context = read_context(tokens, hits)
    offers = hits.get("offer", ())
    found = [
        *claim_amounts(tokens, hits),
        *_plain_claims(hits),
        *claim_frames(tokens, hits),
        *claim_joins(tokens, hits),
    ]
    told = {claim.what for claim in found}
    for claim in found:
        if claim.what in _PARTS and is_negated(tokens, claim):
            continue
        if claim.what == _AGAIN and _is_some_of(tokens, claim):
            continue
        if claim.what == _MAYBE_COOL_DOWN and told & _COOL_DOWNS:
            continue
        if _is_offer(claim.what, claim, offers):
            continue
        if claim.what == _NO_FLOOR and is_of_part(tokens, claim.last):
            continue
        if not context.is_elsewhere(claim) or (runs_on and _begins_anew(tokens, claim)):
            yield claim
        elif runs_on and claim.what in _COUNTS:
            yield replace(claim, what=_COUNTS[claim.what])


def _is_some_of(tokens: Sequence[Token], claim: Claim) -> bool:
    """Tell "four of the six again" from all six."""
    before = [token.text for token in tokens[max(0, claim.first - 2) : claim.first]]
    return before[-1:] == ["of"] and before != ["all", "of"]


def _begins_anew(tokens: Sequence[Token], claim: Claim) -> bool:
    """Tell whether something is ruled out by a breath of its own: "... for years and no jumping".

    It can, where talk runs on, stand right behind a story.
    """
    before = {token.text for token in tokens[max(0, claim.first - 1) : claim.first]}
    return claim.what in _RULED_OUT and not before.isdisjoint(_BEGINS)
