"""The settings a coach types beside a name: lengths, rests, rounds, sides and points.

``peel`` takes settings off both ends of a piece of text until a name is left, so that
"Row, 45s, each side", "45s row (each side)" and "Row each side 45 seconds" are one thing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import Literal

from reviewkit.model import PlanKind, Side
from reviewkit.plans.kinds import kind_named
from reviewkit.read.plan_fields import split_points, tidy
from reviewkit.times import parse_length

ClauseKind = Literal[
    "work",
    "bare",
    "each",
    "pair",
    "rest",
    "between",
    "after",
    "rounds",
    "round",
    "sets",
    "side",
    "kind",
]

_DASHES = "\u2013\u2014"
_NUMBER = r"\d{1,5}(?:\.\d{1,3})?"
_MINUTES = r"(?:minutes?|mins?|m)"
_SECONDS = r"(?:seconds?|secs?|s)"
# A bare "m" is minutes up to ten and metres above: "bear crawl 20m".
_SHORT_MINUTES = r"(?<!\d)(?:\d(?:\.\d{1,3})?|10)\s?m(?![a-z\d])"
_LENGTH = (
    rf"(?:\d{{1,3}}:[0-5]\d(?!\d)"
    rf"|{_NUMBER}\s?m\s?{_NUMBER}\s?{_SECONDS}(?![a-z])\.?"
    rf"|(?:{_SHORT_MINUTES}|{_NUMBER}[\s-]?(?:minutes?|mins?)(?![a-z])\.?)"
    rf"(?:\s?(?:and\s)?(?:{_NUMBER}[\s-]?{_SECONDS}(?![a-z])\.?|[0-5]\d(?!\s*[\d/:x])(?![a-z])))?"
    rf"|{_NUMBER}[\s-]?{_SECONDS}(?![a-z])\.?)"
)
_AMOUNT = rf"(?:{_LENGTH}|\d{{1,3}}(?:\.\d+)?(?![\w.:/]))"
_SOME = rf"(?:{_AMOUNT}|no)"
_IS = r"\s?(?::|-|is)?\s?"
_REST_WORD = r"(?:rest|off|break|recovery|recover|pause|breather)"
_ROUNDS_WORD = r"(?:rounds?|sets?|laps?|circuits?)"
_BETWEEN = (
    rf"(?:in\s)?(?:between|after|at the end of)\s(?:the\s|each\s|every\s|all\s)*{_ROUNDS_WORD}"
)
_AFTER = r"(?:after|at the end of)\s(?:the\s)?(?:block|part|section|last round)"
_EACH_MOVE = r"(?:move|exercise|station|interval|one)s?"
_PER_MOVE = rf"(?:each|apiece|(?:per|an?|every|each|for each)\s{_EACH_MOVE}|hold)"
_BODY_SIDE = r"(?:side|leg|arm|foot|hand|knee|way|direction)"
_LEFT = r"(?:the\s)?(?:left|l)(?:\s(?:side|leg|arm))?"
_RIGHT = r"(?:the\s)?(?:right|r)(?:\s(?:side|leg|arm))?"
_THEN = r"\s?(?:,?\s?(?:and\s)?then|/|,)\s?"
_AND = r"\s?(?:and|&|\+)\s?"

# In order: the first that fits wins, so the longer ways of saying a thing come first.
_PATTERNS: tuple[tuple[ClauseKind, str], ...] = (
    ("between", rf"rest(?:\sfor)?{_IS}(?P<x>{_AMOUNT})\s{_BETWEEN}"),
    ("between", rf"(?P<x>{_SOME})(?:\s(?:of\s)?{_REST_WORD})?\s{_BETWEEN}"),
    ("between", rf"(?:rest\s)?{_BETWEEN}{_IS}(?:rest\s)?(?P<x>{_SOME})(?:\s{_REST_WORD})?"),
    ("after", rf"rest(?:\sfor)?{_IS}(?P<x>{_AMOUNT})\s{_AFTER}"),
    ("after", rf"(?P<x>{_SOME})(?:\s(?:of\s)?{_REST_WORD})?\s{_AFTER}"),
    (
        "rest",
        rf"(?P<x>{_SOME})(?:\s(?:of\s)?{_REST_WORD})?\s(?:in\s)?(?:between|after)"
        rf"\s(?:the\s|each\s|every\s|all\s)*{_EACH_MOVE}",
    ),
    ("rest", rf"(?P<x>{_SOME})\s?(?:of\s)?{_REST_WORD}"),
    ("rest", rf"(?P<x>{_AMOUNT})\s(?:to (?:change|swap|switch|set up)|change-?over|transition)"),
    ("rest", rf"(?:rest|off|break|pause)(?:\sof|\sfor)?{_IS}(?P<x>{_AMOUNT})"),
    ("pair", rf"(?P<x>{_AMOUNT}|\d{{1,3}})\s?/\s?(?P<y>{_AMOUNT})"),
    ("sets", rf"(?P<x>\d{{1,3}})\s?(?:x|times|sets of|rounds of)\s?(?P<y>{_LENGTH})"),
    ("work", rf"(?P<x>{_AMOUNT})\s?(?:of\s)?(?:work|on|working)"),
    ("work", rf"work(?:ing)?(?:\sfor|\sof)?{_IS}(?P<x>{_AMOUNT})"),
    ("each", rf"(?P<x>{_LENGTH})\s{_PER_MOVE}"),
    ("each", rf"each(?:\s{_EACH_MOVE})?{_IS}(?P<x>{_LENGTH})"),
    ("bare", rf"(?:for\s)?(?P<x>{_LENGTH})"),
    (
        "rounds",
        rf"(?:repeat(?:ed)?\s)?(?:x\s?)?(?P<x>\d{{1,6}})\s?(?:{_ROUNDS_WORD}|times)(?:\s(?:of|through))?",
    ),
    ("rounds", rf"(?:rounds|sets|laps|circuits){_IS}(?P<x>\d{{1,6}})"),
    ("rounds", r"(?:repeat(?:ed)?\s)?(?P<x>\d{1,3})\s?x"),
    ("rounds", r"(?:repeat(?:ed)?\s)?x\s?(?P<x>\d{1,3})"),
    ("round", r"round\s?(?P<x>\d{1,3})(?:\s?(?:of|/)\s?\d{1,3})?"),
    ("side", rf"(?:(?:on|for)\s)?{_LEFT}{_THEN}{_RIGHT}"),
    ("side", rf"(?:(?:on|for)\s)?{_RIGHT}{_THEN}{_LEFT}"),
    ("side", rf"(?:(?:on|for)\s)?{_LEFT}{_AND}{_RIGHT}"),
    ("side", rf"(?:per\s{_BODY_SIDE}|a\sside)"),
    ("side", rf"(?:(?:on|for)\s)?(?:each|both|either|every)\s{_BODY_SIDE}s?"),
    ("side", r"(?:switch|swap|change)(?:\ssides?)?\s(?:halfway|half way|at half(?:\s?time)?)"),
    ("side", rf"(?:on\s)?(?:the\s)?(?:left|right)\s{_BODY_SIDE}"),
    ("side", r"on\s(?:the\s)?(?:left|right)"),
)
# A bare "left" belongs to the name ("Step left") unless a comma or bracket sets it apart.
_APART: tuple[tuple[ClauseKind, str], ...] = (("side", r"(?:left|right|each|both)"),)
_AT_START = ("pair", "sets", "work", "bare", "rounds", "each")
_GAP = rf"[\s,;:/.@{_DASHES}-]"
_INSIDE = re.compile(rf"(?:^|(?<={_GAP})){_LENGTH}(?=$|{_GAP})", re.I)
_LOOSE_END = re.compile(r"\b(?:to|from|with|and|or|of|at|in|by|into|over|the|each|then)$", re.I)
_TRIM = f" \t,;:/.@{_DASHES}-"

_MOST_CLAUSES = 20

_SAY = r"(?:must[ _-]?say|say|cues?|points?|remember)\s*:"
_SAY_TAIL = re.compile(rf"(?:^|[\s,;.{_DASHES}-]){_SAY}\s*(.*)$", re.I)
_BRACKETS = re.compile(r"\(([^()]*)(?:\)|$)|\[([^\[\]]*)(?:\]|$)")
_QUOTED = re.compile(r'^"((?:[^"]|"")*)"(.*)$')
_CURLY_QUOTED = re.compile("^[\u201c\u201e]([^\u201c\u201d]*)[\u201c\u201d](.*)$")

_WORD_NUMBERS = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "twelve": 12, "fifteen": 15, "twenty": 20, "thirty": 30, "forty": 40,
    "forty-five": 45, "fifty": 50, "sixty": 60, "ninety": 90,
}  # fmt: skip
_SPELT = re.compile(
    rf"\b({'|'.join(sorted(_WORD_NUMBERS, key=len, reverse=True))})"
    rf"(?=[\s-]+(?:{_MINUTES}|{_SECONDS}|{_ROUNDS_WORD}|times)\b)",
    re.I,
)
# Curly quotes, the multiplication sign and the space that does not break, from phones.
_PLAIN_SIGNS = str.maketrans(
    {"\u00d7": "x", "\u201c": '"', "\u201d": '"', "\u201e": '"', "\u2019": "'", "\u00a0": " "}
)


_WORK_KINDS = ("work", "bare", "each", "pair", "sets")


@dataclass(frozen=True, slots=True)
class Clause:
    """One setting: lengths in milliseconds, counts as they are; ``text`` as typed."""

    kind: ClauseKind
    text: str
    value: int = 0
    second: int = 0
    sides: tuple[Side, ...] = ()
    plan_kind: PlanKind = "work"


@dataclass(frozen=True, slots=True)
class Peeled:
    """A name and the settings that stood beside it."""

    name: str
    clauses: tuple[Clause, ...] = ()
    points: tuple[str, ...] = ()
    is_quoted: bool = False
    leftover: str = ""

    def values(self, kind: ClauseKind) -> list[Clause]:
        """Give the settings of one kind, in no particular order."""
        return [clause for clause in self.clauses if clause.kind == kind]

    def has(self, *kinds: ClauseKind) -> bool:
        """Tell whether a setting of any of these kinds is there."""
        return any(clause.kind in kinds for clause in self.clauses)


# Made when the first typed plan is read: plans in tables would wait for them in vain.
@cache
def _ends() -> tuple[tuple[ClauseKind, re.Pattern[str]], ...]:
    """Give the patterns of settings at the end of a text, in the order to try them."""
    anywhere = [(kind, rf"(?:^|(?<={_GAP}))(?:{p})$") for kind, p in _PATTERNS]
    apart = [(kind, rf"(?:^|[,;:{_DASHES}]\s?|\s-\s)(?:{p})$") for kind, p in _APART]
    return tuple((kind, re.compile(p, re.I)) for kind, p in (*anywhere, *apart))


@cache
def _starts() -> tuple[tuple[ClauseKind, re.Pattern[str]], ...]:
    """Give the patterns of settings at the start of a text, in the order to try them."""
    return tuple(
        (kind, re.compile(rf"(?:{p})(?:$|(?={_GAP}))", re.I))
        for kind, p in _PATTERNS
        if kind in _AT_START
    )


def has_work(clauses: Iterable[Clause]) -> bool:
    """Tell whether a length of work is among settings."""
    return any(clause.kind in _WORK_KINDS for clause in clauses)


def length_inside(text: str) -> str | None:
    """Give a length of time that stands inside a text, or None."""
    match = _INSIDE.search(text)
    return match[0].strip() if match else None


def say_line(text: str) -> tuple[str, ...] | None:
    """Read a line that holds nothing but points, ``say: ...``; None when it is none."""
    match = re.match(rf"{_SAY}\s*(.*)$", text, re.I)
    return _points(match[1]) if match else None


def peel(text: str) -> Peeled:
    """Part a name from the settings around it.

    A name in double quotes is taken as it is. Brackets hold points (``say: ...``),
    settings, or a note, which is left out.
    """
    quoted = _QUOTED.match(text) or _CURLY_QUOTED.match(text)
    name, text = (quoted[1].replace('""', '"'), quoted[2]) if quoted else (None, text)
    clauses: list[Clause] = []
    points: list[str] = []

    def open_bracket(match: re.Match[str]) -> str:
        inner = match[1] if match[1] is not None else match[2]
        said = say_line(inner.strip())
        points.extend(said or ())
        if said is None:
            clauses.extend(_bracketed(inner))
        return " , "

    text = _BRACKETS.sub(open_bracket, text)
    tail = _SAY_TAIL.search(text)
    if tail:
        points.extend(_points(tail[1]))
        text = text[: tail.start()]
    rest, found = _peel_plain(text)
    clauses.extend(found)
    said_points = tuple(dict.fromkeys(points))
    if name is None:
        return Peeled(rest, tuple(clauses), said_points)
    return Peeled(tidy(name), tuple(clauses), said_points, is_quoted=True, leftover=rest)


def _bracketed(inner: str) -> list[Clause]:
    """Read a bracket as settings; when it is not settings alone, it is a note."""
    kind = kind_named(inner)
    if kind is not None:
        return [Clause("kind", inner, plan_kind=kind)]
    rest, found = _peel_plain(inner)
    return [] if rest else found


def _peel_plain(text: str) -> tuple[str, list[Clause]]:
    text = tidy(text.translate(_PLAIN_SIGNS))
    text = re.sub(r"(\d*)\s?\u00bd", lambda match: f"{match[1] or 0}.5", text)
    text = _SPELT.sub(lambda match: str(_WORD_NUMBERS[match[1].casefold()]), text)
    text = re.sub(r"\bhalf a minute\b", "30s", text, flags=re.I)
    text = re.sub(r"\b(?:a|1) minute and a half\b", "1m30s", text, flags=re.I)
    text = re.sub(r"(?<![\w-])a minute\b", "1 minute", text, flags=re.I)
    text = re.sub(r"\btwice\b", "2 times", text, flags=re.I)
    text = re.sub(r"\s+([,;:])", r"\1", text)
    clauses: list[Clause] = []
    while len(clauses) < _MOST_CLAUSES:
        text = text.strip(_TRIM)
        step = _peel_end(text) or _peel_start(text)
        if step is None:
            break
        text, clause = step
        clauses.append(clause)
    parts = (part.strip() for part in text.split(","))
    return ", ".join(part for part in parts if part), clauses


def _peel_end(text: str) -> tuple[str, Clause] | None:
    for kind, pattern in _ends():
        match = pattern.search(text)
        if match and not (kind == "side" and _LOOSE_END.search(text[: match.start()].rstrip())):
            clause = _clause(kind, match)
            if clause is not None:
                return text[: match.start()], clause
    return None


def _peel_start(text: str) -> tuple[str, Clause] | None:
    for kind, pattern in _starts():
        match = pattern.match(text)
        clause = _clause(kind, match) if match else None
        if match and clause is not None:
            return re.sub(r"^\s*of\b", "", text[match.end() :]), clause
    return None


def _clause(kind: ClauseKind, match: re.Match[str]) -> Clause | None:
    text = match[0].strip(_TRIM)
    if kind == "side":
        return Clause(kind, text, sides=_sides(text.casefold()))
    first = match["x"]
    if kind in ("rounds", "round", "sets"):
        second = _length_ms(match["y"]) if kind == "sets" else 0
        return None if second is None else Clause(kind, text, int(first), second)
    first_ms = _length_ms(first)
    second_ms = _length_ms(match["y"]) if kind == "pair" else 0
    if first_ms is None or second_ms is None:
        return None
    return Clause(kind, text, first_ms, second_ms)


def _sides(text: str) -> tuple[Side, ...]:
    """Tell which rows a wording of sides asks for: one that switches, one side, or two."""
    if re.match(r"(?:per|a)\s", text):
        return ("left", "right")
    if re.search(r"\band\b(?! then)|&|\+", text):
        return ("each",)
    left = re.search(r"\b(?:left|l)\b", text)
    right = re.search(r"\b(?:right|r)\b", text)
    if left and right:
        return ("left", "right") if left.start() < right.start() else ("right", "left")
    return ("left",) if left else ("right",) if right else ("each",)


def _length_ms(text: str) -> int | None:
    """Read a length as typed: ``1 min and 30``, ``45-second``, ``no``."""
    if text.casefold() == "no":
        return 0
    parts = re.fullmatch(
        rf"(?:(?P<m>{_NUMBER})[\s-]?{_MINUTES}\.?)?(?:\s?(?:and\s)?(?P<s>{_NUMBER})"
        rf"(?:[\s-]?{_SECONDS})?\.?)?",
        text,
        re.I,
    )
    if parts is None:
        return parse_length(text)
    return parse_length(f"{parts['m'] or 0} min {parts['s'] or 0} s")


def _points(text: str) -> tuple[str, ...]:
    """Split points at semicolons where there are any, else at commas."""
    return split_points(text if ";" in text else text.replace(",", ";"))
