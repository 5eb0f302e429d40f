"""Many classes at once: their files sent together, their progress, and the library summary."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass
from http import HTTPStatus

from fastapi import APIRouter, HTTPException
from fastapi.responses import JSONResponse, RedirectResponse, Response

from reviewkit.batch.pairing import Pair, Pairing
from reviewkit.batch.sections import Section, facts, headline, sections
from reviewkit.batch.sent import pair_sent
from reviewkit.batch.writing import summary_files
from reviewkit.report.wording import clean, count
from reviewkit.web.batches import Batch, BatchStep, ClassOver
from reviewkit.web.files import KINDS, saved_as
from reviewkit.web.state import PageState
from reviewkit.web.uploads import (
    MAX_MANY_FILES,
    MAX_SENT_BYTES,
    MAX_TRANSCRIPT_BYTES,
    Form,
    SentForm,
)

FORGOTTEN = (
    "This batch is not known any more. What was reviewed is among your reviews; send the files "
    "again, and only the rest is reviewed."
)
NO_FILE = "No file was chosen; choose the transcripts and plans of your classes"
NO_TALK = "None of these files is a timed transcript"
NO_SUMMARY = "There is no such file, or not yet."
FILES = (
    ("summary.html", "Page to read and keep (HTML)"),
    ("summary.md", "Notes (Markdown)"),
    ("summary.json", "All of it for other programs (JSON)"),
)
SAID: dict[BatchStep, str] = {
    "waiting": "Another batch is to be done before it",
    "reviewing": "Reviewing",
    "summing": "Summing up the library",
    "done": "All classes are done",
    "stopped": "Stopped. What was reviewed by then is kept; send the files again to go on",
    "failed": "The batch stopped",
}


@dataclass(frozen=True, slots=True)
class ClassRow:
    """A class of a batch in words; ``address`` leads to its review, None where there is none."""

    name: str
    plan: str
    told: str
    address: str | None
    is_left_out: bool


@dataclass(frozen=True, slots=True)
class BatchView:
    """A batch in words: what the screen shows of it as it stands."""

    id: str
    title: str
    told: str
    done: int
    classes: int
    is_over: bool
    rows: tuple[ClassRow, ...]
    failed: list[tuple[str, str]]
    unused: list[tuple[str, str]]
    problem: str


def router(state: PageState) -> APIRouter:
    """Give the routes of batches."""
    routes = APIRouter()

    @routes.get("/batch")
    def start() -> Response:
        """Show the form, and the batches since the program was started."""
        return _start(state)

    @routes.post("/batch")
    def send(form: SentForm) -> Response:
        """Begin a batch; where there is no class at all, say what is wrong with the files."""
        return _sent(state, form)

    @routes.get("/batch/{batch_id}")
    def show(batch_id: str) -> Response:
        """Show how far it is, and in the end the summary."""
        return _screen(state, known(state, batch_id))

    @routes.get("/batch/{batch_id}/state")
    def tell(batch_id: str) -> Response:
        """Tell how far it is, with the part of the screen that shows it."""
        view = batch_view(known(state, batch_id))
        part = state.screens.get_template("batch_so_far.html").render(view=view)
        return JSONResponse({"told": view.told, "isOver": view.is_over, "part": part})

    @routes.post("/batch/{batch_id}/stop")
    def stop(batch_id: str) -> Response:
        """Stop it; what is done stays."""
        state.batches.stop(known(state, batch_id).id)
        return RedirectResponse(f"/batch/{batch_id}", HTTPStatus.SEE_OTHER)

    @routes.get("/batch/{batch_id}/files/{name}")
    def take(batch_id: str, name: str) -> Response:
        """Send one file of the summary, for saving."""
        return _file(known(state, batch_id), name)

    return routes


def known(state: PageState, batch_id: str) -> Batch:
    """Find a batch.

    Raises:
        HTTPException: It is not known, as after a new start of the program.
    """
    batch = state.batches.find(batch_id)
    if batch is None:
        raise HTTPException(HTTPStatus.GONE, FORGOTTEN)
    return batch


def _start(state: PageState, problems: tuple[str, ...] = ()) -> Response:
    return state.render(
        "batch.html",
        status=HTTPStatus.UNPROCESSABLE_ENTITY if problems else HTTPStatus.OK,
        batches=[batch_view(one) for one in state.batches.list_all()],
        problems={"classes": "\n".join(problems)} if problems else {},
        most_files=MAX_MANY_FILES,
        most_mb=MAX_TRANSCRIPT_BYTES // 1_000_000,
        most_sent_mb=MAX_SENT_BYTES // 1_000_000,
    )


def _sent(state: PageState, form: Form) -> Response:
    sent = form.many.get("classes", [])
    if not sent:
        return _start(state, (NO_FILE,))
    pairing, files = pair_sent(sent)
    if not pairing.pairs:
        refused = [f"{one.path}: {one.reason}" for one in (*pairing.refused, *pairing.unused)]
        return _start(state, (NO_TALK, *refused))
    batch = state.batches.start(pairing, files)
    return RedirectResponse(f"/batch/{batch.id}", HTTPStatus.SEE_OTHER)


def _screen(state: PageState, batch: Batch) -> Response:
    shown: tuple[Section, ...] = ()
    if batch.summary:
        failed, unused = batch.failed(), batch.unused()
        shown = tuple(sections(batch.summary, failed, unused))
    return state.render(
        "batch_screen.html",
        view=batch_view(batch),
        headline=headline(batch.summary, batch.failed()) if batch.summary else "",
        facts=facts(batch.summary) if batch.summary else (),
        sections=shown,
        files=FILES,
    )


def batch_view(batch: Batch) -> BatchView:
    """Put a batch into words."""
    over = batch.classes_over()
    return BatchView(
        batch.id,
        _title(batch.pairing),
        _told(batch),
        len(over),
        len(batch.pairing.pairs),
        batch.is_over,
        tuple(_row(pair, over.get(pair.name), batch) for pair in batch.pairing.pairs),
        batch.failed(),
        batch.unused(),
        batch.problem,
    )


def _title(pairing: Pairing) -> str:
    first = clean(pairing.pairs[0].name)
    rest = len(pairing.pairs) - 1
    return f"{first} and {count(rest, 'other class', 'other classes')}" if rest else first


def _told(batch: Batch) -> str:
    if batch.step != "reviewing":
        return SAID[batch.step]
    over = batch.classes_over().values()
    told = f"{len(over)} of {count(len(batch.pairing.pairs), 'class', 'classes')} done"
    left_out = sum(one.told == "failed" for one in over)
    if left_out:
        told += f", {left_out} of them left out"
    left_s = batch.left_s(time.monotonic())
    return (
        f"{told}; {say_left(left_s)}" if left_s is not None else f"{told}; the first take longest"
    )


def say_left(left_s: float) -> str:
    """Say how long is left, no more exactly than it can be known."""
    if left_s < 60:
        return "less than a minute left"
    return f"about {count(math.ceil(left_s / 60), 'minute')} left"


def _row(pair: Pair, over: ClassOver | None, batch: Batch) -> ClassRow:
    plan = pair.plan.name if pair.plan else "drafted from the talk"
    name = clean(pair.name)
    if over is None:
        return ClassRow(name, clean(plan), "not done" if batch.is_over else "to do", None, False)
    if over.told == "failed":
        return ClassRow(name, clean(plan), "left out", None, True)
    address = None if over.review_id is None else f"/reviews/{over.review_id}"
    return ClassRow(name, clean(plan), over.told, address, False)


def _file(batch: Batch, name: str) -> Response:
    if batch.summary is None or name not in dict(FILES):
        raise HTTPException(HTTPStatus.NOT_FOUND, NO_SUMMARY)
    made = summary_files(batch.summary, batch.failed(), batch.unused())
    return Response(
        made[name].encode(),
        media_type=f"{KINDS[name.rsplit('.', 1)[-1]]}; charset=utf-8",
        headers={"content-disposition": saved_as("library", name)},
    )
