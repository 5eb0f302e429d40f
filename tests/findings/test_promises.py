"""Promises against the class: what is kept, what is broken, what stays open."""

from dataclasses import replace

import pytest

from reviewkit.findings.promises import judge_promises
from reviewkit.marks.breaches import find_breaches
from reviewkit.model import UNNAMED, Edge, HeardClass, Mark
from reviewkit.read import read_lexicon
from tests.findings.classes import (
    COOL_DOWN,
    WARM_UP,
    Row,
    circuit,
    claim,
    heard_class,
    interval,
)
from tests.talking import talk


def verdicts(heard: HeardClass) -> list[tuple[str, str]]:
    return [(one.what, one.verdict) for one in judge_promises(heard)]


def judge(rows: list[Row], *marks: Mark, length_s: float | None = None) -> list[tuple[str, str]]:
    return verdicts(heard_class(rows, marks=marks, length_s=length_s))


WHOLE = [WARM_UP, *circuit(), COOL_DOWN]


def test_nothing_promised_nothing_judged() -> None:
    assert judge(WHOLE) == []


@pytest.mark.parametrize(
    ("minutes", "length_s", "verdict"),
    [
        (16, 970, "kept"),
        (15, 970, "kept"),
        (16, 1200, "unclear"),
        (20, 800, "broken"),
        (60, 900, "unclear"),
        (13, 970, "broken"),
    ],
)
def test_minutes(minutes: float, length_s: float, verdict: str) -> None:
    assert judge(WHOLE, claim("minutes", minutes), length_s=length_s) == [("minutes", verdict)]


def test_about_so_many_minutes_allows_more() -> None:
    about = replace(claim("minutes", 16), text="about sixteen minutes")
    assert judge(WHOLE, about, length_s=1080) == [("minutes", "kept")]


def test_at_most_so_many_minutes_is_kept_by_less() -> None:
    said = claim("minutes", 20)
    most = replace(said, text="home inside of twenty minutes")
    assert judge(WHOLE, most, length_s=800) == [("minutes", "kept")]
    assert judge(WHOLE, said, length_s=800) == [("minutes", "broken")]


@pytest.mark.parametrize(
    ("said", "verdict"), [("it's a quarter of an hour", "kept"), ("fifteen minutes", "unclear")]
)
def test_a_quarter_of_an_hour_is_told_in_quarters(said: str, verdict: str) -> None:
    promised = replace(claim("minutes", 15), text=said)
    assert judge(WHOLE, promised, length_s=760) == [("minutes", verdict)]


def test_minutes_said_during_the_work_are_no_promise_about_the_class() -> None:
    assert judge(WHOLE, claim("minutes", 5, at_s=300), length_s=970) == []


@pytest.mark.parametrize(
    ("rows", "seconds", "verdict"),
    [
        pytest.param(WHOLE, 40, "kept", id="as said"),
        pytest.param(circuit(length_s=52, rest_s=8), 40, "broken", id="all long"),
        pytest.param(WHOLE, 30, "broken", id="planned otherwise"),
        pytest.param(WHOLE, 180, "unclear", id="another thing"),
        pytest.param(WHOLE, 60, "kept", id="a length only the warm-up has"),
    ],
)
def test_work(rows: list[Row], seconds: float, verdict: str) -> None:
    assert judge(rows, claim("work", seconds)) == [("work", verdict)]


@pytest.mark.parametrize(
    ("said", "verdict"),
    [("forty seconds of each move", "broken"), ("forty seconds then sixty", "kept")],
)
def test_work_planned_longer_than_was_ever_said(said: str, verdict: str) -> None:
    rows = circuit()
    rows[4:] = [replace(row, length_s=60, work_s=60) for row in rows[4:]]
    heard = heard_class(rows, words=talk(said).words, marks=(claim("work", 40),))
    assert verdicts(heard) == [("work", verdict)]


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ("every effort is forty seconds no more no less", "broken"),
        ("it's forty seconds to begin with", "kept"),
        ("every one is forty seconds then the finishers are twenty", "kept"),
    ],
)
def test_a_round_of_another_length_breaks_what_was_said_of_everything(
    said: str, verdict: str
) -> None:
    rows = [*circuit(), *circuit(("Jump", "Crawl"), rounds=1, start_s=900, length_s=20)]
    rows[-2:] = [replace(row, work_s=20, block="Finish") for row in rows[-2:]]
    at = said.split().index("forty")
    mark = replace(claim("work", 40), first=at, last=at + 1)
    heard = heard_class(rows, words=talk(said).words, marks=(mark,))
    assert verdicts(heard) == [("work", verdict)]


