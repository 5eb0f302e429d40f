from __future__ import annotations

import pytest

from tests.read.transcripts import read, times


@pytest.mark.parametrize(
    "timing",
    [
        "00:00:01,000 --> 00:00:02,500",
        "00:00:01.000 --> 00:00:02.500",
        "00:01,000 --> 00:02,500",
        "0:00:01,0-->0:00:02,5",
        "00:00:01,000 -> 00:00:02,500",
        "00:00:01,000 --> 00:00:02,500 X1:10 X2:20",
        "  00 : 00 : 01 , 000  -->  00:00:02,500",
    ],
)
def test_spellings_of_times(timing: str) -> None:
    assert times(f"1\n{timing}\nsoft knees\n") == [(1000, 2500, "soft knees")]


def test_a_last_line_of_figures_is_speech() -> None:
    text = (
        "1\n00:00:01,000 --> 00:00:02,000\nleft to go\n10\n\n2\n00:00:03,000 --> 00:00:04,000\n5\n"
    )
    assert times(text) == [(1000, 2000, "left to go 10"), (3000, 4000, "5")]


@pytest.mark.parametrize(
    "text",
    [
        "00:00:01,000 --> 00:00:02,000\nto go\n10\n00:00:03,000 --> 00:00:04,000\nfive\n",
        "00:00:01,000 --> 00:00:02,000\nto go\n10\n\n00:00:03,000 --> 00:00:04,000\nfive\n",
        "1\n00:00:01,000 --> 00:00:02,000\nto go\n10\n2\n00:00:03,000 --> 00:00:04,000\nfive\n",
        "1\n\n00:00:01,000 --> 00:00:02,000\n\nto go\n\n10\n\n\n"
        "2\n\n00:00:03,000 --> 00:00:04,000\nfive",
        "1\r\n00:00:01,000 --> 00:00:02,000\r\nto go\r\n10\r\n\r\n"
        "2\r\n00:00:03,000 --> 00:00:04,000\r\nfive",
    ],
    ids=["no numbers", "no numbers, blanks", "no blanks", "blanks inside", "crlf"],
)
def test_numbers_and_blank_lines_as_they_come(text: str) -> None:
    assert times(text) == [(1000, 2000, "to go 10"), (3000, 4000, "five")]


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ('<i>soft</i> <font color="red">knees</font>', "soft knees"),
        ("{\\an8}soft {b}knees", "soft knees"),
        ("hold &amp; breathe", "hold & breathe"),
        ("5 < 6 and <3", "5 < 6 and <3"),
        ("<script>alert(1)</script>hold", "alert(1)hold"),
    ],
)
def test_markup_goes_and_words_stay(text: str, plain: str) -> None:
    assert times(f"1\n00:00:01,000 --> 00:00:02,000\n{text}\n")[0][2] == plain


def test_a_broken_timing_line_keeps_the_words_and_tells_the_line() -> None:
    transcript = read(
        "1\n00:00:01,000 --> 00:00:02,000\nhold\n\n2\n00:00:0x --> 00:00:04,000\nbreathe\n"
    )
    assert "breathe" in transcript.cues[0].text
    assert transcript.warnings[0].startswith("line 6: ")


def test_captions_that_lack_the_signature_of_webvtt() -> None:
    assert times("WEBVTTX\n\n00:01.000 --> 00:02.000\nhold") == [(1000, 2000, "hold")]


def test_a_file_cut_off_keeps_what_came_before() -> None:
    assert times("1\n00:00:01,000 --> 00:00:02,000\nhold\n\n2\n00:00:0")[0][:2] == (1000, 2000)
