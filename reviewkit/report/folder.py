"""The report as a set of files, by name; writing them is for others."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from reviewkit.model import Review
from reviewkit.report.document import document, document_text
from reviewkit.report.markdown import markdown
from reviewkit.report.page import page
from reviewkit.report.tables import intervals_csv, moves_csv

# Every file of a report and what makes it: page, Markdown, JSON and the two tables.
MAKERS: Mapping[str, Callable[[Review], str]] = {
    "review.html": page,
    "review.md": markdown,
    "review.json": document_text,
    "intervals.csv": lambda review: intervals_csv(document(review)),
    "moves.csv": lambda review: moves_csv(document(review)),
}


def report_files(review: Review) -> dict[str, str]:
    """Make every file of a report folder."""
    return {name: make(review) for name, make in MAKERS.items()}
