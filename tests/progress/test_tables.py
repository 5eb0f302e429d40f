from __future__ import annotations

import csv
import io
import json
import sys

import pandas as pd
import pytest

from reviewkit.cautions import CAUTIONS
from reviewkit.errors import InputError
from reviewkit.progress import tables
from reviewkit.progress.overview import Overview, make_overview
from tests.progress.build import a_record, a_year


@pytest.fixture
def overview() -> Overview:
    return make_overview(a_year([50, None, 70.5]))


def test_the_table_of_classes_reads_back(overview: Overview) -> None:
    rows = [*csv.DictReader(io.StringIO(tables.classes_csv(overview)))]
    assert [row["timing"] for row in rows] == ["50", "", "70.5"]
    assert [row["review"] for row in rows] == ["1", "2", "3"]


def test_a_title_is_no_formula() -> None:
    overview = make_overview([a_record(1, title="=1+2")])
    assert "'=1+2 1" in tables.classes_csv(overview)


def test_parquet_says_what_csv_says(overview: Overview) -> None:
    frame = pd.read_parquet(io.BytesIO(tables.classes_parquet(overview)))
    assert list(frame.columns) == list(tables.CLASS_COLUMNS)
    assert frame["timing"].tolist()[::2] == [50, 70.5]
    assert frame["timing"].isna().tolist() == [False, True, False]
    assert frame["reviewed_at"][0] == overview.classes[0].made_at.replace(microsecond=0)
    points = pd.read_parquet(io.BytesIO(tables.points_parquet(overview)))
    rows = [*csv.DictReader(io.StringIO(tables.points_csv(overview)))]
    assert points["point"].tolist() == [row["point"] for row in rows]
    assert len(rows) == sum(len(one.points) for one in overview.classes)


def test_no_class_makes_tables_of_the_same_kinds() -> None:
    empty = pd.read_parquet(io.BytesIO(tables.classes_parquet(make_overview([]))))
    full = pd.read_parquet(io.BytesIO(tables.classes_parquet(make_overview(a_year([50])))))
    assert empty.dtypes.astype(str).tolist() == full.dtypes.astype(str).tolist()


def test_without_the_library_for_parquet_it_says_what_to_install(
    overview: Overview, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    with pytest.raises(InputError, match=r"pip install 'reviewkit\[parquet\]'"):
        tables.classes_parquet(overview)


def test_the_document_holds_all_of_it(overview: Overview) -> None:
    made = json.loads(tables.progress_json(overview))
    assert made["format"] == "reviewkit.progress/1"
    assert [one["timing"] for one in made["classes"]] == [50, None, 70.5]
    assert {one["chance"] for one in made["trends"]} == {None}
    assert made["still_missing"]
    assert all(one["missing_run"] == 3 for one in made["still_missing"])
    assert made["cautions"] == list(CAUTIONS)
