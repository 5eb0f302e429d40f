"""What a coach sends to have a class reviewed, and whether it can be used."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeVar

from reviewkit.errors import InputError, ReviewkitError
from reviewkit.kept.keeping import TYPED
from reviewkit.model import Plan, Transcript
from reviewkit.read.plan import parse_plan
from reviewkit.read.transcript import parse_transcript
from reviewkit.store import Missing, Store
from reviewkit.web.uploads import Form, SentFile

PlanFrom = Literal["file", "typed", "earlier", "none"]
PLAN_FROM: tuple[PlanFrom, ...] = ("file", "typed", "earlier", "none")
MAX_TITLE_CHARS = 120
# More would take hours, and twelve hours without a pause hold less.
MOST_WORDS = 150_000

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Sending:
    """Everything that was entered on the start page, kept so that none of it is lost."""

    title: str = ""
    transcript: SentFile | None = None
    plan_from: PlanFrom = "file"
    plan_file: SentFile | None = None
    plan_text: str = ""
    plan_id: int | None = None


@dataclass(frozen=True, slots=True)
class Checked:
    """What was sent, read; or what is wrong with it, by the field it concerns."""

    transcript: Transcript | None
    plan: Plan | None
    problems: Mapping[str, str] = field(default_factory=dict)


def sending_of(form: Form, kept: Sending | None) -> Sending:
    """Take what was entered from a form; files sent before stay when none is chosen anew."""
    kept = kept or Sending()
    return Sending(
        title=" ".join(form.text("title").split())[:MAX_TITLE_CHARS],
        transcript=form.file("transcript") or kept.transcript,
        plan_from=_plan_from(form),
        plan_file=form.file("plan_file") or kept.plan_file,
        plan_text=form.text("plan_text"),
        plan_id=int(form.text("plan_id")) if form.text("plan_id").isdecimal() else None,
    )


def _plan_from(form: Form) -> PlanFrom:
    """Tell which plan is meant; by what was given where the form does not say."""
    for one in PLAN_FROM:
        if form.text("plan_from") == one:
            return one
    if form.file("plan_file"):
        return "file"
    if form.text("plan_text").strip():
        return "typed"
    return "earlier" if form.text("plan_id") else "none"


def check(sending: Sending, store: Store) -> Checked:
    """Read transcript and plan, and word what is wrong as the command line does."""
    problems: dict[str, str] = {}
    transcript = _tried("transcript", problems, lambda: _transcript(sending))
    plan = _tried("plan", problems, lambda: _plan(sending, store))
    return Checked(transcript, plan, problems)


def _tried(name: str, problems: dict[str, str], read: Callable[[], T]) -> T | None:
    try:
        return read()
    except ReviewkitError as error:
        problems[name] = str(error)
        return None


def _transcript(sending: Sending) -> Transcript:
    if sending.transcript is None:
        raise InputError("transcript", None, "none was chosen; choose a file with timed talk")
    transcript = parse_transcript(sending.transcript.name, sending.transcript.checked())
    _check_length(transcript)
    return transcript


def _check_length(transcript: Transcript) -> None:
    """Refuse what cannot be one class; the readers do so for times beyond twelve hours."""
    words = sum(len(cue.text.split()) for cue in transcript.cues)
    if words > MOST_WORDS:
        problem = f"holds {words:,} words, more than anybody says in one class; choose its captions"
        raise InputError(transcript.source, None, f"{problem} alone")


def talk_length_ms(transcript: Transcript) -> int:
    """Give the moment at which the last caption ends, or starts where no end is known."""
    return max((cue.end_ms or cue.start_ms for cue in transcript.cues), default=0)


def _plan(sending: Sending, store: Store) -> Plan | None:
    if sending.plan_from == "none":
        return None
    if sending.plan_from == "typed":
        return typed_plan(sending.plan_text)
    if sending.plan_from == "earlier":
        return _earlier(sending.plan_id, store)
    if sending.plan_file is None:
        raise InputError(
            "plan", None, "no file was chosen; choose one, type the plan, or go without"
        )
    return parse_plan(sending.plan_file.name, sending.plan_file.checked())


def _earlier(plan_id: int | None, store: Store) -> Plan:
    if plan_id is None:
        raise InputError("plan", None, "none was picked; pick one of the earlier plans")
    try:
        saved = store.get_plan(plan_id)
    except Missing:
        raise InputError("plan", None, "is not kept any more; pick another") from None
    return parse_plan(saved.title, saved.text.encode())


def typed_plan(text: str) -> Plan:
    """Read a plan from what was typed or pasted, plain text or a table.

    Raises:
        ReviewkitError: It is no plan, or every problem in its lines.
    """
    return parse_plan(TYPED, text.encode())
