"""Review the labelled classes in every form and print how right the reviews are.

    python -m tests.accuracy [--forms words,vtt] [--only NAME,...] [--misses] [--json FILE]

Figures are pooled over classes, one column a form. ``--misses`` names everything that
came out wrong.
"""

from __future__ import annotations

import argparse
import json
import os
from collections.abc import Iterable, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict, dataclass
from functools import cache
from pathlib import Path

from rich.console import Console
from rich.table import Table

from reviewkit.evaluate import Figures, LabelledClass, Outcome, Tally, figures, judge, misses
from reviewkit.model import Lexicon
from reviewkit.read import read_lexicon
from reviewkit.read.transcript import parse_transcript
from reviewkit.report.document import document
from reviewkit.review import review
from tests.corpus import FIXTURES, load_classes
from tests.forms import FORMS, render

# A call's place is known no better than its words': in blocks only to some ten seconds.
_CALL_SLACK_S: Mapping[str, float] = {"blocks": 12.0}
_NAMES = {
    "reviews": "reviews",
    "rows_right": "rows right",
    "intervals_found": "intervals found",
    "edge_error_median_s": "edge error, median (s)",
    "edge_error_p90_s": "edge error, 90 % (s)",
    "length_error_p90_s": "length error, 90 % (s)",
    "range_holds_truth": "range holds truth",
    "range_width_median_s": "range width, median (s)",
    "drift_slope": "drift slope",
    "drift_called": "drift called",
    "on_time_kept": "on time kept",
    "points_right": "points right",
    "missing_points": "missing points",
    "late_points": "late points",
    "added": "added intervals",
    "no_breathing": "no breathing",
    "time_calls": "time calls",
    "wrong_calls": "wrong time calls",
    "broken_promises": "broken promises",
}


@dataclass(frozen=True, slots=True)
class Result:
    """What came of one class in one form; ``problem`` when there was no review at all."""

    name: str
    form: str
    outcome: Outcome | None
    problem: str = ""


@cache
def _lexicon() -> Lexicon:
    return read_lexicon()


def review_class(labelled: LabelledClass, form: str) -> Outcome:
    """Render a class, review it with its plan and set the review beside the truth."""
    transcript = parse_transcript(FORMS[form].file_name, render(labelled, form).encode())
    found = document(review(transcript, labelled.plan, _lexicon()))
    slack_s = _CALL_SLACK_S.get(form)
    return judge(labelled, found, call_slack_s=slack_s) if slack_s else judge(labelled, found)


def _result(job: tuple[LabelledClass, str]) -> Result:
    labelled, form = job
    try:
        return Result(labelled.name, form, review_class(labelled, form))
    except Exception as error:  # One class that fails must not hide the others.
        return Result(labelled.name, form, None, f"{type(error).__name__}: {error}")


def review_all(
    classes: Iterable[LabelledClass], forms: Sequence[str], *, processes: int = 1
) -> list[Result]:
    """Review every class in every form; the order of results is that of classes, then forms."""
    jobs = [(labelled, form) for labelled in classes for form in forms]
    if processes == 1:
        return [_result(job) for job in jobs]
    with ProcessPoolExecutor(processes) as pool:
        return list(pool.map(_result, jobs))


def pooled(results: Iterable[Result], form: str) -> Figures:
    """Pool the reviews of one form; a class without a review counts for nothing here."""
    return figures([one.outcome for one in results if one.form == form and one.outcome])


def _table(by_form: Mapping[str, Figures]) -> Table:
    table = Table("", *by_form, box=None, pad_edge=False)
    for key, name in _NAMES.items():
        table.add_row(name, *(_cell(getattr(one, key)) for one in by_form.values()))
    for kind in next(iter(by_form.values())).flags:
        name = kind.replace("_", " ")
        table.add_row(name, *(_cell(one.flags[kind]) for one in by_form.values()))
    return table


def _cell(value: float | Tally | None) -> str:
    """Write a tally as found/true, false alarms, precision and recall."""
    if isinstance(value, Tally):
        rates = f"P {_cell(value.precision)} R {_cell(value.recall)}"
        return f"{value.hits}/{value.hits + value.missed} +{value.extra}  {rates}"
    if value is None:
        return "-"
    return str(value) if isinstance(value, int) else f"{value:.3f}"


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        description="Review the labelled classes and print how right the reviews are."
    )
    parser.add_argument("--classes", type=Path, default=FIXTURES, help="folder of classes")
    parser.add_argument("--forms", default=",".join(FORMS), help=f"of {', '.join(FORMS)}")
    parser.add_argument("--only", default="", help="names of classes, by commas")
    parser.add_argument("--misses", action="store_true", help="name all that came out wrong")
    parser.add_argument("--json", type=Path, help="write the figures to this file as well")
    parser.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    return parser.parse_args()


def main() -> None:
    """Print the figures that the options ask for."""
    options = _arguments()
    forms = options.forms.split(",")
    only = set(filter(None, options.only.split(",")))
    classes = [one for one in load_classes(options.classes) if not only or one.name in only]
    unknown = (only - {one.name for one in classes}) | (set(forms) - set(FORMS))
    if unknown:
        raise SystemExit(f"there is no class or form {', '.join(sorted(unknown))}")
    results = review_all(classes, forms, processes=options.processes)
    by_form = {form: pooled(results, form) for form in forms}
    # Wide enough for all columns, also where nothing is known of the terminal.
    console = Console(width=200, highlight=False, markup=False)
    console.print(_table(by_form))
    for one in results:
        for line in misses(one.outcome) if options.misses and one.outcome else ():
            console.print(f"{one.name}/{one.form} {line}", soft_wrap=True)
        if one.problem:
            console.print(f"{one.name}/{one.form} NO REVIEW: {one.problem}", soft_wrap=True)
    if options.json:
        numbers = {form: asdict(one) for form, one in by_form.items()}
        options.json.write_text(json.dumps(numbers, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
