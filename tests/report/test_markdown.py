from __future__ import annotations

from reviewkit.report.markdown import escape, markdown
from tests.report.hostile import hostile_review
from tests.report.sample import corrected_review


def test_words_from_outside_are_no_markup() -> None:
    text = markdown(hostile_review())
    assert "<script" not in text.replace("\\<script", "")
    assert "\x1b" not in text
    lines = [line for line in text.splitlines() if line.startswith("|")]
    assert {line.replace("\\|", "").count("|") for line in lines} <= {4, 5, 6, 7, 8}


def test_text_stays_on_its_line() -> None:
    assert escape("two\nlines | *here*") == r"two lines \| \*here\*"


def test_what_the_coach_did_stands_beside_the_verdict() -> None:
    text = markdown(corrected_review())
    assert "long +17 s (put right by the coach; set aside: we agreed on this)" in text
    assert text.count("(set aside: heard wrongly)") == 3
