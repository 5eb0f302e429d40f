"""The terminal: one way to print tables and text for every command."""

from __future__ import annotations

import sys
from typing import TextIO

from rich.console import Console


def make_console(file: TextIO | None = None, *, width: int | None = None) -> Console:
    """Make a console that prints text as it is.

    Colour is left out where ``NO_COLOR`` is set or nobody watches; the width is the
    terminal's, that of ``COLUMNS``, or 80. Square brackets and colons in a coach's own
    words stay what they are.

    Args:
        file: Where to print, standard output when not given.
        width: Columns to print in, when it is not the terminal's to say.
    """
    return Console(
        file=file if file is not None else sys.stdout,
        width=width,
        highlight=False,
        markup=False,
        emoji=False,
    )


def soften_encoding() -> None:
    """Let standard output and error replace characters that the terminal cannot show."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")
