from __future__ import annotations

import time
from collections.abc import Callable, Generator, Iterable
from threading import Event

import pytest
from httpx import Response

from reviewkit.batch.jobs import Job, Outcome, review_job
from reviewkit.store import Store
from reviewkit.web import batches
from reviewkit.web.jobs import FAULT
from reviewkit.web.many import say_left
from tests.batch.classes import PLAN, captions
from tests.web.visitor import HERE, PATIENCE_S, SECRET, Visitor, words

SOME = (
    ("monday.vtt", captions("monday")),
    ("tuesday.vtt", captions("tuesday")),
    ("plan.csv", PLAN.encode()),
)
BAD = ("bad.vtt", b"nothing")
IDLE = ("sunday-plan.csv", PLAN.encode())


@pytest.fixture(autouse=True)
def _in_one_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """Review in this process: what other processes do is tested elsewhere."""
    monkeypatch.setattr(batches, "review_on_cores", here)


def here(jobs: Iterable[Job], _cores: int) -> Generator[Outcome, None, None]:
    yield from map(review_job, jobs)


def send(page: Visitor, *files: tuple[str, bytes]) -> Response:
    sent = [("classes", file) for file in files]
    return page.request(
        "POST", "/batch", data={"form_token": SECRET}, files=sent, headers={"Origin": HERE}
    )


def wait(page: Visitor, sent: Response, is_there: Callable[[str], bool] | None = None) -> str:
    """Wait until a batch is over, or says what is waited for; give its address."""
    assert sent.status_code == 303, sent.text
    address = sent.headers["location"]
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until:
        state = page.get(f"{address}/state").json()
        if is_there(state["told"]) if is_there else state["isOver"]:
            return str(address)
        time.sleep(0.02)
    raise AssertionError("the batch took too long")


def test_many_classes_are_paired_reviewed_kept_and_summed_up(page: Visitor, store: Store) -> None:
    address = wait(page, send(page, *SOME, BAD, IDLE))
    shown = page.get(address)
    said = words(shown)
    assert "2 classes reviewed, 1 left out" in said
    assert "bad.vtt: no timed speech" in said
    assert "sunday-plan.csv" in said
    assert "Intervals that run long or short" in said
    kept = {one.title: one for one in store.list_reviews()}
    assert set(kept) == {"monday", "tuesday"}
    for one in kept.values():
        assert f'href="/reviews/{one.id}"' in shown.text
        assert one.plan_name == "plan.csv"
        assert page.get(f"/reviews/{one.id}").status_code == 200


def test_the_summary_can_be_taken_away(page: Visitor) -> None:
    address = wait(page, send(page, *SOME))
    taken = page.get(f"{address}/files/summary.json")
    assert taken.json()["classes"] == 2
    assert 'filename="library-summary.json"' in taken.headers["content-disposition"]
    assert "<title>Review: the library" in page.get(f"{address}/files/summary.html").text
    assert page.get(f"{address}/files/other.json").status_code == 404


def test_the_same_files_sent_again_are_not_reviewed_again(page: Visitor, store: Store) -> None:
    wait(page, send(page, *SOME))
    monday = next(one for one in store.list_reviews() if one.title == "monday")
    store.forget(monday.id)
    address = wait(page, send(page, *SOME, ("friday.vtt", captions("friday"))))
    said = words(page.get(address))
    assert "tuesday plan.csv done before" in said
    assert "monday plan.csv reviewed" in said
    assert sorted(one.title for one in store.list_reviews()) == ["friday", "monday", "tuesday"]


def test_it_tells_how_far_it_is_and_stops_with_what_is_done_kept(
    page: Visitor, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    is_let_go = Event()

    def slow(jobs: Iterable[Job], cores: int) -> Generator[Outcome, None, None]:
        for number, outcome in enumerate(here(jobs, cores)):
            assert number == 0 or is_let_go.wait(PATIENCE_S)
            yield outcome

    monkeypatch.setattr(batches, "review_on_cores", slow)
    sent = send(page, *SOME, ("w.vtt", captions("w")))
    address = wait(page, sent, lambda told: told.startswith("1 of 3 classes done; "))
    shown = page.get(address)
    assert "left" in words(shown)
    assert '<noscript><meta http-equiv="refresh" content="5"></noscript>' in shown.text
    assert "monday plan.csv reviewed tuesday plan.csv to do" in words(shown)
    assert page.get(f"{address}/files/summary.md").status_code == 404
    page.post(f"{address}/stop")
    is_let_go.set()
    assert "Stopped. What was reviewed by then is kept" in words(page.get(address))
    monkeypatch.setattr(batches, "review_on_cores", here)
    wait(page, send(page, *SOME))
    assert {one.title for one in store.list_reviews()} >= {"monday", "tuesday"}
    assert words(page.get(address)).count("not done") >= 1


@pytest.mark.parametrize(
    ("files", "said"),
    [
        ((), "No file was chosen"),
        ((IDLE, ("film.mp4", b"x")), "film.mp4: is neither a transcript nor a plan"),
        ((("a.vtt", b"1"), ("a.vtt", b"2")), "a.vtt: was sent twice"),
    ],
)
def test_without_a_class_it_says_what_is_wrong(
    page: Visitor, store: Store, files: tuple[tuple[str, bytes], ...], said: str
) -> None:
    answer = send(page, *files)
    assert answer.status_code == 422
    assert said in words(answer)
    assert not store.list_reviews()


def test_own_words_that_do_not_fit_stop_it_at_once(page: Visitor, store: Store) -> None:
    store.add_lexicon_line("moves.csv", "nothing that can be read")
    said = words(page.get(wait(page, send(page, *SOME))))
    assert "The batch stopped." in said
    assert "moves.csv" in said


def test_a_fault_of_the_program_is_said_and_not_shown(
    page: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("inside")

    monkeypatch.setattr(batches, "run_batch", fail)
    answer = page.get(wait(page, send(page, *SOME)))
    assert FAULT in words(answer)
    assert "inside" not in answer.text


def test_too_many_files_are_refused(page: Visitor) -> None:
    answer = send(page, *(("a.vtt", b"x"),) * 501)
    assert answer.status_code == 413
    assert "more than 500 files at once" in words(answer)


def test_a_file_too_large_leaves_out_its_class_alone(page: Visitor) -> None:
    address = wait(page, send(page, ("long.vtt", captions() + b"\n" * 20_000_000), *SOME))
    said = words(page.get(address))
    assert "long.vtt: is larger than 20 MB" in said
    assert "2 classes reviewed, 1 left out" in said


@pytest.mark.parametrize("address", ["/batch/none", "/batch/none/state"])
def test_a_batch_that_is_not_known_any_more_is_said(page: Visitor, address: str) -> None:
    answer = page.get(address)
    assert answer.status_code == 410
    assert "only the rest is reviewed" in words(answer)


def test_a_batch_without_the_pages_token_is_refused(page: Visitor) -> None:
    files = [("classes", one) for one in SOME]
    answer = page.request("POST", "/batch", files=files, headers={"Origin": HERE})
    assert answer.status_code == 403


@pytest.mark.parametrize(
    ("left_s", "said"), [(3, "less than a minute left"), (61, "about 2 minutes left")]
)
def test_time_left_is_said_no_finer_than_it_is_known(left_s: float, said: str) -> None:
    assert say_left(left_s) == said