def test_an_open_length_of_all_there_is_is_that_of_work() -> None:
    said = "they're all fifty seconds so pace it"
    mark = replace(claim("length", 50), first=2, last=3)
    heard = heard_class(circuit(), words=talk(said).words, marks=(mark,))
    assert verdicts(heard) == [("work", "broken")]
    of_one = replace(claim("length", 50), first=3, last=4)
    said = "you'll get all fifty seconds of it"
    assert verdicts(heard_class(circuit(), words=talk(said).words, marks=(of_one,))) == []
    alone = "give me fifty seconds so pace it"
    assert verdicts(heard_class(circuit(), words=talk(alone).words, marks=(mark,))) == []


def test_a_break_by_name_that_is_far_longer_than_rests_is_one_between_rounds() -> None:
    rows = circuit(rounds=2)
    rows[3] = replace(rows[3], rest_s=45)
    rows[4:] = [replace(row, start_s=(row.start_s or 0) + 25) for row in rows[4:]]
    said = "i'll give you a break two minutes of it"
    mark = replace(claim("rest", 120), first=5, last=6)
    assert verdicts(heard_class(rows, words=talk(said).words, marks=(mark,))) == [
        ("rest", "broken")
    ]


def test_rests_planned_shorter_than_was_ever_said() -> None:
    rows = [replace(row, rest_s=20 if row.round == 1 else 10) for row in circuit(rounds=2)]
    said = talk("twenty seconds in between").words
    heard = heard_class(rows, words=said, marks=(claim("rest", 20),))
    assert verdicts(heard) == [("rest", "broken")]


def test_a_minute_to_breathe_is_the_rest_that_is_planned_so_long() -> None:
    rows = circuit(rounds=2, start_s=200)
    rows[3:4] = [replace(rows[3], rest_s=60)]
    rows[4:] = [replace(row, start_s=(row.start_s or 0) + 90) for row in rows[4:]]
    assert judge([*rows, COOL_DOWN], claim("cool_length", 60)) == [
        ("cool_down", "kept"),
    ]
    shorter = replace(COOL_DOWN, length_s=30, work_s=30)
    assert judge([*rows, shorter], claim("cool_length", 60)) == [("rest", "broken")]


def test_less_than_so_long_is_kept_by_less() -> None:
    rows = [replace(row, length_s=30) for row in circuit()]
    at = claim("work", 40)
    said = replace(at, first=3, last=4)
    words = talk("a bit less than forty seconds each").words
    assert verdicts(heard_class(rows, words=words, marks=(said,))) == [("work", "kept")]
    assert judge(rows, at) == [("work", "broken")]


@pytest.mark.parametrize(("long_s", "verdict"), [(36, "broken"), (26, "kept")])
def test_one_rest_far_from_the_plan_is_believed_where_all_others_keep_to_it(
    long_s: float, verdict: str
) -> None:
    rows = _rests(20, 20, 20, long_s, 20, 20)
    heard = heard_class(rows, marks=(replace(claim("rest", 20), weight=0.9),))
    unsure = [
        replace(one, start=_unsure(one.start), end=_unsure(one.end)) for one in heard.intervals
    ]
    assert verdicts(replace(heard, intervals=tuple(unsure))) == [("rest", verdict)]


def _unsure(edge: Edge | None) -> Edge | None:
    return edge and replace(edge, low_ms=edge.at_ms - 9_000, high_ms=edge.at_ms + 9_000)


