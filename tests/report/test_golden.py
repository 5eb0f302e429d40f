from __future__ import annotations

import pytest

from tests.rewrite_golden import GOLDEN, WIDTH, texts


@pytest.mark.parametrize("name", sorted(texts()))
def test_report_texts_are_as_reviewed(name: str) -> None:
    assert texts()[name] == (GOLDEN / name).read_text(encoding="utf-8")


def test_the_terminal_text_fits_its_columns() -> None:
    assert max(map(len, texts()["terminal.txt"].splitlines())) <= WIDTH
