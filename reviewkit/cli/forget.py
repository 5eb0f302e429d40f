"""``reviewkit forget``: delete a class everywhere it is kept."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from reviewkit.cli.options import DataOption

if TYPE_CHECKING:
    from reviewkit.kept.forgetting import Forgettable

LEFT = 1


def forget(
    which: Annotated[
        str, typer.Argument(metavar="NUMBER|TITLE", help="The kept class, by number or title.")
    ],
    data: DataOption = None,
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
    from reviewkit.kept.forgetting import (
        BEYOND_REACH,
        find_class,
        look_up,
        say_forgotten,
        say_found,
        what_is_left,
    )
    from reviewkit.kept.reopen import open_kept

    with open_kept(data) as store:
        found = look_up(store, find_class(store, which))
        typer.echo(say_found(found))
        plans = found.plans if _is_wanted(found, with_plan, yes) else ()
        if not yes and not typer.confirm("Delete it for good?", default=False):
            typer.echo("Nothing was deleted.")
            raise typer.Exit(LEFT)
        is_clean = store.forget(found.review.id, [one.id for one in plans])
        typer.echo(say_forgotten(found, store, is_plan_gone=bool(plans)))
        if not is_clean:
            typer.echo(f"{store.place}: {what_is_left(store)}", err=True)
        typer.echo("\nWhat this cannot reach:")
        for line in BEYOND_REACH:
            typer.echo(f"- {line}")


def _is_wanted(found: Forgettable, with_plan: bool | None, yes: bool) -> bool:
    if not found.plans:
        return False
    if with_plan is None:
        return not yes and typer.confirm(
            "No other review was made with its saved plan. Delete the plan, too?", default=False
        )
    return with_plan
