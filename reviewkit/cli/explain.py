"""``reviewkit explain``: say why an interval was put where it is."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer


def explain(
    transcript: Annotated[Path, typer.Argument(help="The timed transcript, in any known form.")],
    plan: Annotated[Path, typer.Option(help="The plan.")],
    interval: Annotated[int, typer.Option(help="The plan's row, 1 for the first.")],
    lexicon: Annotated[
        Path | None, typer.Option(help="Folder with word lists of your own.")
    ] = None,
) -> None:
    """Show why an interval starts and ends where it does, and where else it might."""
    from reviewkit.cli.console import make_console
    from reviewkit.cli.waiting import waiting
    from reviewkit.explain import explain_interval
    from reviewkit.prepared import prepared_lexicon
    from reviewkit.read import read_plan, read_transcript
    from reviewkit.report.explanation import print_explanation

    with waiting("Listening through the class ..."):
        explained = explain_interval(
            read_transcript(transcript), read_plan(plan), prepared_lexicon(lexicon), interval
        )
    print_explanation(explained, make_console())
