"""One class of a batch: what is given, what comes out, and the work between, anywhere.

All of it can be sent to another process or machine; nothing here touches a file but the
program's own word lists.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from functools import lru_cache
from importlib.metadata import version
from pathlib import PurePosixPath

from reviewkit.errors import ReviewkitError
from reviewkit.kept.keeping import to_keep
from reviewkit.model import Lexicon
from reviewkit.prepared import prepared_lexicon
from reviewkit.read.lexicon import LexiconFile
from reviewkit.read.plan import parse_plan
from reviewkit.read.transcript import parse_transcript
from reviewkit.report.document import document
from reviewkit.review import review
from reviewkit.store import NewReview


@dataclass(frozen=True, slots=True)
class Given:
    """A file: its name without folders, and its bytes."""

    name: str
    data: bytes


def holds_speech(given: Given) -> bool:
    """Tell by its content whether a file is a transcript."""
    try:
        parse_transcript(given.name, given.data)
    except ReviewkitError:
        return False
    return True


@dataclass(frozen=True, slots=True)
class Settings:
    """What holds for every class of a batch.

    Attributes:
        tolerance_ms: How far a length may be off; the program's own rule when None.
        files: Word lists of the coach's own.
        lines: Single lines of the coach's own, each with the name of its list.
    """

    tolerance_ms: int | None = None
    files: tuple[LexiconFile, ...] = ()
    lines: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Job:
    """A class to review; ``name`` is its own within the batch, folders joined by ``/``."""

    name: str
    transcript: Given
    plan: Given | None
    settings: Settings

    def digest(self) -> str:
        """Give a SHA-256 in hex of all that the outcome depends on, the program included."""
        parts = [self.name, version("reviewkit"), repr(self.settings), self.transcript.name]
        parts += [self.plan.name] if self.plan else []
        whole = hashlib.sha256(json.dumps(parts).encode())
        for given in (self.transcript, self.plan):
            whole.update(hashlib.sha256(given.data if given else b"").digest())
        return whole.hexdigest()


@dataclass(frozen=True, slots=True)
class Reviewed:
    """A class that was reviewed: its document as JSON text, and the review to be kept."""

    name: str
    digest: str
    text: str
    kept: NewReview


@dataclass(frozen=True, slots=True)
class Failed:
    """A class that could not be reviewed, and why: one sentence without a full stop."""

    name: str
    reason: str


Outcome = Reviewed | Failed


def review_job(job: Job) -> Outcome:
    """Review one class of a batch; whatever is wrong with it is the outcome, never an error."""
    try:
        return _reviewed(job)
    except ReviewkitError as error:
        return Failed(job.name, "; ".join(str(error).splitlines()))
    except Exception as error:
        # The other classes are not to suffer for one.
        fault = f"the review stopped at a fault of the program: {type(error).__name__}: {error}"
        return Failed(job.name, " ".join(fault.split()))


def _reviewed(job: Job) -> Reviewed:
    settings = job.settings
    made = review(
        parse_transcript(job.transcript.name, job.transcript.data),
        parse_plan(job.plan.name, job.plan.data) if job.plan else None,
        lexicon_of(settings),
        tolerance_ms=settings.tolerance_ms,
    )
    digest = job.digest()
    title = made.heard.plan.title or PurePosixPath(job.name).name
    kept = to_keep(
        made, job.transcript.data, datetime.now(UTC),
        title=title, tolerance_ms=settings.tolerance_ms,
    )  # fmt: skip
    whole = {**document(made), "batch": {"name": job.name, "digest": digest}}
    text = json.dumps(whole, indent=2, ensure_ascii=False, allow_nan=False)
    # Half a surrogate pair is legal in a JSON transcript and in no UTF-8 file.
    text = text.encode("utf-8", "replace").decode("utf-8") + "\n"
    return Reviewed(job.name, digest, text, replace(kept, digest=digest))


@lru_cache(maxsize=2)
def lexicon_of(settings: Settings) -> Lexicon:
    """Read the word lists once for all the classes that a process reviews."""
    return prepared_lexicon(own_files=settings.files, own_lines=settings.lines)
