from __future__ import annotations

import io

import pytest
import ttconv.imsc.reader as imsc_reader
import ttconv.model as ttconv_model
from defusedxml import ElementTree

from reviewkit.errors import InputError
from reviewkit.model import Piece
from tests.read.transcripts import read, times

HEAD = '<tt xmlns="http://www.w3.org/ns/ttml" xmlns:ttp="http://www.w3.org/ns/ttml#parameter"{}>'


def document(body: str, root: str = "") -> str:
    return HEAD.format(root) + f"<head/><body>{body}</body></tt>"


@pytest.mark.parametrize(
    ("begin", "root", "at_ms"),
    [
        ("00:00:01.5", "", 1500),
        ("00:01:00", "", 60_000),
        ("01:00:00.250", "", 3_600_250),
        ("00:00:01:15", "", 1500),
        ("00:00:01:10", ' ttp:frameRate="20"', 1500),
        ("00:00:01:12", ' ttp:frameRate="24" ttp:frameRateMultiplier="1000 1001"', 1500),
        ("00:00:01:10.1", ' ttp:frameRate="20" ttp:subFrameRate="2"', 1525),
        ("1.5s", "", 1500),
        ("1500ms", "", 1500),
        ("0.025m", "", 1500),
        ("0.5h", "", 1_800_000),
        ("45f", "", 1500),
        ("15000000t", ' ttp:tickRate="10000000"', 1500),
        ("30t", ' ttp:frameRate="20"', 1500),
    ],
)
def test_time_expressions(begin: str, root: str, at_ms: int) -> None:
    got = times(document(f'<div><p begin="{begin}" dur="2s">hold it</p></div>', root))
    assert got[0][0] == pytest.approx(at_ms, abs=1)


@pytest.mark.parametrize("begin", ["soon", "1", "-1s", "00:99:00", "00:00:01:99", "\u0661s", ""])
def test_what_is_no_time_is_told(begin: str) -> None:
    text = document(f'\n<div><p begin="{begin}">lost</p><p begin="1s" end="2s">hold it</p></div>')
    transcript = read(text)
    assert [cue.text for cue in transcript.cues] == ["hold it"]
    assert transcript.warnings[0].startswith("line 2: begin")


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        ('<div begin="10s"><p begin="1s" end="2s">hold</p></div>', (11_000, 12_000)),
        ('<div begin="10s" end="12s"><p begin="1s" end="9s">hold</p></div>', (11_000, 12_000)),
        ('<div><p begin="1s" dur="5s" end="3s">hold</p></div>', (1000, 3000)),
        ('<div begin="1s" end="2s"><p>hold</p></div>', (1000, 2000)),
        ('<div><p begin="1s">hold</p></div>', (1000, None)),
        ('<div><p><span begin="1s" end="2s">hold</span></p></div>', (1000, 2000)),
    ],
)
def test_times_count_from_their_container(body: str, expected: tuple[int, int | None]) -> None:
    assert times(document(body)) == [(*expected, "hold")]


def test_a_sequence_runs_one_after_the_other() -> None:
    body = '<div timeContainer="seq"><p dur="2s">one</p><p begin="1s" dur="1s">two</p></div>'
    assert times(document(body)) == [(0, 2000, "one"), (3000, 4000, "two")]


def test_timed_spans_are_pieces() -> None:
    body = '<div><p begin="1s" end="5s">hold <span begin="1s">it</span><br/>there</p></div>'
    assert read(document(body)).cues[0].pieces == (
        Piece("hold "),
        Piece("it", 2000, 5000),
        Piece("\n"),
        Piece("there"),
    )


def test_metadata_and_untimed_text_are_no_speech() -> None:
    body = (
        '<div><metadata><p begin="1s">no</p></metadata><p>no</p>'
        '<p begin="1s" end="2s">a b</p></div>'
    )
    assert [cue[2] for cue in times(document(body))] == ["a b"]


def test_broken_xml_keeps_what_came_before() -> None:
    transcript = read(document('<div>\n<p begin="1s" end="2s">hold it</p>\n<p begin="3s')[:-15])
    assert [cue.text for cue in transcript.cues] == ["hold it"]
    assert "breaks off" in transcript.warnings[0]


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ('<!DOCTYPE tt [<!ENTITY a "b">]><tt><body>&a;</body></tt>', "declares a document type"),
        ("<!DOCTYPE tt><tt><body/></tt>", "declares a document type"),
        ('<!DOCTYPE tt SYSTEM "file:///etc/passwd"><tt/>', "declares a document type"),
        ("<tt>" * 1000, "nested too deep"),
        ("<html><body>0:40</body></html>", "is no TTML"),
        ("<tt><body/></tt>", "no timed speech"),
    ],
)
def test_what_is_refused(text: str, problem: str) -> None:
    with pytest.raises(InputError, match=problem):
        read(text)


def test_a_flood_of_references_is_refused_or_read_in_no_time(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("reviewkit.read.ttml.MAX_NODES", 10_000)
    with pytest.raises(InputError, match="more parts than any transcript"):
        read(document("<div><p begin='1s'>" + "a<br/>" * 10_000 + "</p></div>"))


def test_agrees_with_another_reader_on_plain_captions() -> None:
    paragraphs = "".join(f'<p begin="{at}s" end="{at + 0.5}s">line {at}</p>' for at in range(50))
    text = document(f'<div begin="2s">{paragraphs}</div>')
    theirs = imsc_reader.to_model(ElementTree.parse(io.StringIO(text)))
    assert theirs is not None
    moments = [
        2 + (element.get_begin() or 0)
        for element in theirs.get_body().dfs_iterator()
        if isinstance(element, ttconv_model.P)
    ]
    assert [cue[0] for cue in times(text)] == [round(1000 * moment) for moment in moments]
