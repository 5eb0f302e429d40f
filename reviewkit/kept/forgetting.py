"""Which kept class a coach means, and what goes with it when it is forgotten."""

from __future__ import annotations

from dataclasses import dataclass

from reviewkit.errors import InputError, ReviewkitError
from reviewkit.model import PlanRow
from reviewkit.read.plan_text import read_plan_text
from reviewkit.report.wording import clean, count
from reviewkit.store import ReviewSummary, SavedPlan, Store

BEYOND_REACH = (
    "Reports and tables that were written or downloaded, and the transcript's own file, "
    "stay where they are; so do backups and copies of the data folder.",
    "A page that is open keeps the class in memory until it is stopped.",
    "Words of your own on the page are kept, whichever class they came from.",
)

ON_SERVER = (
    "the rows are deleted; what its server keeps in pages, logs and backups is in the hands of "
    "whoever runs it"
)
STILL_OPEN = (
    "another program has the file open, so its log may still hold the class; stop that program, "
    "which empties the log as it closes"
)


@dataclass(frozen=True, slots=True)
class Forgettable:
    """A kept class and what of it is in the store.

    Attributes:
        review: The class.
        transcript_bytes: Size of its transcript.
        corrections: How many it has.
        plans: Saved plans of the same intervals that no other kept review was made with.
    """

    review: ReviewSummary
    transcript_bytes: int
    corrections: int
    plans: tuple[SavedPlan, ...]


def find_class(store: Store, which: str) -> ReviewSummary:
    """Find the kept class of that number or title; a number wins over a title.

    Raises:
        InputError: There is none, or the title is that of several; says their numbers.
    """
    kept = store.list_reviews()
    wanted = _plain(which)
    found = [one for one in kept if str(one.id) == wanted]
    found = found or [one for one in kept if _plain(one.title) == wanted]
    if len(found) > 1:
        numbers = ", ".join(str(one.id) for one in sorted(found, key=lambda one: one.id))
        raise InputError(which, None, f"is the title of several classes; say which: {numbers}")
    if not found:
        raise InputError(which, None, "is neither the number nor the title of a kept class")
    return found[0]


def look_up(store: Store, review: ReviewSummary) -> Forgettable:
    """Find all that would go with a class."""
    stored = store.get_review(review.id)
    rows = plan_rows(stored.plan_text)
    others = {
        plan_rows(store.get_review(one.id).plan_text)
        for one in store.list_reviews()
        if one.id != review.id
    }
    saved = store.list_plans() if rows and rows not in others else ()
    return Forgettable(
        review,
        len(stored.transcript),
        len(store.list_corrections(review.id)),
        tuple(one for one in saved if plan_rows(one.text) == rows),
    )


def say_found(found: Forgettable) -> str:
    """Say which class it is and what of it is kept."""
    review = found.review
    return (
        f"Review {review.id}: {clean(review.title)}, made {review.made_at.astimezone():%Y-%m-%d}, "
        f"from {clean(review.transcript_name)} ({found.transcript_bytes:,} bytes), "
        f"with {count(found.corrections, 'correction')}."
    )


def what_is_left(store: Store) -> str:
    """Say what may be left of a class where forgetting it was not clean."""
    return ON_SERVER if store.is_server else STILL_OPEN


def say_forgotten(found: Forgettable, store: Store, *, is_plan_gone: bool) -> str:
    """Say what was deleted."""
    how = "Deleted" if store.is_server else "Deleted and overwritten"
    gone = (
        f"{how}: review {found.review.id} with its transcript, its copy of the "
        f"plan, its document and {count(found.corrections, 'correction')}"
    )
    if is_plan_gone:
        return f"{gone}, and {count(len(found.plans), 'saved plan')}."
    return f"{gone}. Its saved plan stays." if found.plans else f"{gone}."


def _plain(text: str) -> str:
    return " ".join(text.split()).casefold()


def plan_rows(plan_text: str) -> tuple[PlanRow, ...]:
    """Give the intervals of a plan however it was typed; none where it cannot be read."""
    try:
        return read_plan_text("plan", plan_text).rows
    except ReviewkitError:
        return ()
