"""Options that several commands have, worded the same in all of them."""

from __future__ import annotations

from typing import Annotated

import typer

DataOption = Annotated[
    str | None,
    typer.Option(
        metavar="DIR|ADDRESS",
        help="Folder that keeps reviews, or a PostgreSQL database by its address; your own data "
        "folder when not given.",
    ),
]
