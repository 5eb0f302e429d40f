"""``reviewkit schema``: print the JSON Schema of the review document."""

from __future__ import annotations

import typer


def schema() -> None:
    """Print the JSON Schema that every review document follows."""
    from importlib.resources import files

    text = files("reviewkit.report").joinpath("review.schema.json").read_text("utf-8")
    typer.echo(text, nl=False)
