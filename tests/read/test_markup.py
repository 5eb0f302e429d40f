from __future__ import annotations

import pytest

from reviewkit.model import Piece
from reviewkit.read.markup import parse_stamp, split_at_stamps, unescape


@pytest.mark.parametrize(
    ("raw", "plain"),
    [
        ("a &amp; b", "a & b"),
        ("&lt;b&gt;", "<b>"),
        ("&amp;lt;", "&lt;"),
        ("&#65;&#x42;&nbsp;", "AB\u00a0"),
        ("&unheardof; &", "&unheardof; &"),
        ("&#" + "9" * 9000 + ";", "\ufffd"),
    ],
)
def test_references_are_replaced_once(raw: str, plain: str) -> None:
    assert unescape(raw) == plain


@pytest.mark.parametrize(
    ("text", "at_ms"),
    [
        ("00:01.500", 1500),
        ("01:02:03.004", 3_723_004),
        ("123:00:00.000", 442_800_000),
        ("60:00.000", None),
        ("00:60.000", None),
        ("0:01.000", None),
        ("00:01,000", None),
        ("00:01.0000", None),
        ("00:01.00", None),
        ("-00:01.000", None),
        ("9" * 10 + ":00:00.000", None),
    ],
)
def test_stamps_are_strict(text: str, at_ms: int | None) -> None:
    stamp = parse_stamp(text)
    assert (stamp and stamp[0]) == at_ms


@pytest.mark.parametrize(
    ("raw", "plain"),
    [
        ("<b>up</b> and <i.loud>over</i>", "up and over"),
        ("<v Coach Dana>soft knees</v>", "soft knees"),
        ("<v.first.loud Dana>soft", "soft"),
        ("<lang en>soft</lang>", "soft"),
        ("<ruby>one<rt>two</rt></ruby>", "onetwo"),
        ("soft <knees", "soft "),
        ("a < b", "a "),
        ("<><></>soft", "soft"),
        ("<script>alert(1)</script>", "alert(1)"),
        ("&lt;script&gt;", "<script>"),
    ],
)
def test_tags_go_and_their_text_stays(raw: str, plain: str) -> None:
    assert "".join(piece.text for piece in split_at_stamps(raw)) == plain


def test_a_stamp_begins_a_piece() -> None:
    assert split_at_stamps("and <00:01.000><c> up</c><00:61.000><00:02.000> hold") == (
        Piece("and "),
        Piece(" up", 1000),
        Piece(" hold", 2000),
    )
