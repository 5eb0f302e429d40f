"""``reviewkit forget``: delete a class everywhere it is kept."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from reviewkit.forgetting import Forgettable
    from reviewkit.store import Store

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
    from reviewkit.forgetting import BEYOND_REACH, find_class, look_up
    from reviewkit.store import default_folder, open_store

    folder = data or default_folder()
    _check_folder(folder)
    with open_store(folder) as store:
        found = look_up(store, find_class(store, which))
        typer.echo(_described(found))
        plans = found.plans if _is_wanted(found, with_plan, yes) else ()
        if not yes and not typer.confirm("Delete it for good?", default=False):
            typer.echo("Nothing was deleted.")
            raise typer.Exit(LEFT)
        is_clean = store.forget(found.review.id, [one.id for one in plans])
        typer.echo(_deleted(found, bool(plans)))
        if not is_clean:
            typer.echo(_still_open(store), err=True)
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


def _described(found: Forgettable) -> str:
    from reviewkit.report.wording import clean, count

    review = found.review
    return (
        f"Review {review.id}: {clean(review.title)}, made {review.made_at.astimezone():%Y-%m-%d}, "
        f"from {clean(review.transcript_name)} ({found.transcript_bytes:,} bytes), "
        f"with {count(found.corrections, 'correction')}."
    )


def _deleted(found: Forgettable, is_plan_gone: bool) -> str:
    from reviewkit.report.wording import count

    gone = (
        f"Deleted and overwritten: review {found.review.id} with its transcript, its copy of the "
        f"plan, its document and {count(found.corrections, 'correction')}"
    )
    if is_plan_gone:
        return f"{gone}, and {count(len(found.plans), 'saved plan')}."
    return f"{gone}. Its saved plan stays." if found.plans else f"{gone}."


def _still_open(store: Store) -> str:
    return (
        f"{store.path}: another program has the file open, so its log may still hold the class; "
        "stop that program, which empties the log as it closes"
    )