def test_one_long_interval_does_not_break_the_promised_length() -> None:
    rows = circuit()
    rows[2] = replace(rows[2], length_s=52)
    assert judge(rows, claim("work", 40)) == [("work", "kept")]


@pytest.mark.parametrize(
    ("rows", "seconds", "verdict"),
    [
        pytest.param(circuit(), 20, "kept", id="as said"),
        pytest.param(circuit(), 15, "broken", id="planned otherwise"),
        pytest.param(circuit(rest_s=38), 20, "broken", id="all long"),
        pytest.param(circuit(), 120, "unclear", id="another thing"),
    ],
)
def test_rest(rows: list[Row], seconds: float, verdict: str) -> None:
    assert judge(rows, claim("rest", seconds)) == [("rest", verdict)]


def shifted(rows: list[Row], first: int, by_s: float) -> list[Row]:
    """Begin a row and all after it later."""
    return [
        replace(row, start_s=(row.start_s or 0) + by_s) if at >= first else row
        for at, row in enumerate(rows)
    ]


@pytest.mark.parametrize(
    ("by_s", "verdict"),
    [
        pytest.param(8, "kept", id="a little"),
        pytest.param(30, "broken", id="by far"),
    ],
)
def test_one_longer_rest(by_s: float, verdict: str) -> None:
    assert judge(shifted(circuit(), 2, by_s), claim("rest", 20)) == [("rest", verdict)]


def test_a_gap_left_by_a_skipped_move_is_no_rest() -> None:
    rows = circuit()
    rows[5] = replace(rows[5], start_s=None)
    assert judge(rows, claim("rest", 20)) == [("rest", "kept")]


def _rests(*rest_s: float, planned_s: float = 20) -> list[Row]:
    """Give a round with these rests after its moves, one of them planned otherwise."""
    rows, at_s = [], 100.0
    for number, one in enumerate((*rest_s, 20)):
        rest = planned_s if number == 1 else 20
        rows.append(Row(f"Move {number}", at_s, rest_s=rest))
        at_s += 40 + one
    return rows


def test_an_oath_on_every_rest_is_about_those_planned_longer_too() -> None:
    sworn = replace(claim("rest", 20), weight=0.9)
    assert judge(_rests(20, 30, 20, planned_s=30), sworn) == [("rest", "kept")]
    assert judge(_rests(20, 50, 20, planned_s=30), sworn) == [("rest", "broken")]
    assert judge(_rests(20, 50, 20, planned_s=30), claim("rest", 20)) == [("rest", "kept")]


@pytest.mark.parametrize(("name", "verdict"), [(UNNAMED, "broken"), ("Burpee", "kept")])
def test_what_fills_a_gap_too_short_for_work_and_has_no_name_is_rest(
    name: str, verdict: str
) -> None:
    sworn = replace(claim("rest", 20), weight=0.9)
    heard = heard_class(_rests(20, 45, 20), marks=(sworn,))
    before = heard.intervals[1]
    assert before.end is not None
    start_s = before.end.at_ms / 1000
    filler = replace(interval(Row(name, start_s, length_s=45), 9), plan_row=None, status="added")
    with_filler = replace(heard, intervals=(*heard.intervals[:2], filler, *heard.intervals[2:]))
    assert verdicts(with_filler) == [("rest", verdict)]


@pytest.mark.parametrize(
    ("rest_s", "verdict"),
    [
        pytest.param(23, "kept", id="what the clock may hide"),
        pytest.param(27, "broken", id="the same in many of them"),
    ],
)
def test_rests_by_a_coarse_clock(rest_s: float, verdict: str) -> None:
    heard = heard_class(circuit(rest_s=rest_s), marks=(claim("rest", 20),), unsure_s=5)
    assert verdicts(heard) == [("rest", verdict)]


def test_one_rest_by_a_coarse_clock() -> None:
    rows = shifted(circuit(), 2, 11)
    heard = heard_class(rows, marks=(claim("rest", 20),), unsure_s=5)
    assert verdicts(heard) == [("rest", "kept")]


