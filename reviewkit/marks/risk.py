"""Hear talk that may hurt somebody: pushing through pain, held breath, cures, shame.

Two ways lead to a mark. A set wording of the word list stands for its risk by itself
("no pain no gain"). A frame needs two kinds of words near each other: something that
hurts and a call to go on, a smaller body and a certainty, an illness and a cure, food and
a debt. Negations, careful ways out ("if it hurts, stop") and words put into other
people's mouths turn a mark off.

Both are signs and no more: what is told is what the words of the line, and the kinds of
words that meet in it, make likely (``risk_signs``). So words that no list has can be told,
and a list's words in a harmless line are not.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from reviewkit.language.lines import split_lines
from reviewkit.language.wordsets import word_set
from reviewkit.marks.risk_frames import frame_risks
from reviewkit.marks.risk_signs import WORDINGS, likely_reason, weigh_risk
from reviewkit.marks.risk_words import Heard, Risk, is_negated
from reviewkit.marks.wording import Hit, Hits, find_wordings, gap_between, index_wordings
from reviewkit.model import Clock, Lexicon, Line, Mark, Talk

KIND = "risky_talk"
_SECOND_HALF_WORDS = 16
# How many words before a line may deny it or put it into other people's mouths.
_LEAD_WORDS = 8
_QUOTE_REACH = 6
# Others do it in a story: "she beat them all to the bus stop".
_OTHERS = word_set("he she they who it we i everybody somebody")
_TELLING = word_set("beat beats")
# "People stop breathing here" says what happens and asks nobody to.
_PEOPLE = word_set("people folk folks everybody everyone they most")
_KIT_REACH = 12
# "Hold it in front" holds no breath.
_PLACES = word_set(
    "front place position line the your one both a that there here between close against"
)
_SAME_RISK_MS = 12_000
# Where lines are cut anywhere, words around a line that are weighed with it. There the
# log-odds lose something, as half of a harmless line may sound risky, and more with those.
_WORDS_BEFORE, _WORDS_AFTER = 8, 12
_CUT_COSTS, _WIDER_COSTS = 0.5, 2.5
# Elsewhere a line is weighed with the next one too when no longer pause lies between: "if it
# hurts / so go on with it". That costs something, as most lines stand alone.
_RUNS_ON_MS, _JOINED_COSTS = 800, 2.0
# Talk that hurts somebody and is not told costs more than a line told in vain: from these
# log-odds on it is told. On 223 classes kept back that is 92 in 100 of the risky lines, under
# few stamps 88, and in three or four classes of ten one line in vain.
_LEAST_ODDS = {"words": -0.5, "captions": -0.5, "blocks": -0.8}
# A longer pause ends a thought, by how exact the clock is.
_THOUGHT_PAUSE_MS = {"words": 1200, "captions": 1500, "blocks": 15_000}


def _is_disowned(heard: Heard, hit: Hit) -> bool:
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


def _set_risks(heard: Heard) -> list[Risk]:
    """Find set wordings; the label's ending names the risk."""
    return [
        Risk(hit.first, hit.last, label.removeprefix("set_"))
        for label, hits in heard.hits.items()
        if label.startswith("set_")
        for hit in hits
        if not is_negated(heard, hit) and not _is_of_another(heard, hit, label)
    ]


def _is_of_another(heard: Heard, hit: Hit, label: str) -> bool:
    """Tell whether set words stand in a story, a comparison, or speak of no kit at all."""
    before = heard.norms[max(0, hit.first - 2) : hit.first]
    if label == "set_kit":
        things = heard.of("kit_thing")
        return "like" in before or not any(gap_between(hit, one) <= _KIT_REACH for one in things)
    if label == "set_breath":
        if _PEOPLE & set(before):
            return True
        after = heard.norms[hit.last + 1 : hit.last + 2]
        return heard.norms[hit.last] == "in" and bool(set(after) & _PLACES)
    return heard.norms[hit.first] in _TELLING and bool(set(before[-1:]) & _OTHERS)


