from __future__ import annotations

from dataclasses import dataclass

from hypothesis import given
from hypothesis import strategies as st

from reviewkit.language.overlap import overlaps


@dataclass(frozen=True)
class Words:
    first: int
    last: int


stretches = st.tuples(st.integers(0, 20), st.integers(0, 6)).map(lambda at: Words(at[0], sum(at)))


@given(stretches, stretches)
def test_stretches_overlap_where_they_have_a_word_in_common(one: Words, other: Words) -> None:
    common = set(range(one.first, one.last + 1)) & set(range(other.first, other.last + 1))
    assert overlaps(one, other) == bool(common)
