from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest

from reviewkit.errors import InputError
from reviewkit.kept.reopen import open_kept, reopen_review
from reviewkit.model import MovedEdge, Review, SetAside
from reviewkit.read import bundled_class, read_lexicon, read_plan, read_transcript
from reviewkit.report.document import document, document_text
from reviewkit.report.plan_files import plan_text
from reviewkit.review import conclude, hear_class
from reviewkit.store import NewReview, open_store

CORRECTIONS = (MovedEdge("i2", "end", 75_040), SetAside("length i3", "meant"))
FOLDER = bundled_class()


@pytest.fixture(scope="module")
def made() -> Review:
    transcript = read_transcript(FOLDER / "captions.vtt")
    plan = read_plan(FOLDER / "plan.csv")
    heard = hear_class(transcript, plan, read_lexicon(), tolerance_ms=4_000)
    return conclude(transcript, heard, CORRECTIONS, tolerance_ms=4_000)


def without_names(review: Review) -> dict[str, Any]:
    """Give the document without the plan's title, which a table has no place for."""
    return document(review) | {"plan": None, "class": None, "made_from": None}


def test_a_saved_document_is_enough_to_make_the_review_again(made: Review, tmp_path: Path) -> None:
    saved = tmp_path / "review.json"
    saved.write_text(document_text(made), "utf-8")
    again = reopen_review(str(saved))
    assert document(again) == document(made)
    assert again.corrections == CORRECTIONS
    assert document(reopen_review(str(tmp_path))) == document(made)


def test_a_kept_review_is_found_by_its_number(made: Review, tmp_path: Path) -> None:
    with open_store(tmp_path) as store:
        number = store.add_review(
            NewReview(
                title="Evening",
                made_at=datetime.now(UTC),
                transcript_name="captions.vtt",
                transcript=(FOLDER / "captions.vtt").read_bytes(),
                plan_name="plan.csv",
                plan_text=plan_text(made.heard.plan),
                is_drafted=False,
                scores={},
                picture="",
                tolerance_ms=4_000,
                program="0",
            )
        )
        for one in CORRECTIONS:
            store.add_correction(number, one)
    again = reopen_review(str(number), data=tmp_path)
    assert without_names(again) == without_names(made)
    with pytest.raises(InputError, match="there is no review 7"):
        reopen_review("7", data=tmp_path)


def test_what_it_was_made_from_is_in_the_schema(made: Review) -> None:
    schema = json.loads(
        (Path(__file__).parents[2] / "reviewkit/report/review.schema.json").read_text("utf-8")
    )
    jsonschema.validate(json.loads(document_text(made)), schema)


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        ({"format": "another/1"}, "is no review"),
        ({"made_from": None}, "does not hold what it was made from"),
        ({"made_from": {}}, "is damaged"),
        ({"made_from": []}, "is damaged"),
    ],
)
def test_other_documents_are_refused(
    made: Review, tmp_path: Path, change: dict[str, Any], problem: str
) -> None:
    saved = tmp_path / "review.json"
    saved.write_text(json.dumps(document(made) | change), "utf-8")
    with pytest.raises(InputError, match=problem):
        reopen_review(str(saved))


@pytest.mark.parametrize(
    "change",
    [
        {"tolerance_s": "much"},
        {"tolerance_s": float("inf")},
        {"corrections": [{"kind": "none of ours"}]},
        {"corrections": ["moved"]},
        {"corrections": [{"kind": "moved edge", "interval": "i1", "edge": "end", "at_ms": "x"}]},
        {"plan": {"name": "plan.csv"}},
        {"plan": {"name": 3, "text": "Squat 40s"}},
        {"transcript": {"name": "a.vtt", "base64": "***"}},
        {"transcript": None},
    ],
)
def test_damage_is_told(made: Review, tmp_path: Path, change: dict[str, Any]) -> None:
    saved = tmp_path / "review.json"
    plain = document(made)
    saved.write_text(json.dumps(plain | {"made_from": plain["made_from"] | change}), "utf-8")
    with pytest.raises(InputError, match=r"is damaged; review the class again"):
        reopen_review(str(saved))


def test_no_store_is_made_where_none_was(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="keeps no reviews yet"):
        open_kept(tmp_path)
    assert not list(tmp_path.iterdir())
    with pytest.raises(InputError, match="there is no such file"):
        reopen_review(str(tmp_path / "none.json"))
