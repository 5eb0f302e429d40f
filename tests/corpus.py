"""Read folders of labelled classes (``fixtures/README.md`` says what they hold)."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

from reviewkit.evaluate import Anomaly, LabelledClass, SaidLine, TrueInterval
from reviewkit.model import Word
from reviewkit.read import read_plan

__all__ = [
    "FITTED",
    "FIXTURES",
    "LabelledClass",
    "class_folders",
    "is_short",
    "load_class",
    "load_classes",
]

FIXTURES = Path(__file__).parent.parent / "fixtures"
FITTED = Path(__file__).parent.parent / "lexicons" / "en" / "fitted"
# Folders beside the classes: single lines, and classes that nothing is fitted on.
_NO_CLASSES = frozenset({"kept-back", "lines"})
# A folder of classes of a few intervals each, which count like the others.
SHORT = "short"


def class_folders(folder: Path = FIXTURES) -> list[Path]:
    """List the folders of classes, short ones too, by name; every one counts, whole or not."""
    inside = [path for part in (folder, folder / SHORT) if part.is_dir() for path in part.iterdir()]
    return sorted(
        (
            path
            for path in inside
            if path.is_dir()
            and path.name not in _NO_CLASSES | {SHORT}
            and not path.name.startswith((".", "_"))
        ),
        key=lambda path: path.name,
    )


def is_short(name: str) -> bool:
    """Tell whether a class is one of a few intervals."""
    return (FIXTURES / SHORT / name).is_dir()


def load_classes(folder: Path = FIXTURES) -> list[LabelledClass]:
    """Read every labelled class of a folder, by name.

    Raises:
        FileNotFoundError: There is no class at all, or one is not whole.
    """
    folders = class_folders(folder)
    if not folders:
        raise FileNotFoundError(f"no labelled classes in {folder}")
    return [load_class(path) for path in folders]


def load_class(folder: Path) -> LabelledClass:
    """Read one labelled class.

    Raises:
        FileNotFoundError: One of its files is missing.
    """
    truth = json.loads((folder / "truth.json").read_text("utf-8"))
    return LabelledClass(
        name=folder.name,
        plan=read_plan(folder / "plan.csv"),
        words=tuple(_word(row) for row in _rows(folder / "words.csv")),
        said=tuple(_said(row) for row in _rows(folder / "said.csv")),
        intervals=tuple(_interval(one) for one in truth["intervals"]),
        anomalies=tuple(_anomaly(one) for one in truth["anomalies"]),
        length_ms=_ms(truth["length_s"]),
    )


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _ms(seconds: float) -> int:
    return round(1000 * seconds)


def _word(row: dict[str, str]) -> Word:
    return Word(row["word"], row["word"], int(row["start_ms"]), int(row["end_ms"]), 0)


def _said(row: dict[str, str]) -> SaidLine:
    return SaidLine(
        start_ms=int(row["start_ms"]),
        end_ms=int(row["end_ms"]),
        text=row["text"],
        labels=_parts(row["labels"]),
        points=_parts(row["points"]),
        claimed_left=float(row["claimed_left"]) if row["claimed_left"] else None,
    )


def _parts(text: str) -> tuple[str, ...]:
    return tuple(part for part in text.split(";") if part)


def _interval(one: dict[str, Any]) -> TrueInterval:
    return TrueInterval(
        plan_row=one["plan_row"],
        move=one["move"],
        block=one["block"],
        round=one["round"],
        side=one["side"],
        planned_ms=None if one["planned_s"] is None else _ms(one["planned_s"]),
        start_ms=_ms(one["start_s"]),
        end_ms=_ms(one["end_s"]),
        status=one["status"],
        planned_move=one["planned_move"],
    )


def _anomaly(one: dict[str, Any]) -> Anomaly:
    return Anomaly(one["kind"], {key: value for key, value in one.items() if key != "kind"})
