from __future__ import annotations

import io

import pytest
import webvtt

from reviewkit.errors import InputError
from reviewkit.model import Piece
from reviewkit.read.vtt import parse_vtt
from tests.read.transcripts import read

CUE = "00:01.000 --> 00:02.000\nsoft knees\n"


def raw(text: str) -> list[tuple[int, int, str]]:
    return [(cue.start_ms, cue.end_ms, cue.text) for cue in parse_vtt(text, "a.vtt")[0]]


@pytest.mark.parametrize(
    "first", ["WEBVTT", "WEBVTT ", "WEBVTT\t", "WEBVTT - a class", "WEBVTT\nKind: x"]
)
def test_signatures_that_are_good(first: str) -> None:
    assert raw(f"{first}\n\n{CUE}") == [(1000, 2000, "soft knees")]


@pytest.mark.parametrize("first", ["", "WEBVT", "WEBVTTX", "webvtt", " WEBVTT", "WEBVTT\x0b"])
def test_signatures_that_are_not(first: str) -> None:
    with pytest.raises(InputError, match="line 1: this is no WebVTT"):
        parse_vtt(f"{first}\n\n{CUE}", "a.vtt")


@pytest.mark.parametrize(
    "text",
    [
        f"WEBVTT\n{CUE}",
        f"WEBVTT\n\n\n\nan id\n{CUE}\n",
        f"WEBVTT\n\nNOTE left out\nas is this\n\n{CUE}",
        f"WEBVTT\n\nSTYLE\n::cue {{ color: red }}\n\nREGION\nid:a\n\n{CUE}",
        f"WEBVTT\nheader\n{CUE}",
        f"WEBVTT\n\ntwo lines\nof nothing\n{CUE}",
        "WEBVTT\n\n00:01.000-->00:02.000align:start\nsoft knees",
        "WEBVTT\n\n\t00:01.000 \t-->\f00:02.000 line:0 position:20%\nsoft knees",
    ],
)
def test_where_a_cue_is_found(text: str) -> None:
    assert raw(text) == [(1000, 2000, "soft knees")]


@pytest.mark.parametrize(
    "timing",
    [
        "00:01.000 -> 00:02.000",
        "0:01.000 --> 00:02.000",
        "00:01.000 --> ",
        "00:01,000 --> 00:02,000",
        "x00:01.000 --> 00:02.000",
        "00:01.000 x --> 00:02.000",
        "00:01.000 --> 00:99.000",
    ],
)
def test_timing_lines_that_are_none(timing: str) -> None:
    assert raw(f"WEBVTT\n\n{timing}\nlost\n\n{CUE}") == [(1000, 2000, "soft knees")]


def test_a_bad_timing_line_is_told_by_its_line() -> None:
    transcript = read(f"WEBVTT\n\n0:01.000 --> 00:02.000\nlost\n\n{CUE}")
    assert transcript.warnings[0].startswith("line 3: ")


def test_an_arrow_ends_the_text_before_it() -> None:
    assert raw(f"WEBVTT\n\n00:00.000 --> 00:01.000\none\ntwo\n{CUE}") == [
        (0, 1000, "one\ntwo"),
        (1000, 2000, "soft knees"),
    ]


def test_word_times_become_pieces() -> None:
    cue = read("WEBVTT\n\n00:01.000 --> 00:03.000\nsoft<00:01.500><c> knees</c>").cues[0]
    assert cue.pieces == (Piece("soft"), Piece(" knees", 1500))


def test_blank_lines_before_the_signature_are_forgiven_and_counted() -> None:
    transcript = read(f"\n\nWEBVTT\n\n{CUE}")
    assert (transcript.format, transcript.cues[0].line) == ("webvtt", 5)


def test_an_end_before_the_start_is_not_used() -> None:
    transcript = read("WEBVTT\n\n00:05.000 --> 00:02.000\nsoft knees")
    assert transcript.cues[0].end_ms is None
    assert transcript.warnings == ("line 3: ends before it starts; the end is not used",)


def test_times_going_backwards_are_put_in_order() -> None:
    transcript = read(f"WEBVTT\n\n00:05.000 --> 00:06.000\nhold\n\n{CUE}")
    assert [cue.start_ms for cue in transcript.cues] == [1000, 5000]
    assert transcript.warnings[0].startswith("line 6: ")


def test_agrees_with_another_reader_on_plain_captions() -> None:
    def clock(at: int, ms: int) -> str:
        return f"00:{at // 60:02d}:{at % 60:02d}.{ms}"

    text = "WEBVTT\n\n" + "".join(
        f"{clock(at, 250)} --> {clock(at, 900)}\nline {at}\nand more\n\n" for at in range(200)
    )
    theirs = [(c.start, c.end, c.text) for c in webvtt.from_buffer(io.StringIO(text)).captions]
    ours = [
        (clock(start // 1000, start % 1000), clock(end // 1000, end % 1000), body)
        for start, end, body in raw(text)
    ]
    assert ours == theirs
