from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import asdict, replace
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reviewkit.errors import InputError
from reviewkit.model import Correction, NamedMove, SetAside
from reviewkit.store import (
    FILE_NAME,
    Missing,
    NewReview,
    ReviewSummary,
    Store,
    StoredReview,
    default_folder,
    open_store,
)
from tests.store.build import A_CORRECTION, A_REVIEW, corrections, raw_texts, reviews, texts, titled

TOO_LARGE = 2**63

# Each example waits for the disk, which takes as long as it takes.
on_disk = settings(deadline=None, max_examples=30)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with open_store(tmp_path) as store:
        yield store


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """A store for many examples, each of which looks at its own rows alone."""
    with open_store(tmp_path_factory.mktemp("shared")) as store:
        yield store


def titles(store: Store) -> list[str]:
    return [one.title for one in store.list_reviews()]


# --- opening -------------------------------------------------------------------------------


def test_the_default_folder_is_the_users_own() -> None:
    folder = default_folder()
    assert folder.is_absolute()
    assert "reviewkit" in folder.parts


def test_a_new_store_is_empty(tmp_path: Path) -> None:
    folder = tmp_path / "not" / "there" / "yet?# 100%"
    with open_store(folder) as store:
        assert store.list_reviews() == ()
        assert store.list_plans() == ()
        assert store.list_lexicon_lines() == ()
        assert store.path == folder / "reviewkit.sqlite3"


def test_what_is_kept_is_there_when_opened_again(tmp_path: Path) -> None:
    with open_store(tmp_path) as store:
        review_id = store.add_review(A_REVIEW)
    with open_store(tmp_path) as store:
        assert store.get_review(review_id).title == A_REVIEW.title
    assert [path.name for path in tmp_path.iterdir()] == [FILE_NAME]


# --- reviews -------------------------------------------------------------------------------


@on_disk
@given(reviews)
def test_a_review_comes_back_as_it_was(shared: Store, review: NewReview) -> None:
    review_id = shared.add_review(review)
    stored = shared.get_review(review_id)
    assert stored == StoredReview(**asdict(review), id=review_id)
    assert stored.made_at.utcoffset() == timedelta(0)


@on_disk
@given(reviews)
def test_a_summary_says_what_its_review_says(shared: Store, review: NewReview) -> None:
    review_id = shared.add_review(review)
    (summary,) = (one for one in shared.list_reviews() if one.id == review_id)
    stored = asdict(shared.get_review(review_id))
    assert summary == ReviewSummary(**{name: stored[name] for name in asdict(summary)})


@on_disk
@given(raw_texts)
def test_half_a_character_does_not_stop_a_title(shared: Store, title: str) -> None:
    review_id = shared.add_review(replace(A_REVIEW, title=title))
    kept = shared.get_review(review_id).title
    shared.rename_review(review_id, kept)
    assert shared.get_review(review_id).title == kept
    assert len(kept.encode("utf-16")) == len(title.encode("utf-16", "surrogatepass"))


def test_the_newest_review_comes_first(store: Store) -> None:
    for title, day in [("second", 8), ("third", 9), ("first", 7), ("third too", 9)]:
        store.add_review(titled(title, day))
    assert titles(store) == ["third too", "third", "second", "first"]


def test_the_newest_comes_first_whatever_its_time_zone(store: Store) -> None:
    east, west = timezone(timedelta(hours=12)), timezone(timedelta(hours=-9))
    store.add_review(replace(titled("later"), made_at=datetime(2024, 5, 7, 1, tzinfo=west)))
    store.add_review(replace(titled("earlier"), made_at=datetime(2024, 5, 7, 20, tzinfo=east)))
    assert titles(store) == ["later", "earlier"]


def test_a_stored_review_is_added_as_a_new_one(store: Store) -> None:
    first = store.add_review(A_REVIEW)
    second = store.add_review(store.get_review(first))
    assert first != second
    assert store.get_review(second) == replace(store.get_review(first), id=second)


@on_disk
@given(texts)
def test_a_review_is_renamed(shared: Store, title: str) -> None:
    review_id, other_id = shared.add_review(A_REVIEW), shared.add_review(A_REVIEW)
    before = shared.get_review(review_id)
    shared.rename_review(review_id, title)
    assert shared.get_review(review_id) == replace(before, title=title)
    assert shared.get_review(other_id).title == A_REVIEW.title


