from __future__ import annotations

import re

import opentimelineio as otio
import pytest

from reviewkit.edits.edl import cuts_edl, markers_edl
from reviewkit.edits.records import Cut, Marker
from reviewkit.edits.timecode import RATES, FrameRate, frame_start_ms, nearest_frame
from reviewkit.times import Span
from tests.edits.sample import sample_edits
from tests.edits.timecodes import frame_of

every_rate = pytest.mark.parametrize("rate", RATES.values(), ids=lambda rate: rate.name)


def fps(rate: FrameRate) -> float:
    return rate.frames / rate.seconds


def read(text: str, rate: FrameRate) -> otio.schema.Timeline:
    return otio.adapters.read_from_string(text, "cmx_3600", rate=fps(rate))


def locators(text: str) -> list[tuple[str, str]]:
    return re.findall(r"^\* LOC: (\S+) \w+ +(.*?)\r?$", text, re.MULTILINE)


@every_rate
def test_markers_are_read_back_on_their_frames(rate: FrameRate) -> None:
    edits = sample_edits(rate)
    text = markers_edl(edits.title, edits.markers, edits.filmed.length_ms, rate)
    frames = [nearest_frame(one.start_ms, rate) for one in edits.markers]
    assert [frame_of(one, rate) for one, _ in locators(text)] == frames
    (track,) = read(text, rate).tracks
    (clip,) = track
    assert clip.source_range.duration.value == nearest_frame(edits.filmed.length_ms, rate)
    if rate.is_drop:
        # The library reads drop-frame events, but not locators, its own included.
        times = [otio.opentime.from_timecode(one, fps(rate)) for one, _ in locators(text)]
        assert [round(one.value) for one in times] == frames
    else:
        found = [(round(one.marked_range.start_time.value), one.name) for one in clip.markers]
        assert found == list(zip(frames, [name for _, name in locators(text)], strict=True))


@every_rate
def test_what_stays_is_read_back_frame_by_frame(rate: FrameRate) -> None:
    edits = sample_edits(rate)
    text = cuts_edl(edits.title, edits.cuts, edits.filmed.length_ms, rate)
    timeline = read(text, rate)
    for track in timeline.tracks:
        pieces = [one.source_range for one in track]
        ends = [round(one.end_time_exclusive().value) for one in pieces]
        starts = [round(one.start_time.value) for one in pieces]
        spans = [cut.span for cut in edits.cuts]
        assert starts == [0, *(nearest_frame(one.end_ms, rate) for one in spans)]
        assert ends[:-1] == [nearest_frame(one.start_ms, rate) for one in spans]
        gone = sum(
            nearest_frame(one.end_ms, rate) - nearest_frame(one.start_ms, rate) for one in spans
        )
        assert round(track.duration().value) == ends[-1] - gone
    assert {track.kind for track in timeline.tracks} == {"Video", "Audio"}


def test_the_head_says_whether_frames_are_dropped() -> None:
    heads = {name: markers_edl("A", (), 1000, rate).splitlines()[1] for name, rate in RATES.items()}
    assert {name for name, head in heads.items() if head == "FCM: DROP FRAME"} == {"29.97-drop"}
    assert set(heads.values()) == {"FCM: DROP FRAME", "FCM: NON-DROP FRAME"}


def test_words_from_outside_stay_on_their_line_and_in_ascii() -> None:
    made = Marker(0, 0, "look", "Look: “café”\n002  AX V C")
    text = markers_edl("Ü\r\nTITLE: x", (made,), 1000, RATES["25"])
    assert text.isascii()
    assert [line for line in text.splitlines() if line.startswith(("TITLE", "0"))] == [
        "TITLE: U TITLE: x",
        "001  AX       V     C        00:00:00:00 00:00:01:00 00:00:00:00 00:00:01:00",
    ]
    assert '* LOC: 00:00:00:00 MAGENTA Look: "cafe" 002 AX V C' in text


def test_a_cut_at_the_very_start_leaves_no_empty_piece() -> None:
    rate = RATES["25"]
    cut = Cut(Span(0, frame_start_ms(50, rate)), "silence")
    lines = cuts_edl("A", (cut,), 10_000, rate).splitlines()[3:]
    assert lines == ["001  AX       B     C        00:00:02:00 00:00:10:00 00:00:00:00 00:00:08:00"]
