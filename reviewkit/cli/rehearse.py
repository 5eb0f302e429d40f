"""``reviewkit rehearse``: prepare the next filming of a class."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from reviewkit.cli.options import DataOption


def rehearse(
    plan: Annotated[Path, typer.Argument(help="The plan: CSV, .xlsx or plain text.")],
    out: Annotated[
        Path, typer.Option(help="Folder for the cue sheet and the clock; older ones are replaced.")
    ],
    last: Annotated[
        str | None,
        typer.Option(
            metavar="REVIEW",
            help="The review of an earlier filming, as its review.json or as its number on the "
            "page: what was missing or late stands out.",
        ),
    ] = None,
    data: DataOption = None,
    title: Annotated[
        str, typer.Option(help="What the class is called; as in the plan when not given.")
    ] = "",
    lexicon: Annotated[
        Path | None, typer.Option(help="Folder with word lists of your own.")
    ] = None,
) -> None:
    """Write a cue sheet to print or prop up and a clock that runs the class.

    Warns where the points of an interval cannot be said in the time there is.
    """
    from dataclasses import replace

    from reviewkit.files import write_folder
    from reviewkit.kept.reopen import kept_document
    from reviewkit.prepared import prepared_lexicon
    from reviewkit.read import read_plan
    from reviewkit.rehearse import make_sheet, parse_last_time, rehearsal_files
    from reviewkit.rehearse.wording import say_facts, warnings

    read = read_plan(plan)
    named = replace(read, title=title or read.title or plan.stem)
    earlier = parse_last_time(_name(last), kept_document(last, data=data)) if last else None
    sheet = make_sheet(named, prepared_lexicon(lexicon), earlier)
    write_folder(out, rehearsal_files(sheet), overwrite=True)
    typer.echo(say_facts(sheet))
    for one in warnings(sheet):
        typer.echo(f"Warning: {one}")
    typer.echo(
        f"Print {out / 'cue-sheet.html'}, and open {out / 'class-clock.html'} beside the camera."
    )


def _name(last: str) -> str:
    """Name an earlier review on the sheet, without the folders it lies in."""
    return f"review {last}" if last.isdecimal() else Path(last).name