def test_a_length_is_of_what_the_plan_has_so_long() -> None:
    rows = shifted(circuit(rounds=2), 4, 40)
    rows[3] = replace(rows[3], rest_s=60)
    for ref in ("rest", "rest_rounds", "work"):
        assert judge(rows, claim(ref, 20)) == [("rest", "kept")]


def test_no_rest_by_a_coarse_clock() -> None:
    for rest_s, verdict in ((15, "kept"), (30, "broken")):
        rows = circuit(rest_s=rest_s, planned_rest_s=0)
        heard = heard_class(rows, marks=(claim("no_rest"),), unsure_s=8)
        assert verdicts(heard) == [("rest", verdict)]


@pytest.mark.parametrize(("rest_s", "verdict"), [(5, "kept"), (12, "kept"), (30, "broken")])
def test_no_rest(rest_s: float, verdict: str) -> None:
    rows = circuit(rest_s=rest_s, planned_rest_s=0)
    assert judge(rows, claim("no_rest")) == [("rest", verdict)]


@pytest.mark.parametrize(("said", "found"), [("each", [("work", "broken")]), ("of rain", [])])
def test_a_length_of_each_may_be_promised_between_rounds(
    said: str, found: list[tuple[str, str]]
) -> None:
    words = talk(f"two minutes {said}", start_ms=350_000).words
    mark = replace(claim("work", 75, at_s=350), last=1)
    assert verdicts(heard_class(circuit(), words=words, marks=(mark,))) == found


@pytest.mark.parametrize(
    ("between_s", "verdict"), [(60, "kept"), (55, "kept"), (25, "broken"), (120, "broken")]
)
def test_rest_between_rounds_promised_in_the_class(between_s: float, verdict: str) -> None:
    rows = shifted(circuit(rounds=2), 4, between_s - 20)
    rows[3] = replace(rows[3], rest_s=60)
    promise = claim("rest_rounds", 60, at_s=150, sure=True)
    assert judge(rows, promise) == [("rest", verdict)]


@pytest.mark.parametrize(
    ("ref", "value", "what", "verdict"),
    [
        ("rounds", 3, "rounds", "kept"),
        ("rounds", 4, "rounds", "broken"),
        ("rounds_again", None, "rounds", "broken"),
        ("moves", 4, "moves", "kept"),
        ("moves", 7, "moves", "broken"),
        ("moves", 12, "moves", "kept"),
        ("intervals", 12, "moves", "kept"),
        ("intervals", 9, "moves", "unclear"),
    ],
)
def test_counts(ref: str, value: float | None, what: str, verdict: str) -> None:
    expected = "unclear" if (ref, value) == ("moves", 12) else verdict
    assert judge(WHOLE, claim(ref, value)) == [(what, expected)]


def skip(rows: list[Row], *numbers: int) -> list[Row]:
    return [replace(row, start_s=None) if at in numbers else row for at, row in enumerate(rows)]


def test_a_round_left_out_breaks_the_rounds_and_not_the_moves() -> None:
    rows = skip(circuit(), 8, 9, 10, 11)
    assert judge(rows, claim("rounds", 3), claim("moves", 4)) == [
        ("rounds", "broken"),
        ("moves", "kept"),
    ]


def test_one_move_left_out_of_one_round_breaks_neither() -> None:
    rows = skip(circuit(), 9)
    assert judge(rows, claim("rounds", 3), claim("moves", 4)) == [
        ("rounds", "kept"),
        ("moves", "kept"),
    ]


def test_a_move_left_out_of_every_round_breaks_the_moves() -> None:
    assert judge(skip(circuit(), 1, 5, 9), claim("moves", 4)) == [("moves", "broken")]


def test_an_effort_left_out_breaks_a_count_of_efforts() -> None:
    assert judge(skip(circuit(), 6), claim("intervals", 12)) == [("moves", "broken")]


def test_a_count_said_between_blocks_is_about_the_next_block() -> None:
    first = circuit(("Squat",), rounds=3)
    second = [
        replace(row, block="Finisher", start_s=(row.start_s or 0) + 300)
        for row in circuit(("Sprint",), rounds=8)
    ]
    rows = [*first, *skip(second, 7)]
    assert judge(rows, claim("rounds", 8, at_s=350)) == [("rounds", "broken")]


