"""Progress for other programs: a line a class, a line a point and class, and all as JSON."""

from __future__ import annotations

import io
import json
from importlib.util import find_spec
from typing import TYPE_CHECKING, Any

from reviewkit.cautions import CAUTIONS
from reviewkit.errors import InputError
from reviewkit.progress.figures import FIGURES, ClassRecord
from reviewkit.progress.overview import Overview, PointHistory
from reviewkit.progress.wording import METHOD
from reviewkit.report.tables import csv_text

if TYPE_CHECKING:
    import pandas as pd

FORMAT = "reviewkit.progress/1"
CLASS_COLUMNS = ("review", "title", "reviewed_at", *(one.key for one in FIGURES))
POINT_COLUMNS = ("review", "move", "point", "kind", "asked_by", "verdict", "missing_run")
NO_PARQUET = "needs one more library; install it with: pip install 'reviewkit[parquet]'"


def classes_csv(overview: Overview) -> str:
    """Write a line a class; scores 0 to 100, shares 0 to 1, times in seconds."""
    return csv_text([_class_row(one) for one in overview.classes], CLASS_COLUMNS)


def points_csv(overview: Overview) -> str:
    """Write a line for every point and class that asked for it."""
    return csv_text(_point_rows(overview), POINT_COLUMNS)


def classes_parquet(overview: Overview) -> bytes:
    """Write ``classes_csv`` as Parquet, numbers and moments as such.

    Raises:
        InputError: The library that writes it is not installed.
    """
    # Loaded here, because only who exports Parquet waits for it.
    import pandas as pd

    frame = pd.DataFrame([_class_row(one) for one in overview.classes], columns=[*CLASS_COLUMNS])
    kinds = {"review": "int64", "title": "string"} | {one.key: "float64" for one in FIGURES}
    moments = pd.to_datetime(frame["reviewed_at"], utc=True)
    frame["reviewed_at"] = moments.astype("datetime64[us, UTC]")
    return _parquet(frame.astype(kinds))


def points_parquet(overview: Overview) -> bytes:
    """Write ``points_csv`` as Parquet; raises as ``classes_parquet`` does."""
    import pandas as pd

    frame = pd.DataFrame(_point_rows(overview), columns=[*POINT_COLUMNS])
    numbers = {"review": "int64", "missing_run": "int64"}
    texts = {name: "string" for name in POINT_COLUMNS if name not in numbers}
    return _parquet(frame.astype(numbers | texts))


def has_parquet() -> bool:
    """Tell whether the library that writes Parquet is installed."""
    return find_spec("pyarrow") is not None


def _parquet(frame: pd.DataFrame) -> bytes:
    file = io.BytesIO()
    try:
        frame.to_parquet(file, index=False, engine="pyarrow")
    except ImportError:
        raise InputError("Parquet", None, NO_PARQUET) from None
    return file.getvalue()


def progress_json(overview: Overview) -> str:
    """Write everything as one JSON document, indented, ending in a line feed."""
    document = {
        "format": FORMAT,
        "classes": [_class_row(one) for one in overview.classes],
        "trends": [
            {
                "figure": one.key,
                "unit": one.unit,
                "better": one.better,
                "classes": overview.trends[one.key].classes,
                "slope_per_class": overview.trends[one.key].slope,
                "direction": overview.trends[one.key].direction,
                "chance": overview.trends[one.key].chance,
                "is_claimed": overview.trends[one.key].is_claimed,
            }
            for one in FIGURES
        ],
        "still_missing": [_history(one) for one in overview.still_missing],
        "points": [_history(one) for one in overview.points],
        "left_out": list(overview.left_out),
        "method": list(METHOD),
        "cautions": list(CAUTIONS),
    }
    text = json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False)
    # Half a surrogate pair is legal in a JSON transcript and in no UTF-8 file.
    return text.encode("utf-8", "replace").decode("utf-8") + "\n"


def _class_row(one: ClassRecord) -> dict[str, Any]:
    made_at = one.made_at.isoformat(timespec="seconds")
    return {"review": one.id, "title": one.title, "reviewed_at": made_at, **one.figures}


def _point_rows(overview: Overview) -> list[dict[str, Any]]:
    return [
        {
            "review": review,
            "move": one.move,
            "point": one.point,
            "kind": one.kind,
            "asked_by": one.asked_by,
            "verdict": verdict,
            "missing_run": one.missing_run,
        }
        for one in overview.points
        for review, verdict in zip(one.classes, one.verdicts, strict=True)
    ]


def _history(one: PointHistory) -> dict[str, Any]:
    return {
        "move": one.move,
        "point": one.point,
        "kind": one.kind,
        "asked_by": one.asked_by,
        "reviews": list(one.classes),
        "verdicts": list(one.verdicts),
        "missing_run": one.missing_run,
    }
