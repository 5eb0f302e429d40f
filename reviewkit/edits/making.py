"""Put together everything for the edit of a class, out of its review."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

from reviewkit.cautions import EDIT_CAUTIONS
from reviewkit.corrections import standing_class
from reviewkit.edits.cuts import find_trims
from reviewkit.edits.lines_to_record import PAUSE_MS, find_lines, speaking_rate
from reviewkit.edits.markers import find_markers
from reviewkit.edits.once_cut import once_cut
from reviewkit.edits.overlays import find_overlays
from reviewkit.edits.own_words import OwnWordsByPoint
from reviewkit.edits.records import Edits, Layers
from reviewkit.edits.renaming import find_renamed
from reviewkit.edits.running import chapters, find_stretches
from reviewkit.edits.timecode import USUAL_RATE, FrameRate
from reviewkit.edits.transcript import transcript_captions
from reviewkit.model import Review
from reviewkit.times import Span


def make_edits(
    review: Review,
    *,
    rate: FrameRate = USUAL_RATE,
    own: OwnWordsByPoint = MappingProxyType({}),
) -> Edits:
    """Make everything for the edit of a class.

    What the coach has put right or set aside counts. Lines to record are placed before
    anything is cut, and their places are not cut away: a point is worth more than a second.

    Args:
        review: The class as reviewed.
        rate: Frames a second of the video.
        own: The coach's own words from other classes, by move and point.
    """
    counted = replace(review, heard=standing_class(review.heard))
    speaking = speaking_rate(review)
    lines = find_lines(counted, speaking, own)
    trims = find_trims(counted, rate, [_kept(line.slot) for line in lines if line.slot])
    talk = review.heard.talk
    renamed = find_renamed(review.heard)
    stretches = find_stretches(counted)
    filmed = Layers(
        talk.length_ms,
        find_overlays(counted, lines),
        chapters(stretches, talk.length_ms),
        stretches,
        transcript_captions(talk, renamed),
    )
    return Edits(
        title=review.heard.plan.title or review.transcript.source,
        typical_error_ms=talk.typical_error_ms,
        is_coarse=talk.clock == "blocks",
        rate=rate,
        speaking=speaking,
        trims=trims,
        lines=lines,
        filmed=filmed,
        cut=once_cut(counted, filmed, lines, [cut for trim in trims for cut in trim.cuts]),
        markers=find_markers(counted, filmed, trims, lines),
        renamed=renamed,
        cautions=EDIT_CAUTIONS,
    )


def _kept(slot: Span) -> Span:
    return Span(max(0, slot.start_ms - PAUSE_MS), slot.end_ms + PAUSE_MS)