def test_a_review_judged_anew_shows_its_new_scores_in_the_list(store: Store) -> None:
    review_id, other_id = store.add_review(A_REVIEW), store.add_review(A_REVIEW)
    before, scores = store.get_review(review_id), {"timing": 90.0, "cues": None}
    store.refresh_review(review_id, scores, "<svg/>", "{}")
    after = replace(before, scores=scores, picture="<svg/>", document="{}")
    assert store.get_review(review_id) == after
    assert store.get_review(other_id).scores == A_REVIEW.scores


def test_a_document_is_kept_until_it_is_outdated(store: Store) -> None:
    review_id = store.add_review(replace(A_REVIEW, document='{"at": 1}'))
    other_id = store.add_review(replace(A_REVIEW, document='{"at": 2}'))
    assert store.get_document(review_id) == '{"at": 1}'
    correction_id = store.add_correction(review_id, A_CORRECTION)
    assert store.get_document(review_id) is None
    store.refresh_review(review_id, {}, "", '{"at": 3}')
    assert store.get_document(review_id) == '{"at": 3}'
    store.undo_correction(review_id, correction_id)
    assert store.get_document(review_id) is None
    assert store.get_document(other_id) == '{"at": 2}'


def test_a_deleted_review_takes_its_corrections_along(store: Store) -> None:
    gone, kept = store.add_review(titled("gone")), store.add_review(titled("kept"))
    store.add_correction(gone, A_CORRECTION)
    store.add_correction(kept, A_CORRECTION)
    store.forget(gone)
    assert titles(store) == ["kept"]
    with closing(sqlite3.connect(store.path)) as file:
        assert file.execute("SELECT review_id FROM corrections").fetchall() == [(kept,)]


def test_the_id_of_a_deleted_review_is_not_given_again(store: Store) -> None:
    gone = store.add_review(A_REVIEW)
    store.forget(gone)
    assert store.add_review(A_REVIEW) > gone


@pytest.mark.parametrize("score", [float("nan"), float("inf")])
def test_a_score_that_is_no_number_is_refused(store: Store, score: float) -> None:
    with pytest.raises(Exception, match="JSON compliant"):
        store.add_review(replace(A_REVIEW, scores={"timing": score}))
    assert store.list_reviews() == ()


# --- corrections ---------------------------------------------------------------------------


@on_disk
@given(st.lists(corrections, max_size=5))
def test_corrections_come_back_in_order(shared: Store, made: list[Correction]) -> None:
    review_id = shared.add_review(A_REVIEW)
    before = datetime.now(UTC)
    ids = [shared.add_correction(review_id, one) for one in made]
    stored = shared.list_corrections(review_id)
    assert [one.correction for one in stored] == made
    assert [one.id for one in stored] == ids
    assert all(before <= one.made_at <= datetime.now(UTC) for one in stored)


def test_one_correction_is_undone_and_the_others_stay(store: Store) -> None:
    review_id = store.add_review(A_REVIEW)
    made = (A_CORRECTION, NamedMove("2", "Row"), A_CORRECTION)
    ids = [store.add_correction(review_id, one) for one in made]
    store.undo_correction(review_id, ids[1])
    assert [one.id for one in store.list_corrections(review_id)] == [ids[0], ids[2]]


def test_a_correction_is_undone_by_its_own_review_alone(store: Store) -> None:
    mine, other = store.add_review(A_REVIEW), store.add_review(A_REVIEW)
    correction_id = store.add_correction(mine, A_CORRECTION)
    with pytest.raises(Missing, match=f"no correction {correction_id}"):
        store.undo_correction(other, correction_id)
    assert len(store.list_corrections(mine)) == 1


def test_the_id_of_an_undone_correction_is_not_given_again(store: Store) -> None:
    review_id = store.add_review(A_REVIEW)
    undone = store.add_correction(review_id, A_CORRECTION)
    store.undo_correction(review_id, undone)
    assert store.add_correction(review_id, SetAside("length 1", "")) > undone


def test_a_correction_of_a_kind_not_known_here_is_named(store: Store) -> None:
    review_id = store.add_review(A_REVIEW)
    store.add_correction(review_id, A_CORRECTION)
    with closing(sqlite3.connect(store.path)) as file, file:
        file.execute("UPDATE corrections SET kind = 'moved mountain'")
    with pytest.raises(InputError, match=r"sqlite3: 'moved mountain' .* update Reviewkit"):
        store.list_corrections(review_id)


# --- plans ---------------------------------------------------------------------------------


