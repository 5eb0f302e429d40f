from __future__ import annotations

import io

import pytest

from reviewkit.cautions import CAUTIONS
from reviewkit.cli.console import make_console
from reviewkit.progress.compare import compare
from reviewkit.progress.overview import Overview, make_overview
from reviewkit.progress.text import print_comparison, print_progress
from tests.progress.build import a_document, a_record, a_year


def printed(overview: Overview) -> str:
    file = io.StringIO()
    print_progress(overview, make_console(file, width=80))
    return file.getvalue()


def test_nothing_is_wider_than_a_terminal() -> None:
    text = printed(make_overview(a_year([*range(30)])))
    assert max(map(len, text.splitlines())) <= 80
    assert "better, +1 a class" in text
    assert "Drawn: the latest 20." in text


@pytest.mark.parametrize("classes", [1, 4])
def test_few_classes_claim_nothing(classes: int) -> None:
    text = printed(make_overview(a_year([10 * at for at in range(classes)])))
    assert "too few to tell a trend from chance" in text
    assert "better" not in text


def test_the_method_and_the_cautions_are_told() -> None:
    text = " ".join(printed(make_overview(a_year([1, 2]))).split())
    assert "Mann-Kendall" in text
    assert "Holm" in text
    assert all(one in text for one in CAUTIONS)


def test_what_is_still_missing_is_told() -> None:
    text = printed(make_overview(a_year([1, 2, 3])))
    assert "Still missing after three classes or more" in text
    assert "the last 3" in text


def test_no_class_says_how_to_keep_one() -> None:
    assert "No class is kept yet." in printed(make_overview([]))


def test_two_classes_stand_side_by_side() -> None:
    file = io.StringIO()
    both = a_record(1, a_document(timing=60)), a_record(2, a_document(timing=70))
    print_comparison(compare(*both), make_console(file, width=80))
    text = file.getvalue()
    assert max(map(len, text.splitlines())) <= 80
    assert ["Timing", "60", "70", "+10"] in [line.split() for line in text.splitlines()]
    assert "Two classes show no trend" in text
