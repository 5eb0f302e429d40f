"""All files for the edit of a class, by name, and what each of them is."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from reviewkit.edits.caption_files import srt, vtt
from reviewkit.edits.edl import cuts_edl, markers_edl
from reviewkit.edits.markdown import edits_markdown
from reviewkit.edits.records import Edits, Layers
from reviewkit.edits.running import stamped_list, timer
from reviewkit.edits.tables import changes_csv, cuts_csv, markers_csv, record_csv

AFTER_CUTS = "after-cuts"
# The earliest moment that an archive can name: the same edits make the same archive.
_ARCHIVE_TIME = (1980, 1, 1, 0, 0, 0)


@dataclass(frozen=True, slots=True)
class EditFile:
    """A file for the edit: what it is, in a few words, and what makes it."""

    what: str
    make: Callable[[Edits], str]


@dataclass(frozen=True, slots=True)
class LayerFile:
    """A file that goes with a video, as filmed or once cut."""

    what: str
    make: Callable[[Layers], str]


LAYER_FILES: Mapping[str, LayerFile] = {
    "captions.vtt": LayerFile(
        "captions to show: missing and late points, true time left (WebVTT)",
        lambda layers: vtt([one.shown for one in layers.captions]),
    ),
    "captions.srt": LayerFile(
        "the same as SRT", lambda layers: srt([one.shown for one in layers.captions])
    ),
    "chapters.vtt": LayerFile(
        "a chapter an interval (WebVTT chapters)", lambda layers: vtt(layers.chapters)
    ),
    "chapters.txt": LayerFile(
        "the same as a stamped list for the video's description",
        lambda layers: stamped_list(layers.chapters),
    ),
    "timer.vtt": LayerFile(
        "a clock that counts every interval and rest down (WebVTT)",
        lambda layers: vtt(timer(layers.stretches)),
    ),
    "transcript.vtt": LayerFile(
        "the talk as captions, with mis-heard names of moves put right (WebVTT)",
        lambda layers: vtt(layers.transcript),
    ),
    "transcript.srt": LayerFile("the same as SRT", lambda layers: srt(layers.transcript)),
}


def _filmed(file: LayerFile) -> EditFile:
    return EditFile(file.what, lambda edits: file.make(edits.filmed))


def _once_cut(file: LayerFile) -> EditFile:
    return EditFile(f"{file.what}, for the video once cut", lambda edits: file.make(edits.cut))


FILES: Mapping[str, EditFile] = {
    "edits.md": EditFile("all of it in plain words", lambda edits: in_words(edits)),
    "cuts.csv": EditFile("what to take out", cuts_csv),
    "cuts.edl": EditFile(
        "the pieces that stay, as an edit decision list (CMX 3600)",
        lambda edits: cuts_edl(edits.title, edits.cuts, edits.filmed.length_ms, edits.rate),
    ),
    "record.csv": EditFile("lines to record, and where they fit", record_csv),
    "markers.csv": EditFile("intervals and everything to do, as markers", markers_csv),
    "markers.edl": EditFile(
        "the same as locators of an edit decision list (CMX 3600)",
        lambda edits: markers_edl(edits.title, edits.markers, edits.filmed.length_ms, edits.rate),
    ),
    "changes.csv": EditFile("every name put right in the transcript, and why", changes_csv),
    **{name: _filmed(file) for name, file in LAYER_FILES.items()},
    **{f"{AFTER_CUTS}/{name}": _once_cut(file) for name, file in LAYER_FILES.items()},
}


def in_words(edits: Edits) -> str:
    """Write all of it in plain words, with a list of the other files."""
    others = [(name, file.what) for name, file in FILES.items() if AFTER_CUTS not in name][1:]
    again = (f"{AFTER_CUTS}/", "captions, chapters, timer and transcript of the video once cut")
    return edits_markdown(edits, [*others, again])


def edit_files(edits: Edits) -> dict[str, str]:
    """Make every file of the folder by its name."""
    return {name: file.make(edits) for name, file in FILES.items()}


def edit_archive(edits: Edits) -> bytes:
    """Make one zip file of all files."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in edit_files(edits).items():
            info = zipfile.ZipInfo(name, _ARCHIVE_TIME)
            info.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(info, text.encode("utf-8", "replace"))
    return packed.getvalue()
