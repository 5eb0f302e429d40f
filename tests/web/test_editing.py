from __future__ import annotations

import io
import zipfile

import pytest

from reviewkit.edits import FILES, RATES, edit_files, make_edits
from reviewkit.kept.keeping import review_again
from reviewkit.kept.looking_back import own_words_of
from reviewkit.model import Review, SetAside
from reviewkit.store import Store
from tests.web.visitor import PLAN, TALK, Visitor, words

# The first interval runs on to 1:02, and its point is missing.
LONG_TALK = TALK.replace("00:00:46.000 --> 00:00:51.000", "00:01:00.000 --> 00:01:03.000").replace(
    " and keep your chest tall", ""
)


def kept_review(store: Store, review_id: int) -> Review:
    return review_again(store, store.get_review(review_id), ())


def long_review(page: Visitor, **fields: str) -> int:
    address = page.wait(page.send(LONG_TALK, **{"plan_text": PLAN, **fields}))
    return int(address.removeprefix("/reviews/"))


@pytest.mark.parametrize("rate", ["25", "29.97-drop"])
def test_the_files_are_those_of_the_command(page: Visitor, store: Store, rate: str) -> None:
    review_id = long_review(page)
    review = kept_review(store, review_id)
    own = own_words_of(store, review.transcript)
    made = edit_files(make_edits(review, rate=RATES[rate], own=own))
    answer = page.get(f"/reviews/{review_id}/edit/edit.zip?rate={rate}")
    assert answer.headers["content-type"] == "application/zip"
    with zipfile.ZipFile(io.BytesIO(answer.content)) as archive:
        assert {name: archive.read(name).decode() for name in archive.namelist()} == made
    for name in ("cuts.csv", "markers.edl", "after-cuts/captions.vtt"):
        alone = page.get(f"/reviews/{review_id}/edit/{name}?rate={rate}")
        assert alone.content.decode() == made[name]


def test_a_file_is_named_after_its_class(page: Visitor) -> None:
    answer = page.get(f"/reviews/{page.review(title='Quayside')}/edit/after-cuts/captions.srt")
    assert answer.headers["content-type"] == "application/x-subrip; charset=utf-8"
    assert 'filename="quayside-after-cuts-captions.srt"' in answer.headers["content-disposition"]


def test_the_screen_lists_what_to_do_and_every_file(page: Visitor) -> None:
    review_id = long_review(page)
    screen = page.get(f"/reviews/{review_id}")
    text = words(screen)
    assert "Squat at 0:1" in text
    assert "Squat: chest tall (not said)" in text
    for name in FILES:
        assert f'formaction="/reviews/{review_id}/edit/{name}"' in screen.text


def test_what_was_set_aside_is_not_taken_into_the_edit(page: Visitor, store: Store) -> None:
    review_id = long_review(page)
    address = f"/reviews/{review_id}/edit/cuts.csv"
    assert "Squat" in page.get(address).text
    interval = kept_review(store, review_id).heard.intervals[0]
    store.add_correction(review_id, SetAside(f"length {interval.id}", "we agreed on it"))
    assert "Squat" not in page.get(address).text


def test_words_of_another_class_are_offered_until_it_is_forgotten(page: Visitor) -> None:
    other, review_id = page.review(title="Sunday"), long_review(page)
    address = f"/reviews/{review_id}/edit/record.csv"
    assert "Sunday" in page.get(address).text
    page.post(f"/reviews/{other}/forget")
    assert "Sunday" not in page.get(address).text


@pytest.mark.parametrize("name", ["edits.exe", "after-cuts", "../review.md", "cuts.csv/"])
def test_there_are_no_other_files(page: Visitor, name: str) -> None:
    assert page.get(f"/reviews/{page.review()}/edit/{name}").status_code == 404


def test_an_unknown_rate_is_one_sentence(page: Visitor) -> None:
    answer = page.get(f"/reviews/{page.review()}/edit/cuts.csv?rate=23")
    assert answer.status_code == 422
    assert "no frame rate is called" in words(answer)
