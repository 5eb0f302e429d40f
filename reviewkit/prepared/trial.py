"""Listen to a few words, so that all that a review makes of a lexicon gets made."""

from __future__ import annotations

from reviewkit.model import Lexicon
from reviewkit.read.plan import parse_plan
from reviewkit.read.transcript import parse_transcript
from reviewkit.review import review

_CAPTIONS = b"""WEBVTT

00:01.000 --> 00:04.000
thirty seconds of squats, knees out

00:05.000 --> 00:08.000
breathe out as you stand, not so deep if you like

00:40.000 --> 00:42.000
and rest
"""
_PLAN = b"move,work,must_say\nSquats,30s,knees out\n"


def listen_for_once(lexicon: Lexicon) -> None:
    """Review a class of three lines and forget it."""
    review(parse_transcript("trial.vtt", _CAPTIONS), parse_plan("trial.csv", _PLAN), lexicon)
