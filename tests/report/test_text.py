from __future__ import annotations

import io
from dataclasses import replace

from rich.console import Console

from reviewkit.cli.console import make_console
from reviewkit.model import Fix
from reviewkit.report.text import print_review
from tests.report.hostile import hostile_review
from tests.report.sample import sample_review


def printed(review: object = None, width: int = 80) -> str:
    file = io.StringIO()
    print_review(review or sample_review(), make_console(file, width=width))  # type: ignore[arg-type]
    return file.getvalue()


def test_words_from_outside_cannot_steer_the_terminal() -> None:
    text = printed(hostile_review())
    assert "\x1b" not in text
    assert "\u202e" not in text
    assert "<script" in text


def test_a_terminal_of_forty_columns_loses_no_verdict() -> None:
    text = printed(width=40)
    assert max(map(len, text.splitlines())) <= 40
    assert "long +17 s" in text


def test_colour_is_for_those_who_can_see_it() -> None:
    file = io.StringIO()
    print_review(sample_review(), Console(file=file, force_terminal=True, width=80, markup=False))
    assert "\x1b[1m" in file.getvalue()


def test_at_most_seven_fixes_are_printed() -> None:
    sample = sample_review()
    fixes = tuple(Fix(rank, f"thing {rank}", "how", None, None) for rank in range(1, 11))
    text = printed(replace(sample, findings=replace(sample.findings, fixes=fixes)))
    assert "thing 7" in text
    assert "thing 8" not in text
    assert "3 more" in text


def test_a_class_without_faults_needs_no_fixes() -> None:
    sample = sample_review()
    findings = replace(sample.findings, fixes=(), moves=(), time_calls=(), promises=(), flags=())
    heard = replace(sample.heard, intervals=sample.heard.intervals[:1])
    findings = replace(findings, talk=sample.findings.talk[:1])
    text = printed(replace(sample, heard=heard, findings=findings))
    assert text.startswith("Nothing heard stands in the way of publishing: 1 of 1 planned interval")
    assert "Before publishing" not in text
    assert "Also heard" not in text
