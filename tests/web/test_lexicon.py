from __future__ import annotations

import pytest

from reviewkit.store import Store
from tests.web.visitor import PLAN, Visitor, words

LINE = "sit between your heels,hips-back-hinge"


def test_there_are_no_own_lines_at_first(page: Visitor) -> None:
    assert "Nothing of your own yet." in words(page.get("/lexicon"))


def test_a_line_is_added_shown_and_deleted(page: Visitor, store: Store) -> None:
    assert page.post("/lexicon", {"file": "point_lines.csv", "line": LINE}).status_code == 303
    (kept,) = store.list_lexicon_lines()
    assert (kept.file, kept.line) == ("point_lines.csv", LINE)
    assert "“sit between your heels” is a way of" in words(page.get("/lexicon"))
    assert page.post(f"/lexicon/{kept.id}/delete").status_code == 303
    assert not store.list_lexicon_lines()
    assert page.post(f"/lexicon/{kept.id}/delete").status_code == 404


def test_lines_are_told_in_words(page: Visitor) -> None:
    entry = 'own-tray = { kind = "form", say = "tray up", phrases = ["like a waiter"] }'
    for file, line in (
        ("point_lines.csv", LINE),
        ("points.toml", entry),
        ("point_lines.csv", "spill nothing,own-tray"),
        ("point_lines.csv", "knees over your toes,-"),
        ("breathing.csv", "let it all go,out"),
    ):
        assert page.post("/lexicon", {"file": file, "line": line}).status_code == 303
    shown = words(page.get("/lexicon"))
    assert "“sit between your heels” is a way of saying “hips go back”" in shown
    assert "“tray up”, a point of your own: “like a waiter”" in shown
    assert "“spill nothing” is a way of saying “tray up”" in shown
    assert "“knees over your toes” does not count any more" in shown
    assert "let it all go,out in breathing.csv" in shown


def test_words_and_what_they_stand_for_make_a_line(page: Visitor, store: Store) -> None:
    fields = {"file": "point_lines.csv", "phrase": "down, then back", "label": "hips-back-hinge"}
    assert page.post("/lexicon", fields).status_code == 303
    assert store.list_lexicon_lines()[0].line == '"down, then back",hips-back-hinge'


@pytest.mark.parametrize(
    ("file", "line", "said"),
    [
        ("none.csv", LINE, "is none of the lexicon's"),
        ("../moves.csv", LINE, "is none of the lexicon's"),
        ("points.toml", LINE, "is not TOML"),
        ("points.toml", 'own-tray = {say = "tray up"}', '"kind" is missing'),
        ("point_lines.csv", "", "needs one line"),
        ("point_lines.csv", f"{LINE}\nmore,hips-back-hinge", "needs one line"),
        ("point_lines.csv", "x" * 501, "needs one line"),
        ("point_lines.csv", f"# {LINE}", "makes it a remark"),
        ("point_lines.csv", "words alone", "has no label"),
        ("point_lines.csv", "sit back,hip-back-hinge", 'did you mean "hips-back-hinge"?'),
        ("motivation.csv", "go,praise,note,more", "one cell too many"),
        ("moves.csv", "Log lift,,no-such-kind", 'pattern "no-such-kind" is not known'),
    ],
)
def test_a_line_that_cannot_be_used_is_said_and_kept_in_its_field(
    page: Visitor, store: Store, file: str, line: str, said: str
) -> None:
    answer = page.post("/lexicon", {"file": file, "line": line})
    assert answer.status_code == 422
    assert said in words(answer)
    assert not store.list_lexicon_lines()


def test_a_line_of_ones_own_counts_in_reviews_already_made(page: Visitor) -> None:
    review_id = page.review(title="Own words")
    address = f"/reviews/{review_id}/files/review.json"
    assert not page.get(address).json()["moves"][0]["breathing"]["count"]
    line = "keep your chest tall,out"
    assert page.post("/lexicon", {"file": "breathing.csv", "line": line}).status_code == 303
    assert page.get(address).json()["moves"][0]["breathing"]["count"]


def test_a_point_of_ones_own_is_heard_in_its_words(page: Visitor) -> None:
    plan = PLAN.replace("chest tall", "zorble the wibbet")
    address = f"/reviews/{page.review(plan_text=plan)}/files/review.json"

    def verdict() -> str:
        points = page.get(address).json()["moves"][0]["points"]
        return str(next(one["verdict"] for one in points if one["point"] == "zorble the wibbet"))

    assert verdict() == "missing"
    said = 'say = "zorble the wibbet", phrases = ["sit back into your heels"]'
    entry = f'own-z = {{ kind = "form", {said} }}'
    assert page.post("/lexicon", {"file": "points.toml", "line": entry}).status_code == 303
    assert verdict() == "said"