@pytest.mark.parametrize(
    ("ref", "rows", "expected"),
    [
        ("warm_up", WHOLE, ("warm_up", "kept")),
        ("cool_down", WHOLE, ("cool_down", "kept")),
        ("warm_up", skip(WHOLE, 0), ("warm_up", "broken")),
        ("cool_down", skip(WHOLE, 13), ("cool_down", "broken")),
        ("cool_down", circuit(), ("cool_down", "broken")),
        ("no_warm_up", WHOLE[1:], ("warm_up", "kept")),
    ],
)
def test_parts(ref: str, rows: list[Row], expected: tuple[str, str]) -> None:
    assert judge(rows, claim(ref)) == [expected]


def test_talk_after_the_last_move_may_hold_a_stretch_that_no_plan_names() -> None:
    assert judge(circuit(), claim("cool_down"), length_s=960) == [("cool_down", "unclear")]


@pytest.mark.parametrize(("seconds", "verdict"), [(60, "kept"), (70, "kept"), (180, "broken")])
def test_length_of_the_warm_up(seconds: float, verdict: str) -> None:
    assert judge(WHOLE, claim("warm_length", seconds)) == [("warm_up", verdict)]


def test_no_kit_is_broken_by_a_move_that_names_some() -> None:
    rows = circuit(("Dumbbell row",))
    assert judge(rows, claim("kit_none")) == [("equipment", "broken")]


@pytest.mark.parametrize(
    ("ref", "moves", "verdict"),
    [
        ("no_jumping", ("Squat", "Lunge"), "kept"),
        ("no_jumping", ("Squat", "Star jump"), "broken"),
        ("no_jumping", ("Squat", "Knee tuck"), "kept"),
        ("no_floor", ("Squat", "Wall push-up"), "kept"),
        ("no_floor", ("Squat", "Hamstring curl"), "kept"),
        ("no_floor", ("Squat", "Side plank"), "broken"),
        ("no_floor", ("Squat", "Side crunch"), "kept"),
        ("no_floor", ("Squat", "Crunch"), "broken"),
        ("no_floor", ("Squat", "Side-lying leg lift"), "broken"),
        ("no_floor", ("Squat", "Kneeling press"), "broken"),
        ("no_floor", ("Squat", "Floor touch"), "kept"),
        ("no_jumping", ("Squat", "Burpee without jump"), "kept"),
        ("no_floor", ("Squat", "Banister push-up"), "kept"),
        ("no_jumping", ("Squat", "Shoulder bounce"), "kept"),
    ],
)
def test_no_jumping_and_no_floor_work(ref: str, moves: tuple[str, ...], verdict: str) -> None:
    what = {"no_jumping": "jumping", "no_floor": "floor"}[ref]
    assert judge(circuit(moves), claim(ref)) == [(what, verdict)]


@pytest.mark.parametrize(
    ("said", "move", "judged"),
    [
        ("no planks", "Lunge", ("no_planks", "kept")),
        ("no planks", "Knee plank", ("no_planks", "broken")),
        ("nobody turns", "Turning step", ("no_turns", "broken")),
        ("no push ups", "Push-up", ("no_push_ups", "broken")),
        ("no push ups", "Push press", ("no_push_ups", "kept")),
    ],
)
def test_a_class_without_a_move(said: str, move: str, judged: tuple[str, str]) -> None:
    words = talk(said).words
    mark = replace(claim("no_move"), last=len(words) - 1)
    heard = heard_class(circuit((move,)), words=words, marks=(mark,))
    assert verdicts(heard) == [judged]


@pytest.mark.parametrize(
    ("later", "verdict"),
    [
        ("and now quick one lap round the hall", "broken"),
        ("my mother swims a lap of the lake", "kept"),
        ("no laps round the hall", "kept"),
    ],
)
def test_a_class_without_a_move_is_broken_by_asking_for_it(later: str, verdict: str) -> None:
    promised, asked = talk("no laps", start_ms=5_000).words, talk(later, start_ms=200_000).words
    mark = replace(claim("no_move"), last=len(promised) - 1)
    heard = heard_class(circuit(), words=(*promised, *asked), marks=(mark,))
    assert verdicts(heard) == [("no_laps", verdict)]


