from __future__ import annotations

import pytest

from tests.read.transcripts import read, times


@pytest.mark.parametrize(
    "text",
    [
        "start,end,text\n1,2.5,hold it\n",
        "Start,End,Text\n1.0,2.5,hold it\n",
        "start_time;end_time;caption\n1,0;2,5;hold it\n",
        "Start (s);End (s);Transcript\n1;2,5;hold it\n",
        "start\tend\ttext\n0:01.0\t0:02.5\thold it\n",
        "start_ms,end_ms,text\n1000,2500,hold it\n",
        "Start (ms),End (ms),Text\n1000,2500,hold it\n",
        "begin,duration,speech\n00:00:01.0,1.5,hold it\n",
        "speaker,in,out,text\nCoach,00:00:01.000,00:00:02.500,hold it\n",
        "1.0,2.5,hold it\n",
        '\ufeffstart,end,text\r\n1,2.5,"hold it"\r\n',
        "start|end|text\n1.0|2.5|hold it\n",
    ],
)
def test_headings_delimiters_and_units(text: str) -> None:
    assert times(text) == [(1000, 2500, "hold it")]


def test_whole_numbers_that_cannot_be_seconds_are_milliseconds() -> None:
    text = "start\tend\ttext\n1000\t3000\thold it\n3000\t5000\tand breathe\n"
    assert times(text) == [(1000, 3000, "hold it"), (3000, 5000, "and breathe")]


def test_clocks_without_fractions_are_cut_to_the_second() -> None:
    assert read("time,text\n0:01,hold it\n0:05,breathe\n").stamp_step_ms == 1000
    assert read("time,text\n1.0,hold it\n5.0,breathe\n").stamp_step_ms == 1


def test_quoted_line_ends_and_commas() -> None:
    assert times('start,end,text\n1,2,"hold,\nand ""breathe"""\n')[0][2] == 'hold, and "breathe"'


def test_rows_that_cannot_be_used_are_told() -> None:
    transcript = read("start,end,text\n1,2,hold it\nsoon,3,lost\n4,5,\n6,7,breathe in\n")
    assert [cue.start_ms for cue in transcript.cues] == [1000, 6000]
    assert [warning[:6] for warning in transcript.warnings] == ["line 3", "line 4"]


def test_a_quote_that_never_ends_keeps_the_rows_before() -> None:
    transcript = read('start,end,text\n1,2,hold it\n3,4,"' + "a" * 1_100_000)
    assert transcript.cues[0].text == "hold it"
    assert "cannot be read from here on" in transcript.warnings[0]
