from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.model import EdgeEvidence, Moment, Signs, Weights
from reviewkit.placing.own_voice import FirstLook, learn_voice, own_odds
from reviewkit.placing.relearning import CLOSE_MS

WEIGHTS = Weights(
    ("start", "end", "work"),
    {
        "bias": (0.0, 0.0, 0.0),
        "odds": (1.0, 1.0, 1.0),
        "after": (0.5, 0.25, 0.0),
        "relearned": (0.0, 0.0, 0.5),
    },
)
FAR_MS = CLOSE_MS + 1


def evidence(words: Sequence[str], *, apart_ms: int = FAR_MS) -> EdgeEvidence:
    """Make one moment before each word, nothing known of any."""
    moments = tuple(Moment(at * apart_ms, at, 0, -3.0, -4.0) for at in range(len(words)))
    at = tuple((word,) for word in words)
    alike = np.array([[float(word == words[0])] for word in words])
    signs = Signs(("after",), at, alike, alike, WEIGHTS)
    return EdgeEvidence(moments, (0.0,) * len(words), signs)


def look(chances: Sequence[float]) -> FirstLook:
    """Believe the same of starts, of ends and of talk in work."""
    return FirstLook(*3 * [np.array(chances)])


def word_times(words: Sequence[str]) -> npt.NDArray[np.int64]:
    return FAR_MS * np.arange(len(words))


def told(words: Sequence[str], chances: Sequence[float], *, apart_ms: int = FAR_MS) -> list[float]:
    edges = evidence(words, apart_ms=apart_ms)
    assert edges.signs is not None
    return [
        float(value) for value in own_odds(edges, edges.signs, "start", np.array(chances))[:, 0]
    ]


def test_evidence_without_signs_stays_as_it_is() -> None:
    edges = EdgeEvidence((Moment(0, 0, 0, 1.0, 1.0),), (0.0,))
    assert learn_voice(edges, look([1.0]), word_times(["go"])) is edges


def test_a_word_heard_once_tells_nothing() -> None:
    odds = told(["onward", "and", "so"], [1.0, 0.0, 0.0])
    assert odds == pytest.approx([0, 0, 0])


def test_what_a_coach_starts_with_speaks_for_the_next_place_that_has_it() -> None:
    words = ["onward", "and", "the", "onward", "so", "a", "onward"]
    odds = told(words, [1.0, 0, 0, 1.0, 0, 0, 0])
    assert odds[6] > odds[0] > 0
    assert odds[1] == odds[2] == pytest.approx(0)


def test_a_word_that_starts_nothing_elsewhere_speaks_against_a_place() -> None:
    odds = told(["and", "go", "and", "go", "and", "and"], [1.0, 1.0, 0, 1.0, 0, 0])
    assert odds[0] < 0 < odds[1]


def test_places_close_by_tell_each_other_nothing() -> None:
    odds = told(["go", "go", "stop"], [1.0, 0, 0], apart_ms=CLOSE_MS // 4)
    assert odds == pytest.approx([0, 0, 0])


@given(
    st.lists(st.sampled_from("abc"), min_size=2, max_size=12),
    st.data(),
)
def test_no_place_is_told_anything_by_itself(words: list[str], data: st.DataObject) -> None:
    """Its own chance only moves what is usual, the same for all places that nothing tells."""
    chances = data.draw(st.lists(st.floats(0, 0.4), min_size=len(words), max_size=len(words)))
    at = data.draw(st.integers(0, len(words) - 1))
    raised = [*chances]
    raised[at] = 0.9
    before, after = told(words, chances), told(words, raised)
    assert after[at] <= before[at] + 1e-9


def test_each_output_has_its_own_weights() -> None:
    words = ["onward", "and", "the", "onward", "so", "a", "onward"]
    edges = evidence(words)
    learned = learn_voice(edges, look([1.0, 0, 0, 1.0, 0, 0, 0]), word_times(words))
    raised = learned.moments[6].start - edges.moments[6].start
    assert raised > 0
    assert learned.moments[6].end - edges.moments[6].end == pytest.approx(raised / 2)


def test_talk_that_sounds_like_what_was_said_in_work_sounds_more_like_work() -> None:
    words = ["drive", "and", "drive", "so", "drive", "a"]
    learned = learn_voice(evidence(words), look([1.0, 0, 1.0, 0, 0.5, 0.5]), word_times(words))
    assert learned.work[4] > 0 > learned.work[5]