def test_a_coarse_clock_needs_lengths_further_off() -> None:
    for length_s, verdict in ((44.5, "kept"), (47, "broken")):
        rows = circuit(length_s=length_s, rest_s=60 - length_s)
        heard = heard_class(rows, marks=(claim("work", 40),), clock="blocks")
        assert verdicts(heard) == [("work", verdict)]


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ("give me a little jump at the top", "broken"),
        ("both feet off the ground now higher", "broken"),
        ("keep one foot on the floor no hopping", "kept"),
        ("you could jump it if you like", "kept"),
        ("step it out wide", "kept"),
    ],
)
def test_no_jumping_is_broken_by_asking_for_a_jump(said: str, verdict: str) -> None:
    spoken = talk(said, start_ms=130_000)
    marks = (claim("no_jumping"), *find_breaches(spoken, read_lexicon()))
    heard = heard_class(circuit(), words=spoken.words, marks=marks)
    assert verdicts(heard) == [("jumping", verdict)]


@pytest.mark.parametrize(
    ("said", "weight", "jump_round", "broken"),
    [
        ("no jumping from here", 0.9, 3, True),
        ("no jumping from here", 0.9, 1, False),
        ("no jumping from here", 0.8, 3, False),
        ("not a jump but a step", 0.9, 3, False),
    ],
)
def test_what_is_sworn_in_class_is_held_against_what_follows(
    said: str, weight: float, jump_round: int, broken: bool
) -> None:
    rows = [
        replace(row, move="Star jump") if row.move == "Lunge" and row.round == jump_round else row
        for row in circuit()
    ]
    words = talk(said, start_ms=345_000).words
    mark = replace(claim("no_jumping", at_s=345), weight=weight)
    found = verdicts(heard_class(rows, words=words, marks=(mark,)))
    assert (("jumping", "broken") in found) == broken


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ("come down to the floor for me", "broken"),
        ("now get down on hands and knees", "broken"),
        ("we're going to go on our backs", "broken"),
        ("no need to go down to the floor", "kept"),
        ("hands on your knees and rest", "kept"),
    ],
)
def test_no_floor_work_is_broken_by_sending_the_class_there(said: str, verdict: str) -> None:
    spoken = talk(said, start_ms=130_000)
    marks = (claim("no_floor"), *find_breaches(spoken, read_lexicon()))
    heard = heard_class(circuit(("Squat",)), words=spoken.words, marks=marks)
    assert verdicts(heard) == [("floor", verdict)]


def test_a_stretch_lying_down_is_floor_work_too() -> None:
    lying = replace(COOL_DOWN, move="Lying knee hug")
    assert judge([WARM_UP, *circuit(), lying], claim("no_floor")) == [("floor", "broken")]


@pytest.mark.parametrize(("places", "verdict"), [((3, 7), "kept"), ((11, 11, 11), "broken")])
def test_a_move_added_to_every_lap_is_no_lap(places: tuple[int, ...], verdict: str) -> None:
    heard = heard_class(circuit(), marks=(claim("rounds", 3),))
    added = []
    for nth, place in enumerate(places):
        before = heard.intervals[place]
        assert before.end is not None
        start_ms, end_ms = (before.end.at_ms + 1_000 + 5_000 * nth + ms for ms in (0, 4_000))
        more = replace(before, id=f"more-{nth}", plan_row=None, status="added", move=UNNAMED)
        start, end = (Edge(at_ms, at_ms, at_ms) for at_ms in (start_ms, end_ms))
        added.append(replace(more, start=start, end=end))
    judged = verdicts(replace(heard, intervals=(*heard.intervals, *added)))
    assert judged == [("rounds", verdict)]


