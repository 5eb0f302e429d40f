from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.model import MoveEvidence, Talk, Word
from reviewkit.placing.own_moves import SAID_AGAIN, RowLook, learn_moves

MOVES = ("Squat", "Row", "Plank")


def talk_of(words: Sequence[str]) -> Talk:
    made = tuple(Word(text, text, 500 * at, 500 * at + 400, 0) for at, text in enumerate(words))
    return Talk(made, "words", 0, 500 * len(made))


def learned(rows: Sequence[tuple[int, str]], between: str = "") -> npt.NDArray[np.float64]:
    """Give what is learned of every word, shape (moves, words), from rows of moves and talk."""
    words: list[str] = []
    looks = []
    for move, said in rows:
        words += between.split()
        looks.append(RowLook(move, slice(len(words), len(words) + len(said.split()))))
        words += said.split()
    nothing = ((0.0,) * len(words),) * len(MOVES)
    evidence = MoveEvidence(MOVES, nothing, nothing, (0,) * len(words), (0.0,) * len(words))
    return np.array(learn_moves(evidence, looks, talk_of(words)).cued)


def far() -> str:
    """Talk long enough for a word to count anew."""
    return " ".join(f"word{at}" for at in range(SAID_AGAIN))


def test_one_row_teaches_nothing() -> None:
    assert not learned([(0, "chest proud and sit")]).any()


def test_words_of_a_move_tell_its_next_row() -> None:
    odds = learned([(0, "chest proud"), (1, "shoulder blades"), (0, "chest proud")], far())
    assert odds[0, -2:].min() > 0 > odds[1, -2:].max()


def test_a_row_taken_for_another_does_not_confirm_itself() -> None:
    """Both moves are done as planned, then in each other's place, which nobody noticed."""
    odds = learned(
        [(0, "chest proud"), (1, "shoulder blades"), (0, "shoulder blades"), (1, "chest proud")],
        far(),
    )
    taken_for_squat, taken_for_row = slice(-SAID_AGAIN - 4, -SAID_AGAIN - 2), slice(-2, None)
    assert (odds[1, taken_for_squat] > odds[0, taken_for_squat]).all()
    assert (odds[0, taken_for_row] > odds[1, taken_for_row]).all()


def test_forms_of_a_word_are_one() -> None:
    odds = learned([(0, "knee"), (1, "elbow"), (0, "knees")], far())
    assert odds[0, -1] > 0


def test_a_word_said_again_at_once_counts_once() -> None:
    odds = learned([(0, "proud"), (1, "blades"), (0, "proud proud proud")], far())
    assert odds[0, -3] > 0
    assert not odds[:, -2:].any()


def test_talk_between_rows_is_weighed_too() -> None:
    odds = learned([(0, "proud"), (1, "blades")], f"{far()} proud")
    assert odds[0, 0] == pytest.approx(odds[1, 0])
    assert odds[0, -2] > odds[1, -2]


SAID = st.lists(
    st.tuples(
        st.integers(0, len(MOVES) - 1),
        st.lists(
            st.sampled_from(["knees", "chest", "floor", "push", "heel", "and"]), max_size=8
        ).map(" ".join),
    ),
    max_size=6,
)


@given(SAID)
def test_a_word_never_speaks_for_all_moves_or_against_all(rows: list[tuple[int, str]]) -> None:
    odds = learned(rows)
    if odds.size:
        assert (odds.max(axis=0) >= -1e-9).all()
        assert (odds.min(axis=0) <= 1e-9).all()


@given(SAID, st.integers(0, len(MOVES) - 1))
def test_what_a_row_was_taken_for_changes_nothing_at_its_own_words(
    rows: list[tuple[int, str]], instead: int
) -> None:
    said = "lift and lower"
    one, other = learned([*rows, (0, said)]), learned([*rows, (instead, said)])
    assert one[:, -3:] == pytest.approx(other[:, -3:])
