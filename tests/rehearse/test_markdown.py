from __future__ import annotations

from reviewkit.rehearse.markdown import sheet_markdown
from tests.rehearse.sample import CROWDED, sheet


def test_hostile_words_stay_words() -> None:
    text = sheet_markdown(sheet("Main: 40s work\n- Squat <b>*x*</b> (say: [a](b) `c`)\n"))
    assert "<b>" not in text
    assert "[a](b)" not in text


def test_warnings_stand_on_top() -> None:
    text = sheet_markdown(sheet(CROWDED))
    assert text.index("## Not enough time") < text.index("## Main")


def test_cautions_are_part_of_it() -> None:
    made = sheet()
    text = sheet_markdown(made)
    assert len(made.cautions) == 3
    assert "no standard of care" in text
