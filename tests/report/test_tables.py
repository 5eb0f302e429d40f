from __future__ import annotations

import csv
import io

from reviewkit.report.document import document
from reviewkit.report.tables import INTERVAL_COLUMNS, MOVE_COLUMNS, intervals_csv, moves_csv
from tests.report.hostile import hostile_review
from tests.report.sample import sample_review


def read(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_intervals_read_back() -> None:
    rows = read(intervals_csv(document(sample_review())))
    assert list(rows[0]) == list(INTERVAL_COLUMNS)
    assert [row["plan_row"] for row in rows] == [*"12345678", "", "9", "10", "11", "12", "13"]
    assert (rows[1]["length_s"], rows[1]["drift_s"], rows[1]["timing"]) == ("57.3", "17.3", "long")
    assert rows[-1]["status"] == "skipped"
    assert rows[-1]["start_s"] == rows[-1]["words"] == ""


def test_points_read_back_with_their_words() -> None:
    rows = read(moves_csv(document(sample_review())))
    assert list(rows[0]) == list(MOVE_COLUMNS)
    (tall,) = (row for row in rows if row["point"] == "chest tall")
    assert (tall["verdict"], tall["first_said_s"], tall["words"]) == ("late", "551.0", "tall chest")
    assert {row["kind"] for row in rows if not row["point"]} == {"breathing", "option"}


def test_no_cell_is_a_formula() -> None:
    plain = document(sample_review())
    plain["intervals"][0]["move"] = "=1+1"
    assert read(intervals_csv(plain))[0]["move"] == "'=1+1"


def test_hostile_words_stay_in_their_cell() -> None:
    plain = document(hostile_review())
    assert len(read(intervals_csv(plain))) == len(plain["intervals"])


def test_nothing_heard_still_has_a_head() -> None:
    plain = document(sample_review()) | {"intervals": [], "moves": []}
    assert intervals_csv(plain).strip() == ",".join(INTERVAL_COLUMNS)
    assert moves_csv(plain).strip() == ",".join(MOVE_COLUMNS)
