"""Repair a class as filmed: what to cut, record and show, and the files for an editing program.

``making`` puts it all together out of a review. ``cuts`` (with ``quiet`` and ``repeats``),
``lines_to_record`` (with ``own_words``), ``overlays``, ``running``, ``renaming``,
``transcript`` and ``markers`` find one thing each; ``once_cut`` moves it to the clock of
the cut video. The rest writes what was found: ``caption_files``, ``edl`` (by
``timecode``), ``tables``, ``markdown`` and, all together, ``folder``.
"""

from reviewkit.edits.folder import FILES, edit_archive, edit_files
from reviewkit.edits.making import make_edits
from reviewkit.edits.own_words import OwnWords, OwnWordsByPoint, gather_own_words
from reviewkit.edits.records import Edits
from reviewkit.edits.timecode import RATES, FrameRate, parse_rate

__all__ = [
    "FILES",
    "RATES",
    "Edits",
    "FrameRate",
    "OwnWords",
    "OwnWordsByPoint",
    "edit_archive",
    "edit_files",
    "gather_own_words",
    "make_edits",
    "parse_rate",
]
