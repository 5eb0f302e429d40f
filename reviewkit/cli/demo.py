"""``reviewkit demo``: review the class that comes with the program."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

DEMO_CLASS = "harbour-evening"
DEFAULT_OUT = Path("reviewkit-demo")


def demo(
    out: Annotated[
        Path, typer.Option(help="Folder for the report; files of an earlier one are replaced.")
    ] = DEFAULT_OUT,
) -> None:
    """Review an invented class that comes with the program, and write its report."""
    from reviewkit.cli.review import review

    folder = _bundled_class()
    review(transcript=folder / "captions.vtt", plan=folder / "plan.csv", out=out)


def _bundled_class() -> Path:
    """Find the class inside the installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    inside = package / "fixtures"
    return (inside if inside.is_dir() else package.parent / "fixtures") / DEMO_CLASS
