from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from reviewkit.edits.repeats import find_repeats
from reviewkit.model import Evidence, Mark, PointFinding, Word
from tests.edits.classes import mark, move, review, said
from tests.findings.classes import Row

ROWS = [Row("Squat", 5, 60), Row("Lunge", 80, 60)]
LINE = "let your knees follow your toes"


def twice(text: str = LINE, again: str = LINE, at_s: float = 30) -> tuple[tuple[Word, ...], int]:
    """Say a line in the squat and again later; the number is the place of the second one."""
    first = said(text, 10)
    return (*first, *said(again, at_s)), len(first)


def repeats(
    words: tuple[Word, ...],
    *points: PointFinding,
    name: str = "Squat",
    marks: tuple[Mark, ...] = (),
) -> list[tuple[str, int]]:
    made = review(ROWS, words=words, marks=marks, moves=(move(name, *points),))
    return [(one.line.text, one.said_before_ms) for one in find_repeats(made)]


def safety(*evidence: Evidence) -> PointFinding:
    return PointFinding("knees over the toes", "safety", "plan", "said", evidence)


# --- what must stay -----------------------------------------------------------------------


def test_a_line_that_is_said_once_stays() -> None:
    assert repeats(twice(again="keep your chest tall and proud")[0]) == []


def test_not_and_another_side_are_another_line() -> None:
    assert repeats(twice(again=f"don't {LINE}")[0]) == []
    assert repeats(twice("reach over to the left wall", "reach over to the right wall")[0]) == []
    assert repeats(twice("hold it for ten counts now", "hold it for five counts now")[0]) == []


def test_a_few_little_words_are_no_repetition() -> None:
    assert repeats(twice("and now you", "and now you")[0]) == []


def test_what_tells_time_names_or_announces_stays() -> None:
    words, second = twice()
    for kind in ("count", "time_call", "move", "announcement", "promise"):
        assert repeats(words, marks=(mark(kind, words, second, second + 2),)) == [], kind


def test_a_safety_point_that_is_given_nowhere_else_stays() -> None:
    words, _ = twice()
    only_here = safety(Evidence(30_000, LINE))
    assert repeats(words, only_here) == []


def test_a_safety_point_that_is_given_only_later_stays() -> None:
    words, _ = twice()
    later = said("track your knees over your feet", 50)
    point = safety(Evidence(30_000, LINE), Evidence(50_000, "track your knees over your feet"))
    assert repeats((*words, *later), point) == []


def test_a_safety_point_that_is_otherwise_given_only_in_talk_that_goes_too_stays() -> None:
    """The line before is itself a repetition, and may be taken out."""
    other = "track your knees over your feet"
    words = (*said(LINE, 6), *said(other, 10), *said(other, 20), *said(LINE, 30))
    point = safety(Evidence(20_000, other), Evidence(30_000, LINE))
    assert repeats(words, point) == []


def test_a_cue_for_another_move_stays() -> None:
    words, second = twice(at_s=90)
    labels = (
        Mark("form", 0, 5, 0, 1, LINE, "line"),
        Mark("form", second, second + 5, 0, 1, LINE, "line"),
    )
    assert repeats(words, marks=labels) == []
    assert repeats(words) == [(LINE, 10_000)]


# --- what may go --------------------------------------------------------------------------


def test_the_same_line_again_may_go() -> None:
    assert repeats(twice()[0]) == [(LINE, 10_000)]


def test_little_words_and_forms_of_words_make_no_difference() -> None:
    assert repeats(twice(again="and just let the knee follow the toe")[0]) != []


def test_a_point_that_was_given_before_may_go() -> None:
    words, _ = twice()
    point = safety(Evidence(10_000, LINE), Evidence(30_000, LINE))
    assert repeats(words, point) == [(LINE, 10_000)]


# --- a law --------------------------------------------------------------------------------

LINES = (LINE, "push the floor away from you", "keep breathing all the way down", "and again")


@given(
    said_lines=st.lists(st.sampled_from(LINES), min_size=1, max_size=12),
    data=st.data(),
)
def test_where_a_point_is_first_given_nothing_is_taken_out(
    said_lines: list[str], data: st.DataObject
) -> None:
    starts = [5 + 5 * place for place in range(len(said_lines))]
    words = tuple(
        word for at_s, text in zip(starts, said_lines, strict=True) for word in said(text, at_s)
    )
    places = st.lists(st.integers(0, len(said_lines) - 1), min_size=1, max_size=3, unique=True)
    points = tuple(
        safety(*(Evidence(1000 * starts[at], said_lines[at]) for at in sorted(given_at)))
        for given_at in data.draw(st.lists(places, max_size=3))
    )
    made = review(ROWS, words=words, moves=(move("Squat", *points),))
    gone = {one.line.start_ms for one in find_repeats(made)}
    assert not gone & {point.evidence[0].at_ms for point in points}
    kept = {text for at_s, text in zip(starts, said_lines, strict=True) if 1000 * at_s not in gone}
    assert kept == set(said_lines)
