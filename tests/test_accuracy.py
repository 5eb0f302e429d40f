"""The figures that must not get worse, on a few classes in unlike voices.

``python -m tests.accuracy`` gives them for all classes and forms.
"""

from __future__ import annotations

from functools import cache

import pytest

from reviewkit.evaluate import Figures, figures
from tests.accuracy import review_class
from tests.corpus import FIXTURES, load_class
from tests.forms import FORMS

CLASSES = (
    "harbour-evening",
    "please-and-thank-you",
    "corrects-herself-mat",
    "explains-in-the-rests",
)
SHORT_FORMS = ("vtt", "blocks")


@cache
def measured(form: str) -> Figures:
    """Pool the classes in a form; the slower pairs of class and form are left out."""
    names = CLASSES if form in SHORT_FORMS else CLASSES[:1]
    return figures([review_class(load_class(FIXTURES / name), form) for name in names])


@pytest.mark.parametrize("form", FORMS)
def test_every_form_gives_a_review_with_the_rows_right(form: str) -> None:
    rows_right = measured(form).rows_right
    assert rows_right is not None
    assert rows_right >= 0.9


@pytest.mark.parametrize(
    ("form", "most_s"),
    [("words", 0.6), ("vtt", 0.6), ("srt", 0.6), ("rollup", 0.6), ("ttml", 0.6), ("blocks", 3.0)],
)
def test_edges_stay_where_they_were_heard(form: str, most_s: float) -> None:
    error_s = measured(form).edge_error_median_s
    assert error_s is not None
    assert error_s <= most_s


# Of 62 intervals three may be taken for long or short where one stamp covers forty seconds.
@pytest.mark.parametrize(("form", "least"), [("vtt", 0.98), ("blocks", 0.95)])
def test_what_kept_to_time_is_seldom_called_long_or_short(form: str, least: float) -> None:
    kept = measured(form).on_time_kept
    assert kept is not None
    assert kept >= least
