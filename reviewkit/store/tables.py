"""The tables as the newest version has them; ``versions`` is what builds them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import UTC, datetime

from sqlalchemy import (
    BigInteger,
    Boolean,
    Column,
    Dialect,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    TypeDecorator,
    UniqueConstraint,
)


def as_kept(text: str) -> str:
    """Give text as the file can hold it: half a surrogate pair becomes U+FFFD."""
    return text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


class AnyText(TypeDecorator[str]):
    """Text of any characters, none of which stops it from being kept."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: str | None, dialect: Dialect) -> str | None:
        """Give the text as the file can hold it; PostgreSQL's text cannot hold a NUL."""
        kept = None if value is None else as_kept(value)
        return kept.replace("\0", "\ufffd") if kept and dialect.name == "postgresql" else kept


class UtcMoment(TypeDecorator[datetime]):
    """A moment as text in UTC, of one width, so that text sorts as moments do."""

    impl = String
    cache_ok = True

    def process_bind_param(self, value: datetime | None, _dialect: Dialect) -> str | None:
        """Give the moment as text, whatever its time zone."""
        return None if value is None else value.astimezone(UTC).isoformat(timespec="microseconds")

    def process_result_value(self, value: str | None, _dialect: Dialect) -> datetime | None:
        """Give the moment in UTC."""
        return None if value is None else datetime.fromisoformat(value)


class Values(TypeDecorator[Mapping[str, float | None]]):
    """Numbers by name as JSON text, in a file and on a server alike."""

    impl = Text
    cache_ok = True

    def process_bind_param(
        self, value: Mapping[str, float | None] | None, _dialect: Dialect
    ) -> str | None:
        """Give the JSON; a number that is none is refused here, not by whoever reads it."""
        return None if value is None else json.dumps(value, allow_nan=False)

    def process_result_value(
        self, value: str | None, _dialect: Dialect
    ) -> Mapping[str, float | None] | None:
        """Give the numbers."""
        return None if value is None else json.loads(value)


Id = BigInteger().with_variant(Integer(), "sqlite")

METADATA = MetaData()

REVIEWS = Table(
    "reviews",
    METADATA,
    Column("id", Id, primary_key=True),
    Column("title", AnyText, nullable=False),
    Column("made_at", UtcMoment, nullable=False),
    Column("transcript_name", AnyText, nullable=False),
    Column("transcript", LargeBinary, nullable=False),
    Column("plan_name", AnyText, nullable=False),
    Column("plan_text", AnyText, nullable=False),
    Column("is_drafted", Boolean, nullable=False),
    Column("scores", Values, nullable=False),
    Column("picture", AnyText, nullable=False),
    Column("tolerance_ms", Integer),
    Column("program", AnyText, nullable=False),
    Column("document", AnyText),
    # Of all that a review of a batch was made from, so that it is kept once.
    Column("digest", String),
    Index("ix_reviews_digest", "digest", unique=True),
)

PLANS = Table(
    "plans",
    METADATA,
    Column("id", Id, primary_key=True),
    Column("title", AnyText, nullable=False),
    Column("text", AnyText, nullable=False),
    # Of the text: an index over whole plans would keep each of them twice.
    Column("digest", String, nullable=False, unique=True),
    Column("saved_at", UtcMoment, nullable=False),
)

CORRECTIONS = Table(
    "corrections",
    METADATA,
    Column("id", Id, primary_key=True),
    Column(
        "review_id",
        Id,
        ForeignKey("reviews.id", ondelete="CASCADE"),
        nullable=False,
        index=True,
    ),
    Column("made_at", UtcMoment, nullable=False),
    Column("kind", String, nullable=False),
    Column("payload", Text, nullable=False),
)

LEXICON_LINES = Table(
    "lexicon_lines",
    METADATA,
    Column("id", Id, primary_key=True),
    Column("file", AnyText, nullable=False),
    Column("line", AnyText, nullable=False),
    Column("added_at", UtcMoment, nullable=False),
    UniqueConstraint("file", "line"),
)
