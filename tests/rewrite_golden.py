"""Rewrite the golden report texts: ``python -m tests.rewrite_golden``, then review the diff."""

from __future__ import annotations

import io
from pathlib import Path

from reviewkit.batch.summary import summarise
from reviewkit.batch.writing import markdown as library
from reviewkit.cli.console import make_console
from reviewkit.edits.folder import in_words
from reviewkit.rehearse.markdown import sheet_markdown
from reviewkit.report.document import document
from reviewkit.report.markdown import markdown
from reviewkit.report.text import print_review
from tests.edits.sample import sample_edits
from tests.rehearse.sample import last_document, sheet
from tests.report.sample import sample_review

GOLDEN = Path(__file__).parent / "golden"
WIDTH = 80


def texts() -> dict[str, str]:
    """Give every golden text by file name, as the program writes it now."""
    printed = io.StringIO()
    print_review(sample_review(), make_console(printed, width=WIDTH))
    terminal = "\n".join(line.rstrip() for line in printed.getvalue().splitlines()) + "\n"
    return {
        "terminal.txt": terminal,
        "review.md": markdown(sample_review()),
        "edits.md": in_words(sample_edits()),
        "cue-sheet.md": sheet_markdown(sheet(document=last_document())),
        "library.md": library_markdown(),
    }


def library_markdown() -> str:
    """Give the summary of a library of the sample twice, with a class and a plan left out."""
    summary = summarise((name, document(sample_review())) for name in ("spring/one", "two"))
    left_out = [("spring/bad", "bad.vtt: no timed speech was found in it")]
    return library(summary, left_out, [("old-plan.csv", "no transcript beside it has its name")])


if __name__ == "__main__":
    for name, text in texts().items():
        (GOLDEN / name).write_text(text, encoding="utf-8")
