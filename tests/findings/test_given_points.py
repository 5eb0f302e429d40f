from __future__ import annotations

import pytest

from reviewkit.findings.given_points import Given, ask, given_points
from reviewkit.frames.grammar import frame_book
from reviewkit.model import Evidence, Line, PointFinding
from tests.lexicon import flat_lexicon
from tests.talking import talk


def test_no_points_ask_for_nothing() -> None:
    assert not ask((), frame_book(flat_lexicon()))


def test_a_point_asks_for_frames_parts_and_words() -> None:
    asked = ask(["flat back"], frame_book(flat_lexicon()))
    assert "round:flat" in {frame.pole for frame in asked.frames}
    assert "back" in asked.parts
    assert asked.words == {"flat", "back"}


def test_stretches_reach_to_the_last_word_shown() -> None:
    said = talk("a board a board a board and breathe", start_ms=1_000)
    evidence = (Evidence(said.words[0].start_ms, "a board a board a board"),)
    points = tuple(
        PointFinding("flat back", "form", asker, "said", evidence) for asker in ("plan", "lexicon")
    )
    (given,) = given_points([("Row", points)], said)
    assert given == Given("Row", "flat back", 1_000, said.words[5].end_ms)


@pytest.mark.parametrize(
    ("start_ms", "end_ms", "shares"),
    [(0, 1_000, False), (1_000, 1_500, True), (1_600, 3_000, False), (500, 9_000, True)],
    ids=["before", "within", "a corner", "around"],
)
def test_sharing_more_than_half_of_the_shorter_time(
    start_ms: int, end_ms: int, shares: bool
) -> None:
    line = Line(0, 0, 1_000, 2_000, "")
    assert Given("Row", "flat back", start_ms, end_ms).shares_time(line) is shares
