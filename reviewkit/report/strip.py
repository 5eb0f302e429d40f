"""A class at a glance: one small strip, planned above actual, without any words.

Colours are named by class only, so that the page around it decides them.
"""

from __future__ import annotations

import re

from reviewkit.model import Interval, Review
from reviewkit.report.layout import actual_span, class_end_ms, planned_span, skipped_places
from reviewkit.times import Span

WIDTH, HEIGHT = 600, 24
_PLANNED_Y, _PLANNED_HEIGHT, _ACTUAL_Y, _ACTUAL_HEIGHT = 0, 6, 8, 16
_GAP = 0.8

_RECT = r'<rect class="(?:planned|actual|off)" x="[\d.]+" y="\d+" width="[\d.]+" height="\d+"/>'
_OPEN = f'<svg class="strip" viewBox="0 0 {WIDTH} {HEIGHT}" preserveAspectRatio="none">'
_STRIP = re.compile(f"{re.escape(_OPEN)}(?:{_RECT})*</svg>")


def strip(review: Review) -> str:
    """Draw the class as a small SVG element; intervals off their plan are of class ``off``."""
    scale = WIDTH / class_end_ms(review)
    places = skipped_places(review)
    rects = []
    for interval in review.heard.intervals:
        if planned := planned_span(interval, places):
            rects.append(_rect("planned", planned, scale, _PLANNED_Y, _PLANNED_HEIGHT))
        if actual := actual_span(interval):
            name = "off" if _is_off(interval) else "actual"
            rects.append(_rect(name, actual, scale, _ACTUAL_Y, _ACTUAL_HEIGHT))
    return f"{_OPEN}{''.join(rects)}</svg>"


def is_strip(text: str) -> bool:
    """Tell whether a text is a strip as drawn here and nothing else, fit to stand in a page."""
    return _STRIP.fullmatch(text) is not None


def _is_off(interval: Interval) -> bool:
    if interval.set_aside:
        return False
    return interval.status != "done" or interval.timing in ("long", "short")


def _rect(name: str, span: Span, scale: float, y: int, height: int) -> str:
    width = max(_GAP, span.length_ms * scale - _GAP)
    return (
        f'<rect class="{name}" x="{span.start_ms * scale:.1f}" y="{y}" '
        f'width="{width:.1f}" height="{height}"/>'
    )
