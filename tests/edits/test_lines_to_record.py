from __future__ import annotations

from typing import Literal

from reviewkit.edits.lines_to_record import PAUSE_MS, find_lines, speaking_rate
from reviewkit.edits.own_words import OwnWords
from reviewkit.edits.records import LineToRecord
from reviewkit.model import PointFinding, PointKind, PointVerdict, Review, Word
from reviewkit.rehearse.last_time import key_of
from reviewkit.rehearse.records import SpeakingRate
from reviewkit.times import Span
from tests.edits.classes import move, review, said
from tests.findings.classes import Row

RATE = SpeakingRate(120, is_own=True)


def point(
    text: str,
    verdict: PointVerdict = "missing",
    kind: PointKind = "form",
    *,
    line: str = "",
    by_lexicon: bool = False,
    set_aside: str = "",
) -> PointFinding:
    asked: Literal["plan", "lexicon"] = "lexicon" if by_lexicon else "plan"
    return PointFinding(text, kind, asked, verdict, line=line, set_aside=set_aside)


def lines(
    *points: PointFinding,
    rows: list[Row] | None = None,
    words: tuple[Word, ...] = (),
    own: dict[tuple[tuple[str, ...], tuple[str, ...]], OwnWords] | None = None,
) -> tuple[LineToRecord, ...]:
    made = review(rows or [Row("Squat", 10, 40)], words=words, moves=(move("Squat", *points),))
    return find_lines(made, RATE, own or {})


def test_what_was_said_or_set_aside_needs_no_line() -> None:
    assert lines(point("chest tall", "said"), point("flat back", set_aside="shown")) == ()


def test_a_move_that_was_not_done_needs_no_line() -> None:
    assert lines(point("chest tall"), rows=[Row("Squat", None), Row("Lunge", 10)]) == ()
    assert lines(point("chest tall"), rows=[Row("Squat", 10, instead="Lunge")]) == ()


def test_a_line_takes_the_first_quiet_place_that_holds_it() -> None:
    words = (*said("here we go", 10), *said("sit back", 12.2), *said("up we come", 20))
    (line,) = lines(point("keep your chest tall please"), words=words)
    assert line.takes_ms == 2500
    assert line.slot == Span(13_250, 15_750)


def test_two_lines_never_share_a_place_and_safety_comes_first() -> None:
    first, second = lines(point("chest tall and proud"), point("knees out", kind="safety"))
    assert first.kind == "safety"
    assert first.slot == Span(10_000, 11_500)
    assert second.slot
    assert second.slot.start_ms == 11_500 + PAUSE_MS


def test_where_no_place_is_long_enough_in_the_first_half_there_is_none() -> None:
    busy = tuple(word for at in range(10, 30) for word in said("on and on", at, step_ms=320))
    (line,) = lines(point("keep your chest tall please"), words=busy)
    assert line.slot is None
    assert line.early == Span(10_000, 30_000)


def test_where_one_stamp_covers_many_words_no_place_is_known() -> None:
    made = review(
        [Row("Squat", 10, 40)], clock="blocks", moves=(move("Squat", point("chest tall")),)
    )
    assert [one.slot for one in find_lines(made, RATE, {})] == [None]


def test_words_are_the_coachs_own_then_the_lexicons_then_the_plans() -> None:
    own = {(key_of("squats"), key_of("Chest tall")): OwnWords("lift that chest", "Monday")}
    chest, back, heels = lines(
        point("chest tall", line="Keep your chest up."),
        point("flat back", line="Keep a long, flat back."),
        point("heels down", "late"),
        own=own,
    )
    assert (chest.text, chest.source, chest.source_name) == (
        "Lift that chest.", "another class", "Monday",
    )  # fmt: skip
    assert (back.text, back.source) == ("Keep a long, flat back.", "lexicon")
    assert (heels.text, heels.source, heels.is_late) == ("Heels down.", "plan", True)


def test_suggestions_count_only_where_the_plan_asks_for_nothing() -> None:
    suggested = point("brace", kind="safety", by_lexicon=True)
    assert [one.is_suggested for one in lines(point("chest tall"), suggested)] == [False]
    form = point("elbows in", by_lexicon=True)
    assert [one.point for one in lines(suggested, form)] == ["brace"]


def rated(**profile: float) -> Review:
    return review([], profile=tuple(profile.items()))


def test_the_coachs_own_rate_is_used_where_it_is_known() -> None:
    assert speaking_rate(rated(words_per_min=80, talk_share=0.5)) == SpeakingRate(160, is_own=True)
    assert not speaking_rate(rated()).is_own
