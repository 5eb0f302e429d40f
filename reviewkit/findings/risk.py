"""Flag risky talk with the reason and a safer wording."""

from __future__ import annotations

from reviewkit.findings.places import interval_of_mark
from reviewkit.model import Flag, HeardClass

KIND = "risky_talk"

# Reason and safer wording, by the kind of risk a mark names.
ADVICE = {
    "pain": (
        "Viewers may take it as leave to work through pain, and nobody there can see them.",
        "If it hurts, stop or take the easier way; tired muscles are fine, pain is not.",
    ),
    "warning": (
        "Dizziness, numbness or a tight chest are reasons to stop, not to carry on.",
        "If you feel dizzy, numb or tight in the chest, stop, sit down and get help if it stays.",
    ),
    "breath": (
        "Holding the breath under effort drives blood pressure up.",
        "Keep breathing: out on the effort, in on the way back.",
    ),
    "loss": (
        "Nobody can promise a change of body in a given time or in a given place.",
        "Do this regularly and you will get stronger; how bodies change differs.",
    ),
    "medical": (
        "It promises a cure or replaces medical advice; a class can do neither.",
        "Many people find this eases them; keep to what your doctor or midwife has told you.",
    ),
    "shame": (
        "It talks down a body, and viewers may hear their own in it.",
        "Praise what the body does: stronger, steadier, further than last week.",
    ),
    "food": (
        "It makes exercise a payment for eating.",
        "Leave food out of it: we move because it feels good and makes us stronger.",
    ),
    "limits": (
        "It asks viewers to override their own limits or to compete against others.",
        "Work at the pace that is right for you today; resting is part of it.",
    ),
    "warm_up": (
        "It tells viewers that the warm-up or the cool-down can be left out.",
        "If you are short of time, do fewer rounds and keep the warm-up.",
    ),
    "stretch": (
        "Forcing or bouncing can carry a stretch past what the tissue allows.",
        "Ease in until you feel a pull, stay there and breathe; never force it.",
    ),
    "kit": (
        "It makes light of kit or floor that may give way.",
        "Check that it stands firm before you put your weight on it; if it moves, use the wall.",
    ),
    "lock": (
        "Slamming a joint straight puts the load on the joint.",
        "Straighten until the joint is long and stop just short of locking.",
    ),
    "form": (
        "It makes light of a fault that puts the load on the back or a joint.",
        "When the shape goes, put it down or take a lighter one.",
    ),
    "fall": (
        "A viewer who loses balance is alone, with nobody there to catch them.",
        "Keep your eyes open and a hand on the wall or a firm chair until you stand safely.",
    ),
    "lying": (
        "Late in pregnancy lying flat on the back can press on a large vein.",
        "With a bump, prop yourself up or turn to the side.",
    ),
}
# Of a line that sounds risky by its words, which name no kind of risk.
_GENERAL = (
    "It may lead viewers past what is safe for them.",
    "Work within what feels right today; if anything hurts or feels wrong, stop.",
)


def find_risky_flags(heard: HeardClass) -> tuple[Flag, ...]:
    """Turn every mark of risky talk into a flag, in the order spoken."""
    flags = []
    for mark in heard.marks:
        if mark.kind != KIND:
            continue
        interval = interval_of_mark(heard, mark)
        why, instead = ADVICE.get(mark.ref, _GENERAL)
        flags.append(
            Flag(
                KIND,
                mark.start_ms,
                interval.move_done if interval else "",
                interval.round if interval else None,
                mark.text,
                why,
                interval=interval.id if interval else None,
                instead=instead,
            )
        )
    return tuple(flags)
