"""Reviews to keep, made by hand or at random, and corrections of every kind."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from hypothesis import strategies as st

from reviewkit.model import Correction, DoneInterval, MarkedPoint, MovedEdge, NamedMove, SetAside
from reviewkit.store import NewReview

A_REVIEW = NewReview(
    title="Tuesday circuit",
    made_at=datetime(2024, 5, 7, 18, 30, 0, 125, tzinfo=UTC),
    transcript_name="tuesday.vtt",
    transcript=b"WEBVTT\n\n00:01.000 --> 00:02.000\nAnd go\n",
    plan_name="tuesday.csv",
    plan_text="move,work\nSquat,45s\n",
    is_drafted=False,
    scores={"timing": 81.5, "cues": 60.0, "density": None, "breathing": 0.0},
    picture='<svg xmlns="http://www.w3.org/2000/svg"/>',
    tolerance_ms=4000,
    program="0.1.0",
)

A_CORRECTION = MovedEdge("3", "end", 65_000)


def titled(title: str, day: int = 7) -> NewReview:
    """Give a review of that title, made on a day of May."""
    return replace(A_REVIEW, title=title, made_at=A_REVIEW.made_at.replace(day=day))


# Text with every character there is, NUL and line ends among them.
texts = st.text()
# What JSON can smuggle in: halves of surrogate pairs too.
raw_texts = st.text(st.characters())
moments = st.datetimes(
    min_value=datetime(1, 1, 3),
    max_value=datetime(9999, 12, 29),
    timezones=st.timezones() | st.just(UTC),
    allow_imaginary=False,
)
scores = st.dictionaries(
    st.sampled_from(["timing", "cues", "density", "breathing"]),
    st.none() | st.floats(allow_nan=False, allow_infinity=False),
)
reviews = st.builds(
    NewReview,
    title=texts,
    made_at=moments,
    transcript_name=texts,
    transcript=st.binary(),
    plan_name=texts,
    plan_text=texts,
    is_drafted=st.booleans(),
    scores=scores,
    picture=texts,
    tolerance_ms=st.none() | st.integers(0, 10**9),
    program=texts,
    document=st.none() | texts,
)
corrections: st.SearchStrategy[Correction] = st.one_of(
    st.builds(MovedEdge, raw_texts, st.sampled_from(["start", "end"]), st.integers()),
    st.builds(DoneInterval, raw_texts, st.integers(), st.integers()),
    st.builds(NamedMove, raw_texts, raw_texts),
    st.builds(
        MarkedPoint,
        raw_texts,
        raw_texts,
        st.sampled_from(["said", "missing"]),
        st.none() | st.integers(),
        raw_texts,
    ),
    st.builds(SetAside, raw_texts, raw_texts),
)
