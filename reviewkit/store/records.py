"""What the store takes and gives back, each a frozen record."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from reviewkit.errors import ReviewkitError
from reviewkit.model import Correction


class Missing(ReviewkitError):  # noqa: N818 - the name says what it is about
    """Something asked for by its id that is not in the store, or no longer.

    Attributes:
        what: "review", "correction", "plan" or "lexicon line".
        id: The id that was asked for.
    """

    def __init__(self, what: str, id: int) -> None:  # noqa: A002 - as records call it
        super().__init__(what, id)
        self.what = what
        self.id = id

    def __str__(self) -> str:
        return f"there is no {self.what} {self.id}; it may have been deleted"


@dataclass(frozen=True, slots=True)
class NewReview:
    """A review to keep: what it was made from, and what the list of reviews shows of it.

    Attributes:
        title: What the coach calls the class.
        made_at: When the review was made; comes back in UTC, to the microsecond.
        transcript_name: Name of the file that was given; only ever shown.
        transcript: The file itself.
        plan_name: Name of the plan that was given; empty where it was typed or drafted.
        plan_text: The plan that was used, as plain text with its title and minutes.
        is_drafted: Whether the plan was drafted from the talk.
        scores: 0 to 100 by name ("timing", "cues", "density", "breathing"); None where
            there is nothing to score.
        picture: The class over time, as a small SVG.
        tolerance_ms: How far a length may be off; the program's own rule when None.
        program: Version of the program that made the review.
        document: The review document as JSON text, by which classes are compared without
            being reviewed again; None until someone makes it.
        digest: Of all that it was made from, where the same is never to be kept twice.

    Raises:
        ValueError: ``made_at`` does not say its time zone.
    """

    title: str
    made_at: datetime
    transcript_name: str
    transcript: bytes
    plan_name: str
    plan_text: str
    is_drafted: bool
    scores: dict[str, float | None]
    picture: str
    tolerance_ms: int | None
    program: str
    document: str | None = None
    digest: str | None = None

    def __post_init__(self) -> None:
        if self.made_at.utcoffset() is None:
            raise ValueError(f"{self.made_at} has no time zone")


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredReview(NewReview):
    """A review as kept; ``id`` is never given to another one."""

    id: int


@dataclass(frozen=True, slots=True)
class ReviewSummary:
    """What the list of reviews shows of one; fields as in ``NewReview``."""

    id: int
    title: str
    made_at: datetime
    transcript_name: str
    plan_name: str
    is_drafted: bool
    scores: dict[str, float | None]
    picture: str


@dataclass(frozen=True, slots=True)
class StoredCorrection:
    """A correction as kept; ``made_at`` is in UTC."""

    id: int
    made_at: datetime
    correction: Correction


@dataclass(frozen=True, slots=True)
class SavedPlan:
    """A plan to be picked again; ``saved_at``, in UTC, is when it was last saved."""

    id: int
    title: str
    text: str
    saved_at: datetime


@dataclass(frozen=True, slots=True)
class LexiconLine:
    """A line of the coach's own for a lexicon file; ``added_at`` is in UTC."""

    id: int
    file: str
    line: str
    added_at: datetime
