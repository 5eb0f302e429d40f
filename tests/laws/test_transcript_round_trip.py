"""What is written as a transcript is read back, word for word and time for time."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Sequence
from html import escape

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.errors import InputError
from reviewkit.model import Transcript
from reviewkit.read.transcript import parse_transcript
from reviewkit.words import split_words

Caption = tuple[int, int, str]

_WORDS = st.text("abcdefghijklmnopqrstuvwxyz\u00e9\u00f1'", min_size=1, max_size=9).filter(
    lambda word: word.strip("'") == word
)


@st.composite
def captions(draw: st.DrawFn) -> list[Caption]:
    """Draw captions in time order that do not touch, each with a few words."""
    made: list[Caption] = []
    at = 0
    for _ in range(draw(st.integers(1, 8))):
        start = at + draw(st.integers(100, 30_000))
        at = start + draw(st.integers(200, 20_000))
        made.append((start, at, " ".join(draw(st.lists(_WORDS, min_size=2, max_size=12)))))
    return made


def clock(ms: int, point: str = ".") -> str:
    return (
        f"{ms // 3_600_000:02d}:{ms // 60_000 % 60:02d}:{ms // 1000 % 60:02d}{point}{ms % 1000:03d}"
    )


def as_vtt(made: Sequence[Caption]) -> str:
    return "WEBVTT\n\n" + "\n\n".join(f"{clock(a)} --> {clock(b)}\n{text}" for a, b, text in made)


def as_srt(made: Sequence[Caption]) -> str:
    return "\n".join(
        f"{at}\n{clock(a, ',')} --> {clock(b, ',')}\n{text}\n"
        for at, (a, b, text) in enumerate(made, 1)
    )


def as_ttml(made: Sequence[Caption]) -> str:
    body = "".join(f'<p begin="{a}ms" end="{clock(b)}">{escape(text)}</p>' for a, b, text in made)
    return f'<tt xmlns="http://www.w3.org/ns/ttml"><body><div>{body}</div></body></tt>'


def as_json(made: Sequence[Caption]) -> str:
    return json.dumps([{"start": a / 1000, "end": b / 1000, "text": text} for a, b, text in made])


def as_csv(made: Sequence[Caption]) -> str:
    out = io.StringIO()
    csv.writer(out).writerows(
        [("start", "end", "text"), *((clock(a), clock(b), t) for a, b, t in made)]
    )
    return out.getvalue()


def as_text(made: Sequence[Caption]) -> str:
    return "\n".join(f"[{clock(a)} --> {clock(b)}] {text}" for a, b, text in made)


def or_none(data: bytes) -> Transcript | None:
    """Read bytes; None when they are refused. Any other error is ours and fails the test."""
    try:
        return parse_transcript("class", data)
    except InputError:
        return None


WRITERS = [as_vtt, as_srt, as_ttml, as_json, as_csv, as_text]


def read(text: str) -> Transcript:
    return parse_transcript("class", text.encode())


@pytest.mark.parametrize("write", WRITERS)
@given(made=captions())
def test_every_format_gives_back_what_was_written(
    write: Callable[[Sequence[Caption]], str], made: list[Caption]
) -> None:
    got = [(cue.start_ms, cue.end_ms, cue.text.strip()) for cue in read(write(made)).cues]
    assert got == made


@given(made=captions())
def test_words_are_all_there_in_order_and_within_their_cue(made: list[Caption]) -> None:
    talk = split_words(read(as_vtt(made)))
    owners = [(a, b, word) for a, b, text in made for word in text.split()]
    assert [word.text for word in talk.words] == [word for _, _, word in owners]
    for word, (start, end, _) in zip(talk.words, owners, strict=True):
        assert start <= word.start_ms <= end
        assert word.start_ms < word.end_ms
        assert word.spread_ms >= 0
    begins = [word.start_ms for word in talk.words]
    assert begins == sorted(begins)
    assert talk.length_ms >= made[-1][1]


_HEADS = st.sampled_from(
    [
        b"",
        b"WEBVTT\n\n",
        b"1\n00:00:01,000 --> 00:00:02,000\n",
        b"<tt>",
        b'[{"start":1,"text":"',
        b"[{",
        b"start,end,text\n",
        b"0:01 ",
        b"[0:01] ",
        b"\xff\xfe",
        b"\xef\xbb\xbf",
        b'{"segments":[{"start":1,',
    ]
)
_SCRAPS = st.sampled_from(
    [
        *(b"\n", b"\n\n", b"00:00:03.000 --> 00:00:01.000\n", b"<00:00:01.500>", b"hold it"),
        *(b"<p begin='1s'>", b"&#0;", b"<", b'"', b"[Music]", b"0:99", b"1:10 ", b"-->"),
        *(b"Coach: ", b"NaN", b",", b"\x00", b"}]"),
    ]
)
_BITS = st.lists(st.one_of(st.binary(max_size=20), _SCRAPS), max_size=20)


@given(head=_HEADS, bits=_BITS)
def test_any_bytes_give_a_transcript_or_one_clear_error(head: bytes, bits: list[bytes]) -> None:
    transcript = or_none(head + b"".join(bits))
    if transcript is None:
        return
    talk = split_words(transcript)
    begins = [word.start_ms for word in talk.words]
    assert begins == sorted(begins)
    assert all(0 <= word.start_ms < word.end_ms and word.norm for word in talk.words)


@given(made=captions(), cut=st.floats(0.3, 1.0), write=st.sampled_from(WRITERS))
def test_a_file_cut_off_anywhere_never_fails_otherwise(
    made: list[Caption], cut: float, write: Callable[[Sequence[Caption]], str]
) -> None:
    data = write(made).encode()
    transcript = or_none(data[: int(cut * len(data))])
    assert transcript is None or len(transcript.cues) <= len(made)
