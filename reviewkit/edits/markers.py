"""Markers for a timeline: intervals, cuts, lines, captions and everything worth a look."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reviewkit.corrections import standing
from reviewkit.edits.records import Layers, LineToRecord, Marker, Overlay, Stretch, Trim
from reviewkit.edits.wording import say_tenths
from reviewkit.model import Review
from reviewkit.report.wording import clean, name_kind, quote, say_left


def find_markers(
    review: Review, layers: Layers, trims: Sequence[Trim], lines: Sequence[LineToRecord]
) -> tuple[Marker, ...]:
    """Give all markers of a class, in order of time."""
    found = (
        *_intervals(layers.stretches),
        *_cuts(trims),
        *_lines(lines),
        *_captions(layers.captions),
        *_looks(review),
    )
    return tuple(sorted(found, key=lambda one: (one.start_ms, one.end_ms, one.kind)))


def _intervals(stretches: Sequence[Stretch]) -> Iterator[Marker]:
    for one in stretches:
        if not one.is_rest:
            yield Marker(one.span.start_ms, one.span.end_ms, "interval", one.name, one.part)


def _cuts(trims: Sequence[Trim]) -> Iterator[Marker]:
    for trim in trims:
        for cut in trim.cuts:
            name = f"Cut {say_tenths(cut.span.length_ms)} of {cut.kind}"
            yield Marker(cut.span.start_ms, cut.span.end_ms, "cut", name, clean(cut.text))


def _lines(lines: Sequence[LineToRecord]) -> Iterator[Marker]:
    for line in lines:
        if line.slot is not None:
            yield Marker(
                line.slot.start_ms,
                line.slot.end_ms,
                "record",
                f"Record: {clean(line.text)}",
                f"{clean(line.move)}: {clean(line.point)}",
            )


def _captions(captions: Sequence[Overlay]) -> Iterator[Marker]:
    for one in captions:
        span, text = one.shown.span, " ".join(one.shown.lines)
        yield Marker(span.start_ms, span.end_ms, "caption", f"Caption: {text}", clean(one.why))


def _looks(review: Review) -> Iterator[Marker]:
    """Mark what only the coach can decide: it is found in the review with its reason."""
    findings = review.findings
    for flag in standing(findings.flags):
        name = f"Look: {name_kind(flag.kind)}, {quote(flag.text)}"
        yield Marker(flag.at_ms, flag.at_ms, "look", name, clean(flag.instead or flag.why))
    for call in standing(findings.time_calls):
        if call.verdict == "wrong":
            note = f"{say_left(call.actual_left_ms)} were left"
            name = f"Look: wrong time call, {quote(call.text)}"
            yield Marker(call.at_ms, call.at_ms, "look", name, note)
    for promise in standing(findings.promises):
        if promise.verdict == "broken":
            name = f"Look: promise not kept, {quote(promise.text)}"
            yield Marker(promise.at_ms, promise.at_ms, "look", name, clean(promise.why))
