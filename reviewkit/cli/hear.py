"""``reviewkit hear``: say what is heard in single utterances."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from reviewkit.hearing import Heard

STANDARD_OUTPUT = "-"
MAX_LINES_BYTES = 10_000_000


def hear(
    text: Annotated[str | None, typer.Argument(help="What a coach said.")] = None,
    lines: Annotated[
        Path | None, typer.Option(help="File with one utterance a line, instead of TEXT.")
    ] = None,
    json: Annotated[
        str | None, typer.Option(help="Write one JSON object a line to this file; - prints them.")
    ] = None,
    lexicon: Annotated[
        Path | None, typer.Option(help="Folder with word lists of your own.")
    ] = None,
) -> None:
    """Say what is heard in an utterance: its labels, points and time left, and why."""
    from reviewkit.hearing import hear_text
    from reviewkit.prepared import prepared_lexicon

    said = _utterances(text, lines)
    words = prepared_lexicon(lexicon)
    heard = [hear_text(utterance, words) for utterance in said]
    if json is not None:
        _write(json, "".join(f"{_document(one)}\n" for one in heard))
    else:
        typer.echo("\n\n".join(_readable(one) for one in heard))


def _utterances(text: str | None, lines: Path | None) -> list[str]:
    """Give the utterances, of the argument or of the file; empty lines count."""
    from reviewkit.errors import InputError
    from reviewkit.read import read_bytes
    from reviewkit.read.decode import decode

    if (text is None) == (lines is None):
        raise InputError("hear", None, "needs an utterance, or --lines with a file of them")
    if lines is None:
        return [text or ""]
    return decode(read_bytes(lines, MAX_LINES_BYTES), str(lines))[0].splitlines()


def _write(target: str, text: str) -> None:
    from reviewkit.files import write_whole

    if target == STANDARD_OUTPUT:
        typer.echo(text, nl=False)
    else:
        write_whole(Path(target), text, overwrite=True)


def _document(heard: Heard) -> str:
    from json import dumps

    document = {
        "text": heard.text,
        "labels": list(heard.labels),
        "points": list(heard.points),
        "claimed_left_s": heard.claimed_left_s,
    }
    return dumps(document, ensure_ascii=False)


def _readable(heard: Heard) -> str:
    """Write an utterance with its labels, each with the words that gave it."""
    rows = [heard.text]
    for label, why in heard.reasons:
        rows.append(f"  {label.replace('_', ' ')}: {', '.join(why)}" if why else f"  {label}")
    if not heard.reasons:
        rows.append("  nothing that a review counts")
    if heard.points:
        rows.append(f"  points: {', '.join(heard.points)}")
    if heard.claimed_left_s is not None:
        rows.append(f"  claims {heard.claimed_left_s:g} s left")
    return "\n".join(rows)
