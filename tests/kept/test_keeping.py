from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from reviewkit.kept.keeping import TYPED, document_of, own_lexicon, to_keep
from reviewkit.model import MovedEdge
from reviewkit.read.plan_text import read_plan_text
from reviewkit.read.transcript import parse_transcript
from reviewkit.review import review
from reviewkit.store import Missing, NewReview, Store, open_store
from tests.web.visitor import PLAN, TALK

NOW = datetime(2024, 5, 7, 18, 30, tzinfo=UTC)


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return open_store(tmp_path)


@pytest.fixture
def kept(store: Store) -> NewReview:
    transcript = parse_transcript("talk.vtt", TALK.encode())
    made = review(transcript, read_plan_text(TYPED, PLAN), own_lexicon(store))
    return to_keep(made, TALK.encode(), NOW)


def test_a_review_is_kept_with_what_it_was_made_from(kept: NewReview) -> None:
    assert (kept.title, kept.transcript_name, kept.plan_name) == ("Small class", "talk.vtt", "")
    assert kept.transcript == TALK.encode()
    document = json.loads(kept.document or "")
    assert document["scores"]["timing"]["value"] == pytest.approx(kept.scores["timing"], abs=1e-3)


def test_a_document_that_is_kept_is_not_made_anew(store: Store, kept: NewReview) -> None:
    assert document_of(store, store.add_review(replace(kept, document="{}"))) == "{}"


def test_a_review_of_an_older_program_gets_the_document_it_would_have(
    store: Store, kept: NewReview
) -> None:
    review_id = store.add_review(replace(kept, document=None))
    made = document_of(store, review_id)
    assert made == kept.document
    assert store.get_document(review_id) == made


def test_a_document_made_anew_knows_the_corrections(store: Store, kept: NewReview) -> None:
    review_id = store.add_review(kept)
    first = json.loads(kept.document or "")["intervals"][0]["id"]
    store.add_correction(review_id, MovedEdge(first, "end", 61_000))
    assert json.loads(document_of(store, review_id))["intervals"][0]["end_s"] == 61
    assert store.get_review(review_id).scores != kept.scores


def test_a_document_of_nothing_is_missing(store: Store) -> None:
    with pytest.raises(Missing):
        document_of(store, 7)
