from hypothesis import given
from hypothesis import strategies as st

from reviewkit.measures import longest_silence_ms, measure_talk, per_minute, share
from reviewkit.model import Edge, HeardClass, Interval, Lexicon, Mark, Plan
from reviewkit.times import Span
from tests.talking import talk


def interval(start_ms: int | None, end_ms: int | None) -> Interval:
    def edge(at_ms: int | None) -> Edge | None:
        return None if at_ms is None else Edge(at_ms, at_ms, at_ms)

    return Interval(
        id="i1", plan_row=1, block="Main", kind="work", round=1, move="Squat", side="",
        planned_ms=30_000, status="done" if start_ms is not None else "skipped",
        start=edge(start_ms), end=edge(end_ms), length_low_ms=None, length_high_ms=None,
        timing=None, planned_rest_ms=None, rest_after_ms=None,
    )  # fmt: skip


def line(kind: str, first: int, at_ms: int, ref: str = "line") -> Mark:
    return Mark(kind, first, first, at_ms, at_ms + 300, "word", ref)


def heard(said: str, marks: tuple[Mark, ...], *intervals: Interval) -> HeardClass:
    return HeardClass(Plan("plan", ()), talk(said), marks, intervals, Lexicon((), (), {}))


def test_rates_over_nothing_are_unknown() -> None:
    assert per_minute(3, 0) is None
    assert share(0, 0) is None


def test_skipped_interval_has_no_talk() -> None:
    assert measure_talk(heard("up", (), interval(None, None))) == (None,)


def test_line_with_two_labels_is_one_cue() -> None:
    marks = (line("form", 0, 0), line("safety", 0, 0), line("motivation", 1, 400))
    (talked,) = measure_talk(heard("up now", marks, interval(0, 30_000)))
    assert talked is not None
    assert (talked.words, talked.cues, talked.cues_per_min) == (2, 1, 2.0)
    assert dict(talked.labels)["motivation"] == 1


def test_marks_of_detectors_are_not_lines() -> None:
    marks = (line("breathing", 0, 0, ref="out"),)
    (talked,) = measure_talk(heard("out", marks, interval(0, 30_000)))
    assert talked is not None
    assert talked.cues == 0


def test_silence_reaches_to_the_edges() -> None:
    assert longest_silence_ms(talk("[4] up [9] down").words, Span(0, 20_000)) == 9050


@given(st.lists(st.integers(0, 20), max_size=6), st.integers(1, 60_000))
def test_silence_is_never_longer_than_the_stretch(pauses: list[int], length_ms: int) -> None:
    said = talk(" ".join(f"[{pause}] up" for pause in pauses))
    assert 0 <= longest_silence_ms(said.words, Span(0, length_ms)) <= length_ms
