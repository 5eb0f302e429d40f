from __future__ import annotations

import pytest

from reviewkit.read import bundled_class, read_lexicon, read_plan, read_transcript
from reviewkit.report.strip import is_strip, strip
from reviewkit.review import review


@pytest.fixture(scope="module")
def drawn() -> str:
    folder = bundled_class()
    return strip(
        review(
            read_transcript(folder / "captions.vtt"),
            read_plan(folder / "plan.csv"),
            read_lexicon(),
        )
    )


def test_every_interval_is_drawn_and_those_off_their_plan_differ(drawn: str) -> None:
    rows = read_plan(bundled_class() / "plan.csv").rows
    assert drawn.count('class="planned"') == len(rows)
    assert 0 < drawn.count('class="off"') < drawn.count('class="actual"')


def test_a_strip_is_told_from_anything_else(drawn: str) -> None:
    assert is_strip(drawn)
    assert not is_strip("")
    assert not is_strip(drawn + "<script></script>")
    assert not is_strip(drawn.replace("<rect", '<rect onload="x"', 1))
    assert not is_strip(drawn.replace("</svg>", "<style>*{}</style></svg>"))
