from __future__ import annotations

import csv
import io

import pytest

from reviewkit.model import SetAside
from reviewkit.store import Store
from tests.web.visitor import Visitor, visit


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("review.html", "text/html"),
        ("review.md", "text/markdown"),
        ("review.json", "application/json"),
        ("intervals.csv", "text/csv"),
        ("moves.csv", "text/csv"),
    ],
)
def test_every_file_of_the_report_can_be_taken_away(page: Visitor, name: str, kind: str) -> None:
    review_id = page.review(title="Café 5 / «late»")
    answer = page.get(f"/reviews/{review_id}/files/{name}")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == f"{kind}; charset=utf-8"
    saved_as = answer.headers["content-disposition"]
    assert saved_as.startswith(f'attachment; filename="cafe-5-late-{name}"')
    assert "caf%C3%A9-5-late" in saved_as
    assert answer.content


def test_files_hold_the_review_as_the_coach_put_it_right(page: Visitor, store: Store) -> None:
    review_id = page.review()
    address = f"/reviews/{review_id}/files/review.json"
    interval = page.get(address).json()["intervals"][0]
    store.add_correction(review_id, SetAside(f"length {interval['id']}", "music stopped"))
    assert "music stopped" in page.get(address).text


def test_files_are_the_same_after_a_new_start(page: Visitor, store: Store) -> None:
    address = f"/reviews/{page.review()}/files/intervals.csv"
    before = page.get(address).text
    assert len(list(csv.reader(io.StringIO(before)))) == 3
    with visit(store) as later:
        assert later.get(address).text == before


@pytest.mark.parametrize("name", ["review.exe", "review.html.", "Review.html", "picture.svg"])
def test_there_are_no_other_files(page: Visitor, name: str) -> None:
    assert page.get(f"/reviews/{page.review()}/files/{name}").status_code == 404


def test_a_title_never_breaks_the_header(page: Visitor) -> None:
    review_id = page.review(title='a"; filename=evil.exe\r\nX: y')
    answer = page.get(f"/reviews/{review_id}/files/review.md")
    assert 'filename="a-filename-evil-exe-x-y-review.md"' in answer.headers["content-disposition"]
    assert "x" not in answer.headers
