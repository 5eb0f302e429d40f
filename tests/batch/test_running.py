from __future__ import annotations

from collections.abc import Generator, Iterable
from dataclasses import replace
from functools import partial
from pathlib import Path

import pytest

from reviewkit.batch.folders import Library, pair_folder, read_job
from reviewkit.batch.jobs import Failed, Job, Outcome, Reviewed, Settings
from reviewkit.batch.running import Ran, Told, run_batch
from reviewkit.store import NewReview
from tests.batch.classes import captions, write_classes
from tests.store.build import A_REVIEW


class Desk:
    """Reviews in no time, remembers what it was given, and keeps what it is told to."""

    def __init__(self, *, stop_after: int | None = None) -> None:
        self.worked: list[str] = []
        self.told: list[tuple[str, Told]] = []
        self.kept: dict[str, NewReview] = {}
        self.stop_after = stop_after

    def work(self, jobs: Iterable[Job]) -> Generator[Outcome, None, None]:
        for job in jobs:
            if len(self.worked) == self.stop_after:
                raise KeyboardInterrupt
            self.worked.append(job.name)
            if b"WEBVTT" in job.transcript.data:
                text = f'{{"batch": {{"digest": "{job.digest()}"}}}}'
                yield Reviewed(job.name, job.digest(), text, replace(A_REVIEW, digest=job.digest()))
            else:
                yield Failed(job.name, "is no transcript")

    def has_digest(self, digest: str) -> bool:
        return digest in self.kept

    def add_review_once(self, review: NewReview) -> int:
        assert review.digest is not None
        self.kept.setdefault(review.digest, review)
        return 1

    def run(self, folder: Path, out: Path, *, is_kept: bool = False) -> Ran:
        read = partial(read_job, folder, settings=Settings())
        return run_batch(
            pair_folder(folder), read, self.work, Library(out),
            self if is_kept else None, lambda name, told, _: self.told.append((name, told)),
        )  # fmt: skip


def test_a_bad_class_stops_no_other(tmp_path: Path) -> None:
    folder = write_classes(tmp_path / "in", "a", "c")
    (folder / "b.vtt").write_text("nothing")
    (folder / "d.vtt").mkdir()
    desk = Desk()
    ran = desk.run(folder, tmp_path / "out")
    assert ran == Ran(("a", "c"), 2, (Failed("b", "is no transcript"),))
    assert desk.told == [("a", "reviewed"), ("b", "failed"), ("c", "reviewed")]


def test_what_is_done_and_unchanged_is_left_as_it_is(tmp_path: Path) -> None:
    folder = write_classes(tmp_path / "in", "a", "b")
    Desk().run(folder, tmp_path / "out")
    (folder / "b.vtt").write_bytes(captions("anew"))
    write_classes(folder, "c")
    desk = Desk()
    ran = desk.run(folder, tmp_path / "out")
    assert desk.worked == ["b", "c"]
    assert (ran.done, ran.reviewed) == (("a", "b", "c"), 2)


def test_a_stopped_batch_goes_on_where_it_was(tmp_path: Path) -> None:
    folder = write_classes(tmp_path / "in", "a", "b", "c")
    with pytest.raises(KeyboardInterrupt):
        Desk(stop_after=2).run(folder, tmp_path / "out")
    assert {one.name for one in (tmp_path / "out" / "classes").iterdir()} == {"a.json", "b.json"}
    desk = Desk()
    assert len(desk.run(folder, tmp_path / "out").done) == 3
    assert desk.worked == ["c"]


def test_a_class_gone_bad_loses_its_old_document(tmp_path: Path) -> None:
    folder = write_classes(tmp_path / "in", "a", "b")
    Desk().run(folder, tmp_path / "out")
    (folder / "a.vtt").write_text("nothing")
    ran = Desk().run(folder, tmp_path / "out")
    assert ran.done == ("b",)
    assert not (tmp_path / "out" / "classes" / "a.json").exists()


def test_a_class_is_done_once_it_is_in_both_places(tmp_path: Path) -> None:
    folder = write_classes(tmp_path / "in", "a", "b")
    desk = Desk()
    desk.run(folder, tmp_path / "out")
    desk.run(folder, tmp_path / "out", is_kept=True)
    assert desk.worked == ["a", "b"] * 2
    assert len(desk.kept) == 2
    desk.run(folder, tmp_path / "out", is_kept=True)
    assert desk.worked == ["a", "b"] * 2
