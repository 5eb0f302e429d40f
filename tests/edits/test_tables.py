from __future__ import annotations

import csv
import io

import pytest

from reviewkit.edits.tables import changes_csv, cuts_csv, markers_csv, record_csv
from reviewkit.edits.timecode import RATES
from tests.edits.sample import sample_edits
from tests.edits.timecodes import frame_of


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_cuts_add_up_to_what_the_interval_loses() -> None:
    found = rows(cuts_csv(sample_edits()))
    squat = [one for one in found if one["move"] == "Bodyweight squat"]
    lost = sum(float(one["cut_s"]) for one in squat)
    lengths = {(float(one["length_s"]), float(one["length_once_cut_s"])) for one in squat}
    assert [round(whole - lost, 3) for whole, _ in lengths] == [left for _, left in lengths]


def test_what_cannot_be_cut_is_listed_too() -> None:
    edits = sample_edits()
    bare = [one for one in edits.trims if not one.cuts]
    listed = [one for one in rows(cuts_csv(edits)) if one["what"] == "nothing to cut"]
    assert len(listed) == len(bare)


@pytest.mark.parametrize("name", RATES)
def test_seconds_timecode_and_frames_of_a_marker_agree(name: str) -> None:
    rate = RATES[name]
    edits = sample_edits(rate)
    for one, marker in zip(rows(markers_csv(edits)), edits.markers, strict=True):
        assert one["from_s"] == f"{marker.start_ms / 1000:.3f}"
        assert frame_of(one["from_timecode"], rate) == int(one["from_frame"])
        assert frame_of(one["to_timecode"], rate) == int(one["to_frame"])


def test_a_line_says_whose_words_it_has_and_where_it_goes() -> None:
    first, *_ = rows(record_csv(sample_edits()))
    assert (first["line"], first["do"], first["words_of"]) == (
        "Hands right under your shoulders.", "record", "lexicon",
    )  # fmt: skip
    assert float(first["to_s"]) - float(first["from_s"]) == pytest.approx(float(first["takes_s"]))


def test_every_change_of_the_transcript_is_listed() -> None:
    (change,) = rows(changes_csv(sample_edits()))
    assert (change["from"], change["to"], change["move"]) == ("Blank", "Plank", "Plank hold")
    assert "sounds like" in change["why"]
