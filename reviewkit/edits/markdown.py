"""Everything for the edit in plain words, as Markdown."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reviewkit.edits.records import Edits, Layers
from reviewkit.edits.running import stamped_list
from reviewkit.edits.wording import (
    notes,
    say_caption,
    say_cut,
    say_lengths,
    say_line,
    say_point,
    say_rate,
    say_renamed,
    say_source,
    say_sum,
    say_trim,
    trim_notes,
)
from reviewkit.report.markdown import escape
from reviewkit.report.wording import clean

LEAVE_OUT = "Leave out a caption where you record the line."


def edits_markdown(edits: Edits, files: Sequence[tuple[str, str]]) -> str:
    """Write what to do in the edit; it ends in a line feed.

    Args:
        edits: What to do.
        files: The names of all files beside this one, and what each is.
    """
    return "\n".join(_lines(edits, files)) + "\n"


def _lines(edits: Edits, files: Sequence[tuple[str, str]]) -> Iterator[str]:
    yield f"# Into the edit: {escape(clean(edits.title))}"
    yield from ("", escape(say_sum(edits)), "", escape(say_lengths(edits)), "")
    yield from (f"- {escape(note)}" for note in notes(edits))
    yield from _cuts(edits)
    yield from _to_record(edits)
    yield from _section("Captions to show", LEAVE_OUT, map(say_caption, edits.filmed.captions))
    yield from _section("Names put right in the transcript", "", map(say_renamed, edits.renamed))
    yield from _section("Chapters as filmed", "", _chapters(edits.filmed))
    if edits.cuts:
        yield from _section("Chapters once cut", "", _chapters(edits.cut))
    yield from ("", "## The files", "")
    yield from (f"- `{name}`: {what}" for name, what in files)
    yield from ("", "## Keep in mind", "")
    yield from (f"- {escape(one)}" for one in edits.cautions)


def _cuts(edits: Edits) -> Iterator[str]:
    yield from ("", "## Cuts", "")
    if not edits.trims:
        yield "No interval is known to have run long, and no rest to have been stretched."
    for trim in edits.trims:
        yield f"- {escape(say_trim(trim))}"
        yield from (f"    - {escape(say_cut(cut))}" for cut in trim.cuts)
        yield from (f"    - {escape(note)}" for note in trim_notes(trim))


def _to_record(edits: Edits) -> Iterator[str]:
    yield from ("", "## Lines to record", "")
    if not edits.lines:
        yield "No point that counts was missing or late."
        return
    yield f"Timed at {escape(say_rate(edits))}."
    yield ""
    for line in edits.lines:
        yield f"- {escape(say_point(line))}"
        yield f"    - {escape(say_line(line))}; {escape(say_source(line))}"


def _section(heading: str, note: str, said: Iterator[str]) -> Iterator[str]:
    yield from ("", f"## {heading}", "")
    lines = [f"- {escape(one)}" for one in said]
    if lines and note:
        yield from (note, "")
    yield from lines or ["None."]


def _chapters(layers: Layers) -> Iterator[str]:
    yield from stamped_list(layers.chapters).splitlines()
