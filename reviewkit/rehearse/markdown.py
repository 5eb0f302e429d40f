"""The cue sheet as text, for any editor, and to be read aloud."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from reviewkit.rehearse.records import Cue, CuePoint, CueSheet
from reviewkit.rehearse.wording import (
    say_calls,
    say_cue_move,
    say_facts,
    say_last,
    say_place,
    say_rest,
    say_span,
    say_suggestion_note,
    say_title,
    say_ways,
    warnings,
)
from reviewkit.report.markdown import escape
from reviewkit.report.wording import clean

NOT_OFFERED = "; not offered last time"


def sheet_markdown(sheet: CueSheet) -> str:
    """Write the cue sheet as Markdown; it ends in a line feed."""
    return "\n".join(_lines(sheet)).rstrip("\n") + "\n"


def _lines(sheet: CueSheet) -> Iterator[str]:
    yield f"# Cue sheet: {escape(say_title(sheet))}"
    yield ""
    yield escape(say_facts(sheet))
    if sheet.last_source:
        yield ""
        yield f"**Bold** was missing or late last time ({escape(clean(sheet.last_source))})."
    if found := warnings(sheet):
        yield from ("", "## Not enough time", "")
        yield from (f"- {escape(one)}" for one in found)
    for part, cues in groupby(sheet.cues, key=lambda cue: cue.part):
        yield from ("", f"## {escape(clean(part))}", "")
        for cue in cues:
            yield from _cue(cue)
    yield from ("", "## Keep in mind", "")
    yield from (f"- {escape(one)}" for one in sheet.cautions)


def _cue(cue: Cue) -> Iterator[str]:
    rest = say_rest(cue)
    yield f"{cue.number}. {say_span(cue)} {escape(say_cue_move(cue))}{', ' + rest if rest else ''}"
    for point in cue.points:
        yield f"    - {_point(point, cue)}"
    if cue.again:
        yield f"    - again: {escape('; '.join(map(clean, cue.again)))}"
    yield f"    - {_breath(cue)}"
    if cue.is_first and (ways := say_ways(cue)):
        yield f"    - {escape(ways)}{NOT_OFFERED if cue.are_ways_missing else ''}"
    if cue.calls:
        yield f"    - call: {escape(say_calls(cue))}"
    yield from (f"    - **last time {escape(one)}**" for one in cue.calls_last)
    if note := say_suggestion_note(cue):
        yield f"    - ({escape(note)})"


def _point(point: CuePoint, cue: Cue) -> str:
    kind = "suggestion" if point.is_suggested else "say"
    text = f"{kind}: {clean(point.text)}{' (safety)' if point.kind == 'safety' else ''}"
    last = say_last(point)
    said = f"{escape(text)}, {escape(say_place(point, cue))}"
    if last and not point.is_suggested:
        return f"**{said}; {last}**"
    return f"{said}; {last}" if last else said


def _breath(cue: Cue) -> str:
    said = f"breath: {escape(cue.breath)}"
    return f"**{said}; missing last time**" if cue.is_breath_missing else said
