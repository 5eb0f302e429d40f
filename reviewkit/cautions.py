"""What no review made from words can tell, nor a sheet made from a plan, and who can."""

from __future__ import annotations

CAUTIONS: tuple[str, ...] = (
    "This review hears words and nothing else. A cue that was said is not a movement that was "
    "safe, and a cue that was not heard may still have been shown.",
    "It judges neither health nor injury, neither insurance nor certification. Local rules, the "
    "body that certified the coach and licensed professionals decide those.",
    "The points it looks for beyond the plan's own are general coaching practice, to be adapted "
    "by the coach; they are no standard of care.",
    "Its times are as exact as the clock of the transcript. Where the clock is too coarse for a "
    "verdict, it says unclear.",
    "Transcripts mishear. Listen to the moment before you cut or re-record anything.",
)

SHEET_CAUTIONS: tuple[str, ...] = (
    "What is suggested here (points, breath, easier and harder ways) is general coaching "
    "practice, to be adapted by the coach; it is no standard of care.",
    "This sheet judges neither health nor injury, neither insurance nor certification. Local "
    "rules, the body that certified the coach and licensed professionals decide those.",
    "How long talk takes is worked out from a speaking rate. Say it aloud once before you film.",
)
LAST_TIME_CAUTION = (
    "What was missing or late comes from a review that hears words and nothing else; a cue that "
    "was not heard may still have been shown."
)

EDIT_CAUTIONS: tuple[str, ...] = (
    "What is offered here comes from words and their times alone; nobody has seen the picture. "
    "Look at every cut, listen to the moment before it, and lay another picture over a jump.",
    "A cue that was said is not a movement that was safe, and one that was not heard may still "
    "have been shown. A line or a caption that is added does not make a movement safe either.",
    "Suggested lines are general coaching practice, to be adapted by the coach; they are no "
    "standard of care. Health, injury, insurance and certification are for licensed "
    "professionals, local rules and the body that certified the coach to judge.",
)
