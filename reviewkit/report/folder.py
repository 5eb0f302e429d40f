"""The report as a set of files, by name; writing them is for others."""

from __future__ import annotations

from reviewkit.model import Review
from reviewkit.report.document import document, document_text
from reviewkit.report.markdown import markdown
from reviewkit.report.page import page
from reviewkit.report.tables import intervals_csv, moves_csv


def report_files(review: Review) -> dict[str, str]:
    """Make every file of a report folder: page, Markdown, JSON and the two tables."""
    plain = document(review)
    return {
        "review.html": page(review),
        "review.md": markdown(review),
        "review.json": document_text(review),
        "intervals.csv": intervals_csv(plain),
        "moves.csv": moves_csv(plain),
    }
