"""``reviewkit edits``: everything to take into the edit of a class as filmed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reviewkit.cli.options import DataOption

if TYPE_CHECKING:
    from reviewkit.edits import OwnWordsByPoint
    from reviewkit.model import Transcript


def edits(
    review: Annotated[
        str,
        typer.Argument(
            help="The review: its review.json, the folder that holds it, or its number on the page."
        ),
    ],
    out: Annotated[Path, typer.Option(help="Folder for the files; older ones are replaced.")],
    rate: Annotated[
        str,
        typer.Option(
            help="Frames a second of the video: 24, 25, 29.97-drop, 29.97-non-drop, 30, 50 or 60."
        ),
    ] = "30",
    data: DataOption = None,
    lexicon: Annotated[
        Path | None, typer.Option(help="Folder with word lists of your own.")
    ] = None,
) -> None:
    """Write cuts, lines to record, captions, chapters, markers, a timer and a transcript.

    Cuts lie in silence or take out talk that only repeats; times are exact to the frame.
    """
    from reviewkit.cli.waiting import waiting
    from reviewkit.edits import edit_files, make_edits, parse_rate
    from reviewkit.edits.wording import notes, say_lengths, say_sum
    from reviewkit.files import write_folder
    from reviewkit.kept.reopen import reopen_review

    frames = parse_rate(rate)
    with waiting("Listening through the class ..."):
        opened = reopen_review(review, data=data, lexicon=lexicon)
        made = make_edits(opened, rate=frames, own=_own_words(opened.transcript, data))
    write_folder(out, edit_files(made), overwrite=True)
    typer.echo(say_sum(made))
    typer.echo(say_lengths(made))
    if made.is_coarse:
        typer.echo(notes(made)[-1])
    typer.echo(f"Begin with {out / 'edits.md'}: it says what every file is.")


def _own_words(transcript: Transcript, data: str | None) -> OwnWordsByPoint:
    """Gather the coach's own words from the other kept classes, if any are kept."""
    from reviewkit.kept.looking_back import own_words_of
    from reviewkit.kept.reopen import has_kept, open_kept

    if not has_kept(data):
        return {}
    with open_kept(data) as store:
        return own_words_of(store, transcript)