@on_disk
@given(texts, texts)
def test_a_plan_comes_back_as_it_was(shared: Store, title: str, text: str) -> None:
    plan_id = shared.save_plan(title, text)
    plan = shared.get_plan(plan_id)
    assert (plan.id, plan.title, plan.text) == (plan_id, title, text)
    assert shared.list_plans()[0] == plan


@on_disk
@given(raw_texts)
def test_the_same_plan_is_kept_once_whatever_is_in_it(shared: Store, text: str) -> None:
    assert shared.save_plan("a", text) == shared.save_plan("b", text)


def test_a_plan_saved_again_comes_first_under_its_later_title(store: Store) -> None:
    first = store.save_plan("Tuesday", "move,work\nSquat,45s\n")
    second = store.save_plan("Friday", "move,work\nRow,45s\n")
    assert store.save_plan("Every Tuesday", "move,work\nSquat,45s\n") == first
    assert [(one.id, one.title) for one in store.list_plans()] == [
        (first, "Every Tuesday"),
        (second, "Friday"),
    ]


def test_a_deleted_plan_is_gone_and_may_be_saved_anew(store: Store) -> None:
    gone = store.save_plan("Tuesday", "move,work\nSquat,45s\n")
    store.delete_plan(gone)
    assert store.list_plans() == ()
    assert store.save_plan("Tuesday", "move,work\nSquat,45s\n") > gone


# --- the coach's own lexicon lines ---------------------------------------------------------


@on_disk
@given(texts, texts)
def test_a_lexicon_line_comes_back_as_it_was(shared: Store, file: str, line: str) -> None:
    line_id = shared.add_lexicon_line(file, line)
    (kept,) = (one for one in shared.list_lexicon_lines() if one.id == line_id)
    assert (kept.file, kept.line) == (file, line)


def test_the_same_lexicon_line_is_kept_once_in_each_file(store: Store) -> None:
    line_id = store.add_lexicon_line("points.csv", "sit between your heels")
    assert store.add_lexicon_line("points.csv", "sit between your heels") == line_id
    other_id = store.add_lexicon_line("sides.csv", "sit between your heels")
    assert [one.id for one in store.list_lexicon_lines()] == [line_id, other_id]


def test_a_deleted_lexicon_line_is_gone(store: Store) -> None:
    gone = store.add_lexicon_line("points.csv", "a")
    store.add_lexicon_line("points.csv", "b")
    store.delete_lexicon_line(gone)
    assert [one.line for one in store.list_lexicon_lines()] == ["b"]


# --- what is not there ---------------------------------------------------------------------


@pytest.mark.parametrize("row_id", [0, 2, -1, TOO_LARGE, -TOO_LARGE - 1, 10**30])
@pytest.mark.parametrize(
    ("what", "ask"),
    [
        pytest.param("review", Store.get_review, id="get_review"),
        pytest.param("review", Store.forget, id="forget"),
        pytest.param("review", Store.list_corrections, id="list_corrections"),
        pytest.param("plan", Store.get_plan, id="get_plan"),
        pytest.param("plan", Store.delete_plan, id="delete_plan"),
        pytest.param("lexicon line", Store.delete_lexicon_line, id="delete_lexicon_line"),
        pytest.param("review", lambda store, at: store.rename_review(at, "x"), id="rename_review"),
        pytest.param(
            "review", lambda store, at: store.refresh_review(at, {}, "", ""), id="refresh"
        ),
        pytest.param("review", lambda store, at: store.get_document(at), id="document"),
        pytest.param(
            "review", lambda store, at: store.add_correction(at, A_CORRECTION), id="add_correction"
        ),
        pytest.param("review", lambda store, at: store.undo_correction(at, 1), id="undo_in_review"),
        pytest.param("correction", lambda store, at: store.undo_correction(1, at), id="undo"),
    ],
)
def test_what_is_not_there_is_missing(
    store: Store, what: str, ask: Callable[[Store, int], object], row_id: int
) -> None:
    review_id = store.add_review(A_REVIEW)
    store.add_correction(review_id, A_CORRECTION)
    store.save_plan("Tuesday", "move,work\nSquat,45s\n")
    store.add_lexicon_line("points.csv", "a")
    with pytest.raises(Missing) as caught:
        ask(store, row_id)
    assert (caught.value.what, caught.value.id) == (what, row_id)
    assert len(store.list_corrections(review_id)) == 1
    assert len(store.list_plans()) == len(store.list_lexicon_lines()) == 1
