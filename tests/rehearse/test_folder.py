from __future__ import annotations

from reviewkit.rehearse import rehearsal_files
from tests.rehearse.sample import sheet


def test_the_folder_holds_sheet_text_and_clock() -> None:
    files = rehearsal_files(sheet())
    assert set(files) == {"cue-sheet.html", "cue-sheet.md", "class-clock.html"}
    assert all(text.endswith("\n") or text.endswith("</html>") for text in files.values())
