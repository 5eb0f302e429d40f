from __future__ import annotations

from pathlib import Path

import pytest

from reviewkit.errors import InputError
from reviewkit.read import read_transcript
from reviewkit.read.transcript import MAX_BYTES
from tests.read.transcripts import read


@pytest.mark.parametrize("data", [b"", b"  \n", b"\xef\xbb\xbf"])
def test_an_empty_file_is_said_to_be_empty(data: bytes) -> None:
    with pytest.raises(InputError, match=r"class\.txt: the file is empty"):
        read(data)


@pytest.mark.parametrize(
    "text",
    [
        "hold it and breathe",
        "WEBVTT\n",
        "WEBVTT\n\n00:01.000 --> 00:02.000\n[Music]\n\n00:03.000 --> 00:04.000\n\u266a\n",
        "1\n00:00:01,000 --> 00:00:02,000\n\n",
        "start,end,text\n",
        "0:10\n0:20\n",
    ],
)
def test_a_file_without_timed_speech_is_refused_in_one_sentence(text: str) -> None:
    with pytest.raises(InputError, match="no timed speech was found in it") as caught:
        read(text)
    assert "\n" not in str(caught.value)


def test_a_time_beyond_twelve_hours_names_its_line() -> None:
    with pytest.raises(InputError, match="line 5: a time beyond 12 hours"):
        read("1\n00:00:01,000 --> 00:00:02,000\nhold\n2\n13:00:00,000 --> 13:00:01,000\nlate\n")


def test_more_words_than_can_be_spoken_are_refused() -> None:
    with pytest.raises(InputError, match="more words than can be spoken"):
        read("0:10 " + "a " * 300_000)


def test_a_flood_of_warnings_is_cut_short() -> None:
    rows = "".join("soon,lost words\n" for _ in range(100))
    warnings = read(f"start,text\n1,hold it\n{rows}").warnings
    assert len(warnings) == 21
    assert warnings[-1] == "and 80 more of this sort"


def test_content_tells_the_format_and_the_name_does_not(tmp_path: Path) -> None:
    path = tmp_path / "class.json"
    path.write_text("WEBVTT\n\n00:01.000 --> 00:02.000\nhold it\n", encoding="utf-8")
    transcript = read_transcript(path)
    assert (transcript.source, transcript.format) == ("class.json", "webvtt")


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="there is no such file"):
        read_transcript(tmp_path / "none.vtt")
    with pytest.raises(InputError, match="is a folder"):
        read_transcript(tmp_path)
    large = tmp_path / "large.vtt"
    with large.open("wb") as file:
        file.truncate(MAX_BYTES + 1)
    with pytest.raises(InputError, match="is larger than 50 MB"):
        read_transcript(large)


@pytest.mark.parametrize(
    "part",
    [
        "<",
        "[",
        "(",
        "*a",
        "&",
        "&#9",
        "{\\",
        "<a",
        "-",
        "A:",
        ">>A: ",
        "3-",
        "a...",
        ".",
        "1:",
        " ",
    ],
)
@pytest.mark.parametrize(
    "head",
    [
        "WEBVTT\n\n00:01.000 --> 00:05.000\nhold ",
        "1\n00:00:01,000 --> 00:00:05,000\nhold ",
        "0:01 hold ",
    ],
)
def test_a_huge_line_does_not_hang(head: str, part: str) -> None:
    # A quadratic scan of this line would take minutes.
    assert read(head + part * (200_000 // len(part)) + "\nbreathe").cues
