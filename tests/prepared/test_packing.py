from __future__ import annotations

import os
import pickle
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from reviewkit.marks.wording import index_wordings
from reviewkit.model import Lexicon, Phrase
from reviewkit.once import Made, once
from reviewkit.prepared.packing import UnreadableError, pack, unpack


class Calls:
    """Is written as a call of some function."""

    def __init__(self, function: Callable[..., Any], *arguments: object) -> None:
        self.call = (function, arguments)

    def __reduce__(self) -> Any:
        return self.call


@once
def spell(lines: tuple[Phrase, ...]) -> str:
    return " ".join(line.phrase for line in lines)


LINES = (Phrase("shake it out", "rest"), Phrase("have a sip", "rest"))
ALONE = Lexicon((), (), {"rest": LINES})
WORDINGS = index_wordings(LINES)


def test_what_was_made_comes_back_beside_the_very_records_it_was_made_of() -> None:
    (lexicon, (back,)) = unpack(pack(ALONE, [Made(index_wordings, (LINES,), WORDINGS)]))
    assert lexicon == ALONE
    assert back.function is index_wordings
    assert back.sources[0] is lexicon.lists["rest"]
    assert back.result == WORDINGS


def test_arrays_keep_their_numbers() -> None:
    numbers = np.array([[0.1, np.nan], [-0.0, 1e300]])
    (_, (back,)) = unpack(pack(ALONE, [Made(index_wordings, (), numbers)]))
    assert back.result.tobytes() == numbers.tobytes()


def test_what_is_restored_is_not_made_again() -> None:
    Made(spell, (LINES,), "as it was made before").restore()
    assert spell(LINES) == "as it was made before"


@pytest.mark.parametrize(
    "function", [os.getcwd, eval, pickle.loads, Path, pack], ids=lambda one: one.__name__
)
def test_nothing_but_records_is_made(function: Callable[..., Any]) -> None:
    with pytest.raises(UnreadableError, match="has no place in a lexicon"):
        unpack(pickle.dumps((ALONE, Calls(function, "1"))))


@pytest.mark.parametrize("data", [b"", b"words", pickle.dumps(("no lexicon", ()))])
def test_other_bytes_are_no_lexicon(data: bytes) -> None:
    with pytest.raises(UnreadableError):
        unpack(data)
