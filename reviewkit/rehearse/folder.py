"""All that a coach takes to the next filming, as the files of one folder."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from reviewkit.rehearse.markdown import sheet_markdown
from reviewkit.rehearse.page import clock_page, sheet_page
from reviewkit.rehearse.records import CueSheet

# Every file and what makes it: the sheet to print, the same as text, and the clock.
MAKERS: Mapping[str, Callable[[CueSheet], str]] = {
    "cue-sheet.html": sheet_page,
    "cue-sheet.md": sheet_markdown,
    "class-clock.html": clock_page,
}


def rehearsal_files(sheet: CueSheet) -> dict[str, str]:
    """Make every file of the folder by its name."""
    return {name: make(sheet) for name, make in MAKERS.items()}
