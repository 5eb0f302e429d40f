from __future__ import annotations

import io
import zipfile
from pathlib import Path

from reviewkit.edits import FILES, edit_archive, edit_files, make_edits
from reviewkit.edits.folder import in_words
from reviewkit.read.transcript import parse_transcript
from tests.edits.classes import review
from tests.edits.sample import review_to_edit, sample_edits
from tests.findings.classes import Row
from tests.report.hostile import hostile_review

GOLDEN = Path(__file__).parents[1] / "golden" / "edits.md"


def test_words_are_as_they_were() -> None:
    """Rewrite by ``python -m tests.rewrite_golden``, and read the difference."""
    assert in_words(sample_edits()) == GOLDEN.read_text("utf-8")


def test_every_file_is_named_in_words() -> None:
    text = in_words(sample_edits())
    for name in FILES:
        assert f"`{name.partition('/')[0]}" in text or name == "edits.md"


def test_all_files_are_made_of_a_class_without_words_or_intervals() -> None:
    files = edit_files(make_edits(review([])))
    assert files.keys() == FILES.keys()
    assert "No cut, no line to record, 0 captions to show" in files["edits.md"]


def test_a_class_without_a_single_finding_says_so() -> None:
    text = in_words(make_edits(review([Row("Squat", 10, 40)])))
    assert "The class stays 0:50 long." in text
    assert text.count("None.") == 2


def test_words_from_outside_are_no_markup_anywhere() -> None:
    files = edit_files(make_edits(hostile_review()))
    for name, text in files.items():
        assert "\x1b" not in text, name
        if name.endswith((".md", ".vtt", ".srt")):
            assert "<script" not in text.replace("\\<script", ""), name


def test_captions_of_the_talk_can_be_reviewed_again() -> None:
    files = edit_files(sample_edits())
    for name in ("transcript.vtt", "transcript.srt"):
        words = " ".join(cue.text for cue in parse_transcript(name, files[name].encode()).cues)
        talk = [word.text for word in review_to_edit().heard.talk.words]
        assert words.replace("Plank hold", "Blank hold").split() == talk


def test_the_archive_holds_the_files_and_is_always_the_same() -> None:
    edits = sample_edits()
    packed = edit_archive(edits)
    assert packed == edit_archive(edits)
    with zipfile.ZipFile(io.BytesIO(packed)) as archive:
        found = {name: archive.read(name).decode() for name in archive.namelist()}
    assert found == edit_files(edits)
