from __future__ import annotations

from dataclasses import replace

from reviewkit.edits import make_edits
from reviewkit.model import PointFinding
from tests.edits.classes import move, review
from tests.edits.sample import sample_edits
from tests.findings.classes import Row

POINT = PointFinding("chest tall and proud", "safety", "plan", "missing")


def test_a_place_for_a_line_is_not_cut_away() -> None:
    edits = make_edits(review([Row("Squat", 10, 60)], moves=(move("Squat", POINT),)))
    (line,) = edits.lines
    assert line.slot
    assert edits.cuts
    assert not any(cut.span.overlap_ms(line.slot) for cut in edits.cuts)


def test_a_length_that_was_set_aside_is_not_cut() -> None:
    made = review([Row("Squat", 10, 60)])
    interval = replace(made.heard.intervals[0], set_aside="we agreed on a longer one")
    aside = replace(made, heard=replace(made.heard, intervals=(interval,)))
    assert make_edits(aside).trims == ()


def test_everything_to_do_is_a_marker() -> None:
    edits = sample_edits()
    kinds = [one.kind for one in edits.markers]
    assert kinds.count("cut") == len(edits.cuts)
    assert kinds.count("record") == sum(line.slot is not None for line in edits.lines)
    assert kinds.count("caption") == len(edits.filmed.captions)
    assert kinds.count("interval") == len(edits.filmed.chapters) - 1
    assert [one.start_ms for one in edits.markers] == sorted(one.start_ms for one in edits.markers)
