"""Prepare the next filming: a cue sheet and a class clock, made from a plan.

``sheet`` puts together what has to be said in each interval and when, ``speaking`` asks
whether there is time to say it, ``last_time`` reads what a review found missing. The rest
writes what was made: ``markdown``, ``page`` and, all together, ``folder``.
"""

from reviewkit.rehearse.folder import rehearsal_files
from reviewkit.rehearse.last_time import LastTime, parse_last_time
from reviewkit.rehearse.records import Cue, CuePoint, CueSheet, MomentCall, SpeakingRate, TalkTime
from reviewkit.rehearse.sheet import make_sheet

__all__ = [
    "Cue",
    "CuePoint",
    "CueSheet",
    "LastTime",
    "MomentCall",
    "SpeakingRate",
    "TalkTime",
    "make_sheet",
    "parse_last_time",
    "rehearsal_files",
]
