"""Write the summary of a catalogue: JSON for programs, Markdown and one HTML page to read."""

from __future__ import annotations

import json
from collections.abc import Sequence

from jinja2 import ChoiceLoader, Environment, PackageLoader, StrictUndefined

from reviewkit.batch.sections import Named, Section, facts, headline, sections
from reviewkit.batch.summary import Summary, summary_document
from reviewkit.cautions import CAUTIONS
from reviewkit.report.markdown import escape


def summary_files(summary: Summary, failed: Named, unused: Named) -> dict[str, str]:
    """Make the files of a summary by name.

    Args:
        summary: What was added up.
        failed: Classes that were left out, with the reason.
        unused: Plans that were not used, with the reason.
    """
    text = json.dumps(summary_document(summary, failed, unused), indent=2, ensure_ascii=False)
    return {
        # Half a surrogate pair is legal in a file's name and in no UTF-8 file.
        name: made.encode("utf-8", "replace").decode("utf-8")
        for name, made in (
            ("summary.json", text + "\n"),
            ("summary.md", markdown(summary, failed, unused)),
            ("summary.html", page(summary, failed, unused)),
        )
    }


def markdown(summary: Summary, failed: Named, unused: Named) -> str:
    """Write the summary as Markdown."""
    lines = ["# The library", "", headline(summary, failed), ""]
    lines += [f"- {name}: {escape(value)}" for name, value in facts(summary)]
    for section in sections(summary, failed, unused):
        lines += ["", f"## {section.title}", "", *_table(section)]
    return "\n".join([*lines, "", "## Cautions", "", *(f"- {one}" for one in CAUTIONS)]) + "\n"


def _table(section: Section) -> list[str]:
    if not section.rows:
        return [section.nothing]
    return [
        section.explain,
        "",
        _line(section.head),
        _line(["---"] * len(section.head)),
        *(_line([escape(cell) for cell in row]) for row in section.rows),
    ]


def _line(cells: Sequence[str]) -> str:
    return f"| {' | '.join(cells)} |"


def page(summary: Summary, failed: Named, unused: Named) -> str:
    """Write the summary as one page that needs nothing else: no script, no network."""
    environment = Environment(
        # The report's own styles: a library and a class look alike.
        loader=ChoiceLoader([PackageLoader("reviewkit.batch"), PackageLoader("reviewkit.report")]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return environment.get_template("summary.html").render(
        headline=headline(summary, failed),
        facts=facts(summary),
        sections=sections(summary, failed, unused),
        cautions=CAUTIONS,
    )
