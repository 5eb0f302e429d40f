"""``reviewkit demo``: review the class that comes with the program."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

DEFAULT_OUT = Path("reviewkit-demo")


def demo(
    out: Annotated[
        Path, typer.Option(help="Folder for the report; files of an earlier one are replaced.")
    ] = DEFAULT_OUT,
) -> None:
    """Review an invented class that comes with the program, and write its report."""
    from reviewkit.cli.review import review
    from reviewkit.read import bundled_class

    folder = bundled_class()
    review(transcript=folder / "captions.vtt", plan=folder / "plan.csv", out=out)
