from __future__ import annotations

import pytest

from tests.read.transcripts import read, times


@pytest.mark.parametrize(
    "text",
    [
        "[0:40] hold it\n\n[1:20] breathe",
        "(0:40) hold it\n(1:20) breathe",
        "0:40 hold it\n1:20 breathe",
        "00:40 hold it\n01:20 breathe",
        "00:00:40 hold it\n00:01:20 breathe",
        "0:40 - hold it\n1:20 - breathe",
        "[0:40]\nhold it\n[1:20]\nbreathe",
        "0:40\nhold it\n1:20\nbreathe\n",
        "Coach  0:40\nhold it\n\nCoach  1:20\nbreathe",
        "[0:40] hold it [1:20] breathe",
        "\u00a0 0:40 hold\nit\n\n1:20\n\nbreathe",
    ],
)
def test_the_ways_stamps_are_written(text: str) -> None:
    assert times(text) == [(40_000, None, "hold it"), (80_000, None, "breathe")]
    assert read(text).stamp_step_ms == 1000


def test_stamps_with_fractions_and_ends() -> None:
    text = "[00:00:01.500 --> 00:00:03.000]  hold it\n[00:00:03.000 --> 00:00:04.000]  breathe"
    assert times(text) == [(1500, 3000, "hold it"), (3000, 4000, "breathe")]
    assert read(text).stamp_step_ms == 1


def test_hours() -> None:
    assert times("[1:02:03] hold it")[0][0] == 3_723_000


def test_a_figure_that_was_spoken_is_no_stamp() -> None:
    text = "0:10 hold\n0:20 we take\n1:30 of rest\n0:30 breathe\n0:40 in\n0:50 out\n"
    assert [cue[0] for cue in times(text)] == [10_000, 20_000, 30_000, 40_000, 50_000]
    assert "of rest" in times(text)[1][2]
    assert read(text).warnings[0].startswith("line 3: ")


def test_bracketed_stamps_leave_figures_at_a_line_start_alone() -> None:
    assert times("[0:40] we take\n1:30 of rest\n[1:20] breathe")[0][2] == "we take 1:30 of rest"


def test_text_out_of_order_is_sorted() -> None:
    transcript = read("0:50 e\n0:40 d\n0:30 c\n0:20 b\n")
    assert [cue.text for cue in transcript.cues] == ["b", "c", "d", "e"]
    assert len(transcript.warnings) == 3


def test_a_title_is_left_out_and_told() -> None:
    transcript = read("Evening class\n\n0:10 hold it")
    assert [cue.text for cue in transcript.cues] == ["hold it"]
    assert transcript.warnings == ("line 1: words before the first time are left out",)
