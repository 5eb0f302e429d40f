"""What a review comes to: verdicts counted, and told in one sentence."""

from __future__ import annotations

from collections import Counter

from reviewkit.corrections import standing, standing_points
from reviewkit.errors import InputError
from reviewkit.model import Review
from reviewkit.report.wording import FLAG_NAMES, count, join_list

VERDICTS = (
    "on_time",
    "long",
    "short",
    "unclear",
    "skipped",
    "swapped",
    "added",
    "late",
    "missing",
    "no_breathing",
    "wrong",
    "broken",
    *FLAG_NAMES,
)


def tally(review: Review) -> Counter[str]:
    """Count verdicts by the names in ``VERDICTS``.

    ``missing`` and ``late`` count what the plan asks for; where the plan asks for nothing
    at all, what the lexicon suggests. What the coach has set aside is not counted.
    """
    heard, findings = review.heard, review.findings
    lengths = standing(one for one in heard.intervals if one.plan_row and one.start)
    points = [point for move in standing_points(findings.moves) for point in move.points]
    asked = [one for one in points if one.asked_by == "plan"] or points
    return Counter(
        [
            *(one.timing.replace(" ", "_") for one in lengths if one.timing),
            *(one.status for one in heard.intervals if one.status != "done"),
            *(point.verdict for point in asked),
            *("no_breathing" for one in findings.moves if one.breathing.verdict == "missing"),
            *(call.verdict for call in standing(findings.time_calls)),
            *(promise.verdict for promise in standing(findings.promises)),
            *(flag.kind for flag in standing(findings.flags)),
        ]
    )


def parse_verdicts(text: str) -> tuple[str, ...]:
    """Read a list of verdicts such as ``long, short, on time``.

    Raises:
        InputError: A verdict is unknown.
    """
    names = tuple(
        "_".join(part.lower().replace("-", " ").replace("_", " ").split())
        for part in text.split(",")
        if part.strip()
    )
    for name in names:
        if name not in VERDICTS:
            known = ", ".join(VERDICTS)
            raise InputError("--fail-on", None, f'no verdict is called "{name}"; choose of {known}')
    return names


def verdict_sentence(review: Review) -> str:
    """Say in one sentence what the review comes to."""
    counts = tally(review)
    done = [one for one in review.heard.intervals if one.status != "skipped"]
    if not done:
        return "No interval was heard in this transcript."
    planned = sum(one.plan_row is not None for one in review.heard.intervals)
    on_time = sum(one.timing == "on time" for one in done if one.plan_row is not None)
    unclear = sum(one.timing == "unclear" and not one.set_aside for one in done if one.plan_row)
    sums = _interval_sums(counts, unclear)
    details = f" ({', '.join(sums)})" if sums else ""
    others = _other_sums(counts)
    opening = (
        "Worth another pass before publishing"
        if review.findings.fixes
        else "Nothing heard stands in the way of publishing"
    )
    timing = f"{on_time} of {count(planned, 'planned interval')} on time{details}"
    added = [f"{counts['added']} more that nobody planned"] if counts["added"] else []
    return f"{opening}: {join_list([timing, *added, *others])}."


def _interval_sums(counts: Counter[str], unclear: int) -> list[str]:
    names = ("long", "short", "skipped", "swapped")
    sums = [f"{counts[name]} {name}" for name in names if counts[name]]
    return [*sums, f"{unclear} unclear"] if unclear else sums


def _other_sums(counts: Counter[str]) -> list[str]:
    nouns = {
        "wrong": ("wrong time call", "wrong time calls"),
        "broken": ("broken promise", "broken promises"),
        "risky_talk": ("risky line", "risky lines"),
        "contradiction": ("contradiction", "contradictions"),
    }
    return _point_sums(counts) + [
        count(counts[name], *noun) for name, noun in nouns.items() if counts[name]
    ]


def _point_sums(counts: Counter[str]) -> list[str]:
    missing, late = counts["missing"], counts["late"]
    if missing and late:
        return [f"{count(missing, 'point')} missing", f"{late} late"]
    if missing or late:
        return [f"{count(missing or late, 'point')} {'missing' if missing else 'late'}"]
    return []