@pytest.mark.parametrize(
    ("said", "judged"),
    [
        ("they're all a minute and no less", [("work", "broken")]),
        ("every one is on the minute so a minute each", []),
    ],
)
def test_work_and_rest_together_are_no_length_of_work(
    said: str, judged: list[tuple[str, str]]
) -> None:
    at = said.split().index("minute")
    mark = replace(claim("work", 60), first=at - 1, last=at)
    heard = heard_class(circuit(), words=talk(said).words, marks=(mark,))
    assert verdicts(heard) == judged


@pytest.mark.parametrize(("added", "verdict"), [(0, "kept"), (1, "broken")])
def test_rounds_may_be_intervals_that_each_have_their_bell(added: int, verdict: str) -> None:
    heard = heard_class(circuit(rounds=2), marks=(claim("rounds", 8),))
    more = [
        replace(heard.intervals[0], id="more", plan_row=None, status="added") for _ in range(added)
    ]
    assert verdicts(replace(heard, intervals=(*heard.intervals, *more))) == [("rounds", verdict)]


@pytest.mark.parametrize(("sure", "verdict"), [(False, "kept"), (True, "broken")])
def test_a_firm_promise_of_a_rest_is_broken_by_less(sure: bool, verdict: str) -> None:
    rows = circuit(rest_s=30, planned_rest_s=30)
    assert judge(shifted(rows, 6, 16), claim("rest", 30, sure=sure)) == [("rest", verdict)]


def test_the_same_claim_twice_is_one_promise() -> None:
    assert judge(WHOLE, claim("moves", 4), claim("moves", 4, at_s=20)) == [("moves", "kept")]


@pytest.mark.parametrize(
    ("ref", "value", "expected"),
    [
        ("length", 40, [("work", "broken")]),
        ("length", 20, [("rest", "kept")]),
        ("maybe_rest", 20, [("rest", "kept")]),
        ("maybe_rest", 40, []),
        ("maybe_work", 40, [("work", "broken")]),
        ("length", 33, []),
    ],
)
def test_lengths_that_only_the_plan_can_tell(
    ref: str, value: float, expected: list[tuple[str, str]]
) -> None:
    rows = [replace(row, start_s=(row.start_s or 0) + 8 * at) for at, row in enumerate(circuit())]
    rows = [replace(row, length_s=48) for row in rows]
    assert judge(rows, claim(ref, value)) == expected


def test_a_length_said_in_the_class_stays_open() -> None:
    assert judge(circuit(), claim("length", 40, at_s=165)) == []


def test_a_small_difference_that_all_intervals_share_breaks_the_promise() -> None:
    assert judge(circuit(length_s=44.5, rest_s=15.5), claim("work", 40)) == [("work", "broken")]
    assert judge(circuit(length_s=42, rest_s=18), claim("work", 40)) == [("work", "kept")]


def test_one_rest_cut_short_by_far_breaks_the_promise() -> None:
    rows = circuit(rest_s=60, planned_rest_s=60)
    assert judge(shifted(rows, 6, -30), claim("rest", 60)) == [("rest", "broken")]
    assert judge(shifted(rows, 6, -12), claim("rest", 60)) == [("rest", "kept")]


def test_a_rest_after_each_set_may_be_the_one_between_rounds() -> None:
    rows = [
        replace(row, rest_s=60) if row.move == "Plank" else row
        for row in shifted(shifted(circuit(), 4, 40), 8, 75)
    ]
    assert judge(rows, claim("rest", 60)) == [("rest", "broken")]


def test_rests_planned_between_rounds_do_not_break_no_rest() -> None:
    rows = circuit(rest_s=1, planned_rest_s=0)
    rows[3] = replace(rows[3], rest_s=60)
    assert judge(shifted(rows, 4, 60), claim("no_rest")) == [("rest", "kept")]


def both_sides() -> list[Row]:
    rows = circuit(("Clam", "Clam", "Bridge"), rounds=1)
    return [replace(rows[0], side="left"), replace(rows[1], side="right"), rows[2]]


def test_both_sides() -> None:
    assert judge(both_sides(), claim("both_sides")) == [("sides", "kept")]
    assert judge(skip(both_sides(), 1), claim("both_sides")) == [("sides", "broken")]
    assert judge(skip(both_sides(), 0, 1), claim("both_sides")) == [("sides", "kept")]
    assert judge(circuit(), claim("both_sides")) == []


