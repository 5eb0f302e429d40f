"""The command line: joins the commands and turns errors into one clear line.

A command is one file with one function of the command's name. It imports what it needs
inside the function, so that asking for help loads none of it; it is listed in
``COMMANDS`` and nowhere else.
"""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable, Sequence
from importlib.metadata import version
from typing import Annotated, Any

import typer

from reviewkit.cli.batch import batch
from reviewkit.cli.console import soften_encoding
from reviewkit.cli.demo import demo
from reviewkit.cli.edits import edits
from reviewkit.cli.explain import explain
from reviewkit.cli.forget import forget
from reviewkit.cli.hear import hear
from reviewkit.cli.plan import plan
from reviewkit.cli.progress import progress
from reviewkit.cli.rehearse import rehearse
from reviewkit.cli.review import review
from reviewkit.cli.schema import schema
from reviewkit.cli.serve import serve
from reviewkit.errors import ReviewkitError

COMMANDS: tuple[Callable[..., Any], ...] = (
    review, batch, demo, plan, edits, rehearse, hear, explain, progress, forget, schema, serve,
)  # fmt: skip

INPUT_PROBLEM = 2
# Word lists and marks are a million objects without circles; to look through them for
# circles as often as Python does by itself would take a fifth of a review.
OBJECTS_BETWEEN_COLLECTIONS = 200_000

app = typer.Typer(
    name="reviewkit",
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
)


def _print_version(is_asked: bool) -> None:
    if is_asked:
        typer.echo(f"reviewkit {version('reviewkit')}")
        raise typer.Exit


@app.callback()
def _reviewkit(
    is_version_asked: Annotated[
        bool,
        typer.Option(
            "--version", callback=_print_version, is_eager=True, help="Print the version."
        ),
    ] = False,
) -> None:
    """Review a filmed interval class from its timed transcript and its plan."""


for _command in COMMANDS:
    app.command(_command.__name__)(_command)


def main(arguments: Sequence[str] | None = None) -> None:
    """Run the command line and exit.

    Exits 0 when the command did its work, 2 when the input or the options cannot be used,
    with one line for each problem on standard error.

    Args:
        arguments: What follows the program's name; the process's own when not given.
    """
    gc.set_threshold(OBJECTS_BETWEEN_COLLECTIONS)
    soften_encoding()
    try:
        app(args=None if arguments is None else list(arguments), prog_name="reviewkit")
    except ReviewkitError as error:
        typer.echo(str(error), err=True)
        sys.exit(INPUT_PROBLEM)
