"""Offer words that a coach marked as giving a point as a line of their own lexicon."""

from __future__ import annotations

import csv
import io
import json

from reviewkit.model import Lexicon, MarkedPoint, Point, PointFinding
from reviewkit.read import POINTS_FILE
from reviewkit.report.wording import clean
from reviewkit.web.card_views import LexiconOffer

# The list of the lexicon whose lines are ways of saying a point.
LINES_FILE = "point_lines.csv"


def offer_of(one: MarkedPoint, point: PointFinding | None, lexicon: Lexicon) -> LexiconOffer | None:
    """Offer the words that gave a point; None where there are none or they are known.

    A point that the lexicon does not know comes into it as one of the coach's own, under
    the plan's words, with these words as a way of saying it.
    """
    words = clean(one.text).lower().replace("\u2019", "'")
    if one.verdict != "said" or not words or point is None:
        return None
    point_id = point.point_id or own_id(point.point)
    known = next((each for each in lexicon.points if each.id == point_id), None)
    if known is not None and words in _wordings(known, lexicon):
        return None
    if point.point_id:
        return LexiconOffer(words, clean(one.point), LINES_FILE, lexicon_line(words, point_id))
    phrases = (*(known.phrases if known else ()), words)
    line = point_entry(point_id, point, phrases)
    return LexiconOffer(words, clean(one.point), POINTS_FILE, line, is_new_point=known is None)


def own_id(point: str) -> str:
    """Give the id of a point of the coach's own, made of its words."""
    letters = "".join(letter if letter.isalnum() else " " for letter in point.lower())
    return "-".join(("own", *letters.split()))


def lexicon_line(words: str, point_id: str) -> str:
    """Write a line of ``point_lines.csv``: the words, and the id of the point they give."""
    written = io.StringIO()
    csv.writer(written, lineterminator="").writerow((words, point_id))
    return written.getvalue()


def point_entry(point_id: str, point: PointFinding, phrases: tuple[str, ...]) -> str:
    """Write a point as one line of ``points.toml``."""
    fields = {"kind": point.kind, "say": clean(point.point), "line": clean(point.line)}
    told = [f"{name} = {_quoted(text)}" for name, text in fields.items()]
    told.append(f"phrases = [{', '.join(map(_quoted, phrases))}]")
    return f"{_quoted(point_id)} = {{ {', '.join(told)} }}"


def _quoted(text: str) -> str:
    """Quote a text that has been cleaned; TOML then takes what JSON makes of it."""
    return json.dumps(text, ensure_ascii=False)


def _wordings(point: Point, lexicon: Lexicon) -> set[str]:
    lines = lexicon.lists.get("point_lines", ())
    return {
        *(text.lower() for text in (point.say, point.line, *point.phrases, *point.images)),
        *(one.phrase for one in lines if one.label == point.id),
    }
