"""``reviewkit review``: review one class."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from reviewkit.model import Review

FOUND = 1
STANDARD_OUTPUT = "-"

FailOn = Annotated[
    str,
    typer.Option(
        help="Exit 1 when one of these occurs, such as long,short,skipped,missing,late,"
        "wrong,broken,risky_talk. Missing and late count the points that the plan asks for."
    ),
]
Tolerance = Annotated[
    str | None,
    typer.Option(
        help="How far an interval may be off its plan, such as 5s; "
        "3 s or 8 % of the plan, whichever is more, when not given."
    ),
]


def review(
    transcript: Annotated[Path, typer.Argument(help="The timed transcript, in any known form.")],
    plan: Annotated[
        Path | None, typer.Option(help="The plan; drafted from the talk when not given.")
    ] = None,
    json: Annotated[
        Path | None,
        typer.Option(help="Write the review document to this file; - prints it instead."),
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option(help="Write page, Markdown, JSON and CSV tables into this folder."),
    ] = None,
    fail_on: FailOn = "",
    lexicon: Annotated[
        Path | None, typer.Option(help="Folder with word lists of your own.")
    ] = None,
    tolerance: Tolerance = None,
    keep: Annotated[
        bool, typer.Option("--keep", help="Keep the review among those of the page.")
    ] = False,
    data: Annotated[
        str | None,
        typer.Option(
            metavar="DIR|ADDRESS",
            help="With --keep: the folder to keep it in, or a PostgreSQL database by its address; "
            "your own data folder if none.",
        ),
    ] = None,
) -> None:
    """Review a class from its transcript and its plan.

    Prints what to fix, every interval and every point missing or late. Files that an
    earlier review wrote are replaced, whole or not at all.
    """
    from reviewkit.cli.console import make_console
    from reviewkit.report.verdicts import parse_verdicts, tally

    wanted = parse_verdicts(fail_on)
    _check_outputs([one for one in (transcript, plan) if one], [one for one in (json, out) if one])
    tolerance_ms = read_tolerance(tolerance)
    if keep:
        check_keeping(lexicon)
        made = _make_and_keep(transcript, plan, data, tolerance_ms)
    else:
        made = _make(transcript, plan, lexicon, tolerance_ms)
    if not _write(made, json, out):
        from reviewkit.report.text import print_review

        print_review(made, make_console(), is_written=out is not None)
    if out:
        typer.echo(f"\nThe full report is in {out}: open {out / 'review.html'}", err=True)
    counts = tally(made)
    occurred = [f"{counts[name]} {name}" for name in wanted if counts[name]]
    if occurred:
        typer.echo(f"--fail-on: {', '.join(occurred)}", err=True)
        raise typer.Exit(FOUND)


def _make(
    transcript: Path, plan: Path | None, lexicon: Path | None, tolerance_ms: int | None
) -> Review:
    from reviewkit.cli.waiting import waiting
    from reviewkit.prepared import prepared_lexicon
    from reviewkit.read import read_plan, read_transcript
    from reviewkit.review import review as review_class

    with waiting("Listening through the class ..."):
        return review_class(
            read_transcript(transcript),
            read_plan(plan) if plan else None,
            prepared_lexicon(lexicon),
            tolerance_ms=tolerance_ms,
        )


def _make_and_keep(
    transcript: Path, plan: Path | None, data: str | None, tolerance_ms: int | None
) -> Review:
    """Review a class as the page would, with the coach's own words, and keep the review."""
    from datetime import UTC, datetime

    from reviewkit.cli.waiting import waiting
    from reviewkit.kept.keeping import own_lexicon, to_keep
    from reviewkit.read import read_bytes, read_plan
    from reviewkit.read.transcript import MAX_BYTES, parse_transcript
    from reviewkit.review import review as review_class
    from reviewkit.store import default_folder, open_data

    said = read_bytes(transcript, MAX_BYTES)
    timed = parse_transcript(transcript.name, said)
    planned = read_plan(plan) if plan else None
    with open_data(data or str(default_folder())) as store:
        with waiting("Listening through the class ..."):
            made = review_class(timed, planned, own_lexicon(store), tolerance_ms=tolerance_ms)
        where = store.place if store.is_server else store.path.parent
        kept = to_keep(made, said, datetime.now(UTC), tolerance_ms=tolerance_ms)
        typer.echo(f"Kept as review {store.add_review(kept)} in {where}", err=True)
    return made


def _write(made: Review, json: Path | None, out: Path | None) -> bool:
    """Write what is asked for; tell whether standard output is taken by the document."""
    from reviewkit.cli.waiting import waiting
    from reviewkit.files import write_folder, write_whole
    from reviewkit.report.document import document_text

    if out:
        with waiting("Drawing the report ..."):
            from reviewkit.report.folder import report_files

            write_folder(out, report_files(made), overwrite=True)
    if json and str(json) != STANDARD_OUTPUT:
        write_whole(json, document_text(made), overwrite=True)
    elif json:
        typer.echo(document_text(made), nl=False)
    return str(json) == STANDARD_OUTPUT


def read_tolerance(text: str | None) -> int | None:
    """Read the option of that name; None when it was not given.

    Raises:
        InputError: It is no length of time.
    """
    from reviewkit.errors import InputError
    from reviewkit.times import parse_length

    if text is None:
        return None
    length_ms = parse_length(text)
    if length_ms is None:
        raise InputError("--tolerance", None, f'"{text}" is no length of time; write 5s or 0:05')
    return length_ms


def check_keeping(lexicon: Path | None, option: str = "--keep") -> None:
    """Refuse word lists of which a kept review would know nothing later.

    Raises:
        InputError: They are given.
    """
    from reviewkit.errors import InputError

    if lexicon is not None:
        raise InputError(
            "--lexicon", None,
            f"does not go with {option}, as a kept review is made anew with the words on the page; "
            "add your lines there",
        )  # fmt: skip


def _check_outputs(inputs: Sequence[Path], outputs: Sequence[Path]) -> None:
    """Refuse to write the review over what it is made from."""
    from reviewkit.errors import InputError

    for path in outputs:
        if any(path.exists() and one.exists() and path.samefile(one) for one in inputs):
            raise InputError(str(path), None, "is an input of the review; name another file")