def _stretches(talk: Talk, lines: tuple[Line, ...]) -> Iterable[tuple[int, int, int, int, int]]:
    """Give each line with the words around it that may belong to its thought.

    A pause ends the thought where the clock can tell a pause; elsewhere the words go on.
    Yields the first word of the stretch, first and last of the line, the last of what runs
    on from it, and the last of the stretch.
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
        most = min(end, line.last + _SECOND_HALF_WORDS)
        yield start, line.first, line.last, min(most, _runs_on(talk, lines, at)), most


def _runs_on(talk: Talk, lines: tuple[Line, ...], at: int) -> int:
    """Give the last word of the next line when a line runs on into it, else of the line."""
    line, *following = lines[at : at + 2]
    runs_on = following and following[0].start_ms - talk.words[line.last].end_ms <= _RUNS_ON_MS
    return following[0].last if runs_on else line.last


def _mark(talk: Talk, line: tuple[int, int], first: int, last: int, reason: str) -> Mark:
    """Make a mark of the risky words, its text the line (or two) they stand in."""
    words = talk.words[min(line[0], first) : max(line[1], last) + 1]
    start, end = talk.words[first].start_ms, talk.words[last].end_ms
    return Mark(KIND, first, last, start, end, " ".join(word.text for word in words), ref=reason)


def hear_risks(norms: Sequence[str], lexicon: Lexicon) -> Heard:
    """Find the wordings of the word list in normalised words."""
    words = tuple(norms)
    return Heard(words, find_wordings(words, index_wordings(lexicon.lists.get(WORDINGS, ()))))


def find_frames(heard: Heard) -> list[Risk]:
    """Find what set wordings and frames tell, without what is turned down or quoted."""
    return [
        risk
        for risk in (*_set_risks(heard), *frame_risks(heard))
        if not _is_disowned(heard, Hit(risk.first, risk.last, ""))
    ]


def _told(
    heard: Heard, first: int, last: int, runs_on: int, clock: Clock, lexicon: Lexicon
) -> tuple[float, Risk] | None:
    """Give the risk told in words ``first`` to ``last`` of a stretch, and its log-odds.

    A frame may end in the words after; they are then weighed with the line. So is a line
    that it runs on into. Where the clock knows no pauses, lines are cut anywhere, and so the
    words around are weighed too.
    """
    framed = min(
        (risk for risk in find_frames(heard) if first <= risk.first <= last),
        key=lambda one: (one.first, one.last - one.first),
        default=None,
    )
    end = max(last, framed.last) if framed else last
    costs = {(first, end): 0.0}
    if clock == "blocks":
        wider = ((first, end + _WORDS_AFTER), (max(0, first - _WORDS_BEFORE), end))
        costs = dict.fromkeys(wider, _WIDER_COSTS) | {(first, end): _CUT_COSTS}
    elif runs_on > end:
        costs[first, runs_on] = _JOINED_COSTS
    weighed = [
        (odds - cost, span)
        for span, cost in costs.items()
        if (odds := _weigh(heard, *span, lexicon, is_framed=framed is not None)) is not None
    ]
    if not weighed:
        return (0.0, framed) if framed else None
    odds, (low, high) = max(weighed, key=lambda one: one[0])
    if odds <= _LEAST_ODDS[clock]:
        return None
    high = min(high, len(heard.norms) - 1)
    return odds, framed or Risk(low, high, likely_reason(heard.norms[low : high + 1], lexicon))


def _weigh(
    heard: Heard, first: int, last: int, lexicon: Lexicon, *, is_framed: bool
) -> float | None:
    """Weigh a part of a stretch, as far as the stretch has it."""
    words = heard.norms[first : last + 1]
    return weigh_risk(words, lexicon, _inside(heard.hits, first, last), is_framed=is_framed)


def _inside(hits: Hits, first: int, last: int) -> Hits:
    """Keep the hits that lie in a part of a stretch."""
    inside = {
        label: tuple(hit for hit in own if first <= hit.first and hit.last <= last)
        for label, own in hits.items()
    }
    return {label: own for label, own in inside.items() if own}


def find_risky_talk(talk: Talk, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Mark talk that may hurt somebody, of marks close together the likeliest, as spoken.

    The mark's text is the line around it, its ``ref`` the kind of risk: ``pain``,
    ``warning``, ``breath``, ``loss``, ``medical``, ``shame``, ``food``, ``limits``,
    ``warm_up``, ``stretch``, ``kit``, ``lock``, ``form``, ``fall`` or ``lying``, or
    ``general`` where no kind is named.
    """
    told: list[tuple[float, Mark]] = []
    for start, first, line_last, runs_on, last in _stretches(talk, split_lines(talk)):
        heard = hear_risks([word.norm for word in talk.words[start : last + 1]], lexicon)
        ends = (line_last - start, runs_on - start)
        found = _told(heard, first - start, *ends, talk.clock, lexicon)
        if found is None:
            continue
        odds, risk = found
        mark = _mark(talk, (first, line_last), start + risk.first, start + risk.last, risk.reason)
        if not told or mark.start_ms - told[-1][1].end_ms > _SAME_RISK_MS:
            told.append((odds, mark))
        elif odds > told[-1][0]:
            told[-1] = (odds, mark)
    return tuple(mark for _, mark in told)
