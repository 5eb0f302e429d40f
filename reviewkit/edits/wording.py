"""The words that edits are told in, the same in text and on the page."""

from __future__ import annotations

from reviewkit.edits.records import Cut, Edits, LineToRecord, Overlay, Renamed, Trim
from reviewkit.report.wording import DASH, clean, count, join_list, quote, say_move
from reviewkit.times import SECOND_MS, Span, format_clock

NOTHING_TO_CUT = (
    "nothing can be taken out: no silence is long enough, and no talk only repeats what stays"
)


def say_tenths(length_ms: int) -> str:
    """Write a length to a tenth of a second, ``16.9 s``; from 100 seconds ``2:05.3 min``."""
    tenths = (length_ms + 50) // 100
    if tenths < 1000:
        return f"{tenths // 10}.{tenths % 10} s"
    return f"{format_clock(tenths * 100)}.{tenths % 10} min"


def say_at(at_ms: int) -> str:
    """Write a moment to a tenth of a second, ``2:05.3``."""
    tenths = (at_ms + 50) // 100
    return f"{format_clock(tenths * 100)}.{tenths % 10}"


def say_span(span: Span) -> str:
    """Write from when to when a span goes."""
    return f"{say_at(span.start_ms)}{DASH}{say_at(span.end_ms)}"


def say_sum(edits: Edits) -> str:
    """Say in one sentence what there is to do."""
    fit = sum(line.slot is not None for line in edits.lines)
    parts = [
        f"{count(len(edits.cuts), 'cut')} of {say_tenths(edits.cut_ms)} in all"
        if edits.cuts
        else "no cut",
        f"{count(len(edits.lines), 'line')} to record ({fit} of them fit into the talk)"
        if edits.lines
        else "no line to record",
        count(len(edits.filmed.captions), "caption") + " to show",
        count(len(edits.renamed), "mis-heard name") + " put right",
    ]
    return f"{join_list(parts)}."[:1].upper() + f"{join_list(parts)}."[1:]


def say_lengths(edits: Edits) -> str:
    """Say how long the class is, and how long with all cuts made."""
    filmed = format_clock(edits.filmed.length_ms)
    if not edits.cuts:
        return f"The class stays {filmed} long."
    return (
        f"The class is {filmed} long as filmed, and {format_clock(edits.cut.length_ms)} once cut."
    )


def say_trim(trim: Trim) -> str:
    """Name what was too long, and say what it comes to."""
    move = say_move(trim.interval)
    what = f"Rest after {move}" if trim.is_rest else move
    lengths = f"{say_tenths(trim.length_ms)} long, planned {say_tenths(trim.planned_ms)}"
    if not trim.cuts:
        return f"{what} at {format_clock(trim.span.start_ms)}, {lengths}: {NOTHING_TO_CUT}."
    over_ms = trim.result_ms - trim.planned_ms
    over = f", still {say_tenths(over_ms)} over" if over_ms >= SECOND_MS else ""
    return (
        f"{what} at {format_clock(trim.span.start_ms)}, {lengths}: "
        f"cut {say_tenths(trim.cut_ms)}, {say_tenths(trim.result_ms)} are left{over}."
    )


def trim_notes(trim: Trim) -> tuple[str, ...]:
    """Say what else a trim does, or has to be looked at for."""
    if not trim.cuts:
        return ()
    notes = []
    if trim.right_calls:
        calls = join_list(quote(text) for text in trim.right_calls)
        notes.append(f"With this, {calls} comes true.")
    if trim.has_two_sides:
        notes.append("Sides are changed inside: see that they stay even.")
    return tuple(notes)


def say_cut(cut: Cut) -> str:
    """Say what a cut takes out."""
    where = f"{say_span(cut.span)} ({say_tenths(cut.span.length_ms)})"
    if cut.kind == "silence":
        return f"{where}, silence"
    before = "" if cut.said_before_ms is None else f", said before at {say_at(cut.said_before_ms)}"
    return f"{where}, {quote(cut.text)}{before}"


def say_line(line: LineToRecord) -> str:
    """Say what to record and where it goes, or that it has to be a caption."""
    takes = f"{say_tenths(line.takes_ms)} to say"
    if line.slot is None:
        return f"{quote(line.text)} ({takes}): no quiet place is long enough; show the caption"
    return f"{quote(line.text)} ({takes}): lay it over {say_span(line.slot)}"


def say_point(line: LineToRecord) -> str:
    """Name the point that a line is for, and how it went."""
    how = "said late" if line.is_late else "not said"
    kind = "safety, " if line.kind == "safety" else ""
    asked = "suggested by the lexicon, " if line.is_suggested else ""
    return f"{clean(line.move)}: {clean(line.point)} ({asked}{kind}{how})"


def say_source(line: LineToRecord) -> str:
    """Say whose words a line has."""
    return {
        "another class": f"your own words in {quote(line.source_name)}",
        "lexicon": "the lexicon's words",
        "plan": "the plan's words",
    }[line.source]


def say_caption(overlay: Overlay) -> str:
    """Say what a caption shows and when."""
    return f"{say_span(overlay.shown.span)}: {quote(' '.join(overlay.shown.lines))}"


def say_renamed(one: Renamed) -> str:
    """Say what was put right and why."""
    return f"{say_at(one.at_ms)}: {quote(one.heard)} to {quote(one.meant)}; it {clean(one.why)}"


def say_rate(edits: Edits) -> str:
    """Say at which rate lines are spoken."""
    whose = "your own in this class" if edits.speaking.is_own else "a usual one"
    return f"{edits.speaking.words_per_min:g} words a minute, {whose}"


def notes(edits: Edits) -> tuple[str, ...]:
    """Say what holds for all of it: how exact the times are, and at which frame rate."""
    off_ms = edits.typical_error_ms
    off = "less than 0.1 s" if off_ms < 50 else f"{off_ms / 1000:.1f} s"
    exact = f"The transcript's times are typically {off} off."
    if edits.is_coarse:
        exact += (
            " One stamp covers many words, so that no silence can be placed: nothing is cut, "
            "and no line is laid over the talk."
        )
    return (
        "All times are those of the video as filmed; the files in the folder after-cuts fit the "
        "video with all cuts made.",
        f"Cuts lie on whole frames at {edits.rate.name} frames a second.",
        exact,
    )