@pytest.mark.parametrize("move", ["Low impact jack", "Step jack"])
def test_a_jump_without_the_jump_keeps_no_jumping(move: str) -> None:
    assert judge(circuit((move,)), claim("no_jumping")) == [("jumping", "kept")]


@pytest.mark.parametrize(
    "move", ["Rope skip without rope", "Rope-free skip", "Imaginary rope skip", "No rope skip"]
)
def test_a_move_without_kit_keeps_no_kit(move: str) -> None:
    assert judge(circuit((move,)), claim("kit_none")) == [("equipment", "kept")]


def test_a_round_left_out_shows_whichever_rows_it_was_taken_from() -> None:
    # One of each move, out of three rounds that look alike.
    assert judge(skip(circuit(), 0, 5, 6, 11), claim("rounds", 3)) == [("rounds", "broken")]
    assert judge(skip(circuit(), 0, 4, 8), claim("rounds", 3)) == [("rounds", "kept")]


def test_a_move_that_does_not_come_again_leaves_the_rounds_standing() -> None:
    rows = circuit(rounds=2)
    assert judge(rows, claim("rounds_again")) == [("rounds", "kept")]
    assert judge(skip(rows, 6), claim("rounds_again")) == [("rounds", "kept")]
    assert judge(skip(rows, 4, 5, 6, 7), claim("rounds_again")) == [("rounds", "broken")]


def test_intervals_that_are_off_by_unlike_amounts_break_no_length() -> None:
    rows = circuit()
    for at, more_s in ((1, 8), (5, 16), (9, 30), (10, 50)):
        rows[at] = replace(rows[at], length_s=40 + more_s)
    assert judge(rows, claim("work", 40)) == [("work", "kept")]


def test_minutes_talked_of_inside_the_warm_up_are_not_those_of_the_class() -> None:
    at_s = (WARM_UP.start_s or 0) + 5
    assert judge(WHOLE, claim("minutes", 60, at_s=at_s), length_s=1500) == []
    sworn = claim("minutes", 60, at_s=at_s, sure=True)
    assert judge(WHOLE, sworn, length_s=1500) == [("minutes", "broken")]


def test_a_warm_up_is_promised_before_the_work_only() -> None:
    between = circuit()[3].start_s or 0
    assert judge(circuit(), claim("warm_up", at_s=between - 10)) == []


def test_the_work_of_a_whole_round_is_no_length_of_a_move() -> None:
    assert judge(circuit(("Jab", "Hook")), claim("work", 80)) == []
    assert judge(circuit(("Jab", "Hook")), claim("work", 50)) == [("work", "broken")]


@pytest.mark.parametrize(("ref", "kind"), [("no_cool_down", "promise"), ("", "confession")])
def test_a_short_end_where_viewers_are_left_to_stretch_is_no_cool_down(ref: str, kind: str) -> None:
    short = replace(COOL_DOWN, length_s=10, work_s=60)
    left = replace(claim(ref, at_s=(COOL_DOWN.start_s or 0) + 8), kind=kind)
    promised = claim("cool_down")
    assert judge([WARM_UP, *circuit(), short], promised) == [("cool_down", "kept")]
    assert judge([WARM_UP, *circuit(), short], promised, left) == [("cool_down", "broken")]
    whole = replace(short, length_s=60)
    assert judge([WARM_UP, *circuit(), whole], promised, left) == [("cool_down", "kept")]


def test_a_cool_down_that_is_called_off_later_was_promised() -> None:
    skipped = replace(COOL_DOWN, start_s=None)
    called_off = claim("no_cool_down", at_s=800, sure=True)
    judged = judge([WARM_UP, *circuit(), skipped], claim("cool_down"), called_off)
    assert ("cool_down", "broken") in judged
    before = claim("no_cool_down", at_s=6)
    assert ("cool_down", "broken") not in judge(
        [WARM_UP, *circuit(), skipped], claim("cool_down"), before
    )
