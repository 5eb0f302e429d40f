"""Fit a drawing into a page: colours by name, text in the page's own type, no stray ids.

The plotting library writes complete SVG files. Inside a page there may be several, so ids
must not clash; colours must follow the page into the dark; and nothing may point outside.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from html import escape

# Stand-ins the drawing uses, and the custom properties of the page they turn into.
INK, SOFT, RULE, OFF, BAR, PAPER, CUE, OFF_BAR, ON_OFF = (
    "#010203",
    "#020304",
    "#030405",
    "#040506",
    "#050607",
    "#060708",
    "#070809",
    "#08090a",
    "#090a0b",
)
COLOURS = {
    INK: "var(--ink)",
    SOFT: "var(--soft)",
    RULE: "var(--rule)",
    OFF: "var(--off)",
    BAR: "var(--bar)",
    PAPER: "var(--paper)",
    CUE: "var(--cue)",
    OFF_BAR: "var(--off-bar)",
    ON_OFF: "var(--on-off)",
}
_HEAD = re.compile(r"^.*?(?=<svg\b)", re.DOTALL)
_METADATA = re.compile(r"<metadata>.*?</metadata>\s*", re.DOTALL)
_SHEET = re.compile(r"<style\b.*?</style>\s*", re.DOTALL)
_COMMENT = re.compile(r"<!--.*?-->\s*", re.DOTALL)
_OPEN = re.compile(r"<svg\b[^>]*\bviewBox=\"([^\"]+)\"[^>]*>", re.DOTALL)
_OWN_ID = re.compile(r' id="(?:figure|axes|patch|text|line2d|matplotlib\.axis|xtick|ytick|'
                     r'LineCollection|PathCollection|PolyCollection)_\d+"')  # fmt: skip
_FAMILY = re.compile(r" font-family: [^;\"]*;?")
_FONT = re.compile(r"font: (?:(bold|700) )?([\d.]+)px [^;\"]*")


def fit_into_page(
    svg: str, name: str, *, title: str, description: str, tooltips: Mapping[str, str]
) -> str:
    """Turn a plotted SVG file into an element of a page.

    Args:
        svg: The file as plotted.
        name: Prefix for its ids, unique on the page.
        title: What it shows, for those who do not see it.
        description: What there is to see, likewise.
        tooltips: Words shown over the groups of these ids.
    """
    body = _HEAD.sub("", svg)
    for dropped in (_METADATA, _SHEET, _COMMENT, _OWN_ID):
        body = dropped.sub("", body)
    body = re.sub(r'\bid="', f'id="{name}-', body)
    body = re.sub(r"url\(#", f"url(#{name}-", body)
    body = re.sub(r'\b(?:xlink:)?href="#', f'href="#{name}-', body)
    body = _FAMILY.sub("", body)
    body = _FONT.sub(lambda found: _font(found[1], found[2]), body)
    for stand_in, colour in COLOURS.items():
        body = body.replace(stand_in, colour)
    for group, words in tooltips.items():
        opening = f'<g id="{name}-{group}">'
        body = body.replace(opening, f"{opening}<title>{escape(words)}</title>")
    opening = (
        f'role="img" aria-labelledby="{name}-t {name}-d">'
        f'<title id="{name}-t">{escape(title)}</title><desc id="{name}-d">'
        f"{escape(description)}</desc>"
    )
    return _OPEN.sub(
        lambda found: f'<svg class="picture" viewBox="{found[1]}" {opening}', body, count=1
    ).strip()


def _font(weight: str | None, size_px: str) -> str:
    return f"font-size: {size_px}px" + ("; font-weight: 600" if weight else "")
