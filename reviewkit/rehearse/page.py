"""The cue sheet and the class clock as pages: single files without network, or on our own page."""

from __future__ import annotations

import base64
import hashlib
import json
from functools import cache
from itertools import groupby
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from reviewkit.rehearse import wording
from reviewkit.rehearse.clock import clock_data
from reviewkit.rehearse.records import Cue, CueSheet
from reviewkit.report.wording import clean

# What a page of paper holds in the larger print, and a line of one of its columns.
LINES_OF_A_PAGE = 52
LETTERS_OF_A_LINE = 40

FILTERS = {
    "calls": wording.say_calls,
    "clean": clean,
    "cue_move": wording.say_cue_move,
    "moment": wording.say_clock,
    "note": wording.say_suggestion_note,
    "place": wording.say_place,
    "rest": wording.say_rest,
    "ways": wording.say_ways,
}


def sheet_page(sheet: CueSheet, *, served_from: str = "", back: str = "") -> str:
    """Write the cue sheet as a page to print or prop up.

    Args:
        sheet: What to write.
        served_from: Address of the folder of styles and scripts; all of it goes into the
            page itself where this is empty.
        back: Address of where it was opened, for a link there; none where it is empty.
    """
    parts = [(part, list(cues)) for part, cues in groupby(sheet.cues, key=lambda cue: cue.part)]
    return _fill(
        "cue-sheet.html",
        served_from,
        sheet=sheet,
        back=back,
        is_crowded=_printed_lines(sheet) > LINES_OF_A_PAGE,
        parts=parts,
        facts=wording.say_facts(sheet),
        warnings=wording.warnings(sheet),
    )


def clock_page(sheet: CueSheet, *, served_from: str = "", back: str = "") -> str:
    """Write the class clock as a page that keeps the time of the class full screen.

    Arguments as for ``sheet_page``.
    """
    data = json.dumps(clock_data(sheet), ensure_ascii=False, separators=(",", ":"))
    # Inside a script element only "<" could end it; JSON may write it as an escape.
    safe = data.replace("<", "\\u003c").encode("utf-8", "replace").decode("utf-8")
    # S704 is answered by the line above.
    return _fill("class-clock.html", served_from, sheet=sheet, back=back, data=Markup(safe))  # noqa: S704


def _printed_lines(sheet: CueSheet) -> int:
    """Guess how many lines the sheet fills on paper, to print a long one smaller."""
    return sum(max(_lines_to_say(cue), _lines_besides(cue), 2) for cue in sheet.cues)


def _lines_to_say(cue: Cue) -> int:
    asked = [one for one in cue.points if not one.is_suggested]
    boxed = sum(bool(one.last) for one in asked)
    plain = "; ".join(one.text for one in asked if not one.last)
    maybe = "; ".join(one.text for one in cue.points if one.is_suggested)
    again = "; ".join(cue.again)
    return 2 * boxed + sum(-(-len(text) // LETTERS_OF_A_LINE) for text in (plain, maybe, again))


def _lines_besides(cue: Cue) -> int:
    ways = wording.say_ways(cue) if cue.is_first else ""
    return 1 + cue.is_breath_missing + 2 * len(cue.calls_last) - (-len(ways) // LETTERS_OF_A_LINE)


def _fill(name: str, served_from: str, **values: Any) -> str:
    stem = name.removesuffix(".html")
    environment = _environment()
    style, script = (_static(f"{stem}.{kind}") for kind in ("css", "js"))
    policy = f"default-src 'none'; style-src {_hash(style)}"
    if script:
        policy += f"; script-src {_hash(script)}"
    return environment.get_template(name).render(
        title=wording.say_title(values["sheet"]),
        served_from=served_from,
        policy=policy + "; base-uri 'none'; form-action 'none'",
        # Our own files, none of them made of what a coach wrote.
        style=Markup(style),  # noqa: S704
        script=Markup(script),  # noqa: S704
        **values,
    )


def _hash(text: str) -> str:
    """Name a style or script in a policy by what it holds."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def _static(name: str) -> str:
    """Give a style or script, empty where there is none of that name."""
    loader, path = _environment().loader, f"static/{name}"
    if loader is None or path not in loader.list_templates():
        return ""
    return loader.get_source(_environment(), path)[0]


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=PackageLoader("reviewkit.rehearse", "pages"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(FILTERS)
    return environment
