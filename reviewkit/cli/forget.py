"""``reviewkit forget``: delete a class everywhere it is kept."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from reviewkit.forgetting import Forgettable

LEFT = 1


def forget(
    which: Annotated[
        str, typer.Argument(metavar="NUMBER|TITLE", help="The kept class, by number or title.")
    ],
    data: Annotated[
        Path | None,
        typer.Option(help="Folder that keeps reviews; your own data folder when not given."),
    ] = None,
    with_plan: Annotated[
        bool | None,
        typer.Option(
            "--with-plan/--keep-plan",
            help="Whether its saved plan goes too, where no other review was made with it; "
            "asked when neither is given, and kept with --yes.",
        ),
    ] = None,
    yes: Annotated[bool, typer.Option("--yes", help="Do not ask.")] = False,
) -> None:
    """Delete a class everywhere it is kept: review, transcript, document, corrections.

    What is deleted is overwritten in the file. Asks before it does so.
    """
    from reviewkit.forgetting import (
        BEYOND_REACH,
        STILL_OPEN,
        find_class,
        look_up,
        say_forgotten,
        say_found,
    )
    from reviewkit.store import default_folder, open_store

    folder = data or default_folder()
    _check_folder(folder)
    with open_store(folder) as store:
        found = look_up(store, find_class(store, which))
        typer.echo(say_found(found))
        plans = found.plans if _is_wanted(found, with_plan, yes) else ()
        if not yes and not typer.confirm("Delete it for good?", default=False):
            typer.echo("Nothing was deleted.")
            raise typer.Exit(LEFT)
        is_clean = store.forget(found.review.id, [one.id for one in plans])
        typer.echo(say_forgotten(found, is_plan_gone=bool(plans)))
        if not is_clean:
            typer.echo(f"{store.place}: {STILL_OPEN}", err=True)
        typer.echo("\nWhat this cannot reach:")
        for line in BEYOND_REACH:
            typer.echo(f"- {line}")


def _check_folder(folder: Path) -> None:
    """Refuse a folder without a store: one must not be made to delete from it."""
    from reviewkit.errors import InputError
    from reviewkit.store import FILE_NAME

    if not (folder / FILE_NAME).exists():
        raise InputError(str(folder), None, "keeps no reviews; name another folder with --data")


def _is_wanted(found: Forgettable, with_plan: bool | None, yes: bool) -> bool:
    if not found.plans:
        return False
    if with_plan is None:
        return not yes and typer.confirm(
            "No other review was made with its saved plan. Delete the plan, too?", default=False
        )
    return with_plan
