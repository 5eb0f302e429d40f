"""Plans as coaches type them: what is understood, and what is asked about."""

from __future__ import annotations

import pytest

from reviewkit.errors import InputErrors
from reviewkit.model import Plan, PlanRow
from reviewkit.read.plan import parse_plan

HARBOUR = """\
Harbour Steps, 20 minutes
Warm-up, 1 round: 30s each
- Arm circles
- Marching with a twist
Main, 3 rounds: 40s work, 20s rest, 60s between rounds
- Goblet squat (say: knees out, chest tall)
- Single-arm row, 45s, each side
- Dead bug
Cool-down: 40s each
- Calf stretch, each side
"""


def read(*lines: str) -> Plan:
    return parse_plan("plan.txt", "\n".join(lines).encode())


def problems(*lines: str) -> list[str]:
    with pytest.raises(InputErrors) as caught:
        read(*lines)
    return str(caught.value).splitlines()


def brief(plan: Plan) -> list[tuple[str, str, int, int | None]]:
    """Give move, side, work and rest of each row, in seconds."""
    return [
        (
            row.move,
            row.side,
            row.work_ms // 1000,
            None if row.rest_ms is None else row.rest_ms // 1000,
        )
        for row in plan.rows
    ]


def test_a_whole_plan() -> None:
    plan = read(HARBOUR)
    assert (plan.title, plan.minutes, len(plan.rows)) == ("Harbour Steps", 20, 12)
    assert plan.rows[0] == PlanRow("Arm circles", 30_000, "Warm-up", "warm-up")
    squat = PlanRow("Goblet squat", 40_000, rest_ms=20_000, must_say=("knees out", "chest tall"))
    assert plan.rows[2] == squat
    assert plan.rows[3] == PlanRow("Single-arm row", 45_000, side="each", rest_ms=20_000)
    assert [row.round for row in plan.rows[2:11]] == [1, 1, 1, 2, 2, 2, 3, 3, 3]
    assert [row.rest_ms for row in plan.rows if row.move == "Dead bug"] == [60_000, 60_000, 20_000]
    assert plan.rows[11] == PlanRow("Calf stretch", 40_000, "Cool-down", "cool-down", 1, "each")


@pytest.mark.parametrize(
    "block",
    [
        "Main, 3 rounds: 40s work, 20s rest",
        "Main, 3 rounds: 40s work / 20s rest",
        "Main x3 40/20",
        "Main 3x, 40 on 20 off",
        "Main: 3 rounds of 40/20",
        "MAIN \u2013 three rounds \u2013 40s on/20s off",
        "## Main (3 rounds) 40 secs work, 20 secs rest",
        "**Main**, 3 times through: work 40, rest 20",
        "Main: repeat 3 times, 40 seconds each, 20 seconds between exercises",
        "3 rounds: 0:40 work, 0:20 rest",
        "3 \u00d7 40s/20s",
        "1. Main, 3 sets, 40s/20s",
    ],
)
@pytest.mark.parametrize("bullet", ["- ", "* ", "\u2022 ", "\u2013 ", "  - ", "-", "- [ ] "])
def test_settings_of_a_block(block: str, bullet: str) -> None:
    plan = read(block, f"{bullet}Squat", f"{bullet}Row")
    assert brief(plan) == [("Squat", "", 40, 20), ("Row", "", 40, 20)] * 3
    assert [row.round for row in plan.rows] == [1, 1, 2, 2, 3, 3]
    assert {row.block.casefold() for row in plan.rows} == {"main"}


@pytest.mark.parametrize(
    ("line", "row"),
    [
        ("Squat", ("Squat", "", 40, 20)),
        ("Squat 45s", ("Squat", "", 45, 20)),
        ("Squat: 45s", ("Squat", "", 45, 20)),
        ("Squat - 45 seconds", ("Squat", "", 45, 20)),
        ("45s Squat", ("Squat", "", 45, 20)),
        ("30 seconds of Plank", ("Plank", "", 30, 20)),
        ("Squat 1 min", ("Squat", "", 60, 20)),
        ("Squat, one minute", ("Squat", "", 60, 20)),
        ("Squat, 1 min 30", ("Squat", "", 90, 20)),
        ("Squat, 1 minute and 30 seconds", ("Squat", "", 90, 20)),
        ("Squat, 1\u00bd min", ("Squat", "", 90, 20)),
        ("Squat, half a minute", ("Squat", "", 30, 20)),
        ("Squat (0:45)", ("Squat", "", 45, 20)),
        ("Squat 30/15", ("Squat", "", 30, 15)),
        ("Squat, 30 on, 15 off", ("Squat", "", 30, 15)),
        ("Squat, rest 30s", ("Squat", "", 40, 30)),
        ("Squat, 30s rest", ("Squat", "", 40, 30)),
        ("Squat, no rest", ("Squat", "", 40, 0)),
        ("Squat, 10s to change", ("Squat", "", 40, 10)),
        ("Squat (slow, with a band)", ("Squat", "", 40, 20)),
        ("Squat, press and hold, 45s", ("Squat, press and hold", "", 45, 20)),
        ("Goblet squat, 12kg, 45s", ("Goblet squat, 12kg", "", 45, 20)),
        ("Bear crawl 20m", ("Bear crawl 20m", "", 40, 20)),
        ("10 squats", ("10 squats", "", 40, 20)),
        ("Row left side", ("Row", "left", 40, 20)),
        ("Row (right)", ("Row", "right", 40, 20)),
        ("Row, left, 45s", ("Row", "left", 45, 20)),
        ("Row, both sides", ("Row", "each", 40, 20)),
        ("Row each side 45s", ("Row", "each", 45, 20)),
        ("Row on each leg", ("Row", "each", 40, 20)),
        ("Row, swap sides halfway", ("Row", "each", 40, 20)),
        ("Punch left and right", ("Punch", "each", 40, 20)),
        ("Step left", ("Step left", "", 40, 20)),
        ("Reach to each side", ("Reach to each side", "", 40, 20)),
        ('"Row, each side"', ("Row, each side", "", 40, 20)),
        ('"Rest", 30s', ("Rest", "", 30, 20)),
        ("\u201cTwenty-ones, 45s\u201d left side", ("Twenty-ones, 45s", "left", 40, 20)),
    ],
)
def test_a_line_of_a_move(line: str, row: tuple[str, str, int, int]) -> None:
    assert brief(read("Main: 40/20", f"- {line}")) == [row]


@pytest.mark.parametrize(
    ("line", "sides"),
    [
        ("Lunge, left then right", ["left", "right"]),
        ("Lunge, right, then left", ["right", "left"]),
        ("Lunge, 40s per side", ["left", "right"]),
        ("Lunge L/R", ["left", "right"]),
    ],
)
def test_sides_that_make_two_rows(line: str, sides: list[str]) -> None:
    rows = read("Main: 40/20", f"- {line}").rows
    assert [(row.move, row.side, row.work_ms) for row in rows] == [
        ("Lunge", side, 40_000) for side in sides
    ]


def test_left_and_right_of_one_move_are_sides() -> None:
    rows = read("- Row left 30s", "- Row right 30s", "- Step left 30s").rows
    assert [(row.move, row.side) for row in rows] == [
        ("Row", "left"),
        ("Row", "right"),
        ("Step left", ""),
    ]


def test_single_letters_are_sides_in_pairs_too() -> None:
    rows = read("Main: 40s", "- Lunge L", "- Lunge R", "- Squat R").rows
    assert [(row.move, row.side) for row in rows] == [
        ("Lunge", "left"),
        ("Lunge", "right"),
        ("Squat R", ""),
    ]


def test_sets_of_one_move_follow_each_other() -> None:
    rows = read("- Plank 3 x 30s, 15s rest", "- Squat 45s").rows
    assert [(row.move, row.round, row.rest_ms) for row in rows] == [
        ("Plank", 1, 15_000),
        ("Plank", 2, 15_000),
        ("Plank", 3, 15_000),
        ("Squat", 1, None),
    ]


@pytest.mark.parametrize(
    ("line", "points"),
    [
        ("- Squat (say: knees out, chest tall)", ("knees out", "chest tall")),
        ("- Squat (say: knees out; chest tall, please)", ("knees out", "chest tall, please")),
        ("- Squat, say: knees out, chest tall", ("knees out", "chest tall")),
        ("- Squat [cues: knees out, chest tall]", ("knees out", "chest tall")),
        ("- Squat\n  say: knees out, chest tall", ("knees out", "chest tall")),
        ("- Squat (say: knees out\n  must say: chest tall", ("knees out", "chest tall")),
    ],
)
def test_points(line: str, points: tuple[str, ...]) -> None:
    assert read("Main: 40s", line).rows[0].must_say == points


@pytest.mark.parametrize(
    ("lines", "rests"),
    [
        pytest.param(["- rest 30s"], [20, 30, 20, 30], id="in the list: in every round"),
        pytest.param(["- 30s rest"], [20, 30, 20, 30], id="length first"),
        pytest.param(["- Water break, 30 seconds"], [20, 30, 20, 30], id="water"),
        pytest.param(["Rest 60s between rounds"], [20, 60, 20, 20], id="between rounds"),
        pytest.param(
            ["", "Rest 1 min"], [20, 20, 20, 60], id="below a blank line: after the block"
        ),
        pytest.param(["Rest 1 min after the block"], [20, 20, 20, 60], id="after the block"),
    ],
)
def test_lines_of_rest(lines: list[str], rests: list[int]) -> None:
    plan = read("Main, 2 rounds: 40/20", "- Squat", "- Row", *lines)
    assert [row[3] for row in brief(plan)] == rests


def test_a_list_without_bullets() -> None:
    plan = read(
        "Monday", "", "Warm up", "March 30s", "", "Main 2 rounds 40/20", "Squat", "Row", "",
        "Cool down 3 min",
    )  # fmt: skip
    assert plan.title == "Monday"
    assert brief(plan) == [
        ("March", "", 30, None),
        *[("Squat", "", 40, 20), ("Row", "", 40, 20)] * 2,
        ("Cool down", "", 180, None),
    ]
    assert [row.kind for row in plan.rows] == ["warm-up"] + ["work"] * 4 + ["cool-down"]


def test_lists_with_and_without_bullets_in_one_plan() -> None:
    plan = read(
        "Sunrise Circuit - 30 mins",
        "",
        "MOBILITY (2 mins)",
        "Ankle rocks 1 min",
        "Hip circles 1 min",
        "",
        "CIRCUIT 1 x 2 rounds",
        "45 secs on 15 secs off",
        "1) Squat",
        "2) Press-up (knees are fine)",
        "1 min rest between rounds",
        "",
        "FINISHER",
        "Burpee 1 min",
        "Rest 30 secs",
        "Mountain climber 1 min",
    )
    assert (plan.title, plan.minutes) == ("Sunrise Circuit", 30)
    assert [(row.block, row.kind) for row in plan.rows] == [
        *[("MOBILITY", "warm-up")] * 2,
        *[("CIRCUIT 1", "work")] * 4,
        *[("FINISHER", "work")] * 2,
    ]
    assert brief(plan) == [
        ("Ankle rocks", "", 60, None),
        ("Hip circles", "", 60, None),
        ("Squat", "", 45, 15),
        ("Press-up", "", 45, 60),
        ("Squat", "", 45, 15),
        ("Press-up", "", 45, 15),
        ("Burpee", "", 60, 30),
        ("Mountain climber", "", 60, None),
    ]


@pytest.mark.parametrize(
    "lines",
    [
        ["Work: 40s", "Rest: 20s", "Rounds: 2", "", "- Squat"],
        ["Work - 40s", "Rest - 20s", "Rounds - 2", "Squat"],
        ["2 rounds", "40s work", "20s rest", "", "Squat"],
        ["Squat 40s, 20s rest", "repeat twice"],
        ["A. Squat 40s, 20s rest", "x2"],
    ],
)
def test_settings_on_lines_of_their_own(lines: list[str]) -> None:
    plan = read(*lines)
    assert brief(plan) == [("Squat", "", 40, 20)] * 2
    assert [row.round for row in plan.rows] == [1, 2]


def test_moves_with_colons_and_no_block() -> None:
    plan = read("Squat: 45s", "Row: 45s", "Plank: 1 min")
    assert brief(plan) == [("Squat", "", 45, None), ("Row", "", 45, None), ("Plank", "", 60, None)]


def test_settings_above_all_blocks_hold_for_the_class() -> None:
    plan = read("Legs", "40 on 20 off", "Main:", "- Squat", "- Row, 30s", "Finisher, 2x:", "- Hop")
    assert brief(plan) == [
        ("Squat", "", 40, 20),
        ("Row", "", 30, 20),
        ("Hop", "", 40, 20),
        ("Hop", "", 40, 20),
    ]


def test_rounds_written_out_go_on_with_their_block() -> None:
    rows = read("Circuit: 40/20", "Round 1", "- Squat", "Round 2: 30s", "- Squat").rows
    assert [(row.block, row.round, row.work_ms, row.rest_ms) for row in rows] == [
        ("Circuit", 1, 40_000, 20_000),
        ("Circuit", 2, 30_000, 20_000),
    ]


@pytest.mark.parametrize(
    ("line", "title", "minutes"),
    [
        ("Harbour Steps", "Harbour Steps", None),
        ("Harbour Steps, 20 minutes", "Harbour Steps", 20),
        ("Harbour Steps (20 min)", "Harbour Steps", 20),
        ("20 minute legs", "20 minute legs", 20),
        ("# Harbour Steps", "Harbour Steps", None),
        ("Class: Warm-up", "Warm-up", None),
        ('Title: "Plank, 3 minutes", 3 minutes', "Plank, 3 minutes", 3),
    ],
)
def test_titles(line: str, title: str, minutes: float | None) -> None:
    plan = read(line, "", "Main: 40s", "- Squat")
    assert (plan.title, plan.minutes) == (title, minutes)


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("Warm-up", "warm-up"),
        ("WARM UP", "warm-up"),
        ("Mobilise", "warm-up"),
        ("Cool down", "cool-down"),
        ("Stretch", "cool-down"),
        ("Finisher", "work"),
        ("Arrive (warm-up)", "warm-up"),
        ("Stretch (work)", "work"),
    ],
)
def test_kinds_of_blocks(name: str, kind: str) -> None:
    assert read(f"{name}: 30s each", "- March").rows[0].kind == kind


def test_a_length_may_be_the_whole_block_when_every_move_has_its_own() -> None:
    assert brief(read("Warm-up, 5 minutes:", "- March, 2 min", "- Swing, 3 min")) == [
        ("March", "", 120, None),
        ("Swing", "", 180, None),
    ]


@pytest.mark.parametrize(
    ("lines", "problem"),
    [
        (
            ["Main, 3 rounds: 40z work, 20s rest", "- Squat"],
            'line 1: "40z work" is no length of time; write 40s, 1m30s or 0:45',
        ),
        (
            ["Main: 40s", "- Squat, 45q"],
            'line 2: "45q" is no length of time; write 45s, 1m30s or 0:45',
        ),
        (["Main:", "- Squat"], 'line 2: "Squat" has no length; write "Squat, 45s", or give its'),
        (["Main: 40s"], None),
        (["Main:", "Finish: 40s", "- Hop"], 'line 1: block "Main" has no moves'),
        (["Main: 40s", "- Squat", "Plank 30s"], 'line 3: "Plank 30s" is neither a move nor a'),
        (["Main: 40s", "- Sit-up x 10"], 'line 2: "10 x" could be rounds or repetitions'),
        (["Main: 40s", "- 45s"], 'line 2: "45s" names no move'),
        (["Main: 40s", "- Squat 45s slow"], 'line 2: "45s" stands inside "Squat 45s slow"'),
        (["Main: 40s", "- Squat, 45s, 50s"], 'line 2: "45s" and "50s" are two lengths of work'),
        (["Main: 40s", "- Squat, 0s"], "line 2: this work is no time at all"),
        (["Main: 40s", "- Squat, 300 minutes"], "line 2: 300m is longer than 4 hours"),
        (["Main: 40s", '- "Squat" slowly'], 'line 2: "slowly" beside the name is no length'),
        (["Main, 5000 rounds: 40s", "- Squat"], "line 1: 5000 is no number of rounds"),
        (["Main: 5 minutes", "- Squat", "- Row"], "line 1: 5m could be the whole block or each"),
        (["Rest 30s", "- Squat, 45s"], "line 1: this rest has no move above it"),
        (["Main: 40s", "- Squat", "- Rest"], "line 3: this rest has no length; write rest 30s"),
        (["say: chest up", "- Squat, 45s"], "line 1: these points have no move above them"),
        (["Harbour Steps"], "has no length"),
        (["---"], "has no moves"),
        (["Main, 900 rounds: 40s", "- Squat", "- Row", "- Hop"], "more than 2000 rows"),
        (["x" * 6000], "line 1: is 6000 characters long"),
    ],
)
def test_what_is_unclear_is_asked_about(lines: list[str], problem: str | None) -> None:
    if problem is None:
        assert read(*lines).rows
    else:
        assert problem in "\n".join(problems(*lines))


def test_all_problems_are_reported_together_in_line_order() -> None:
    found = problems("Main: 40z work", "- Squat, 5q", "- Row", "- Sit-up x 10")
    assert [line.split(":")[0] for line in found] == [
        "plan.txt, line 1",
        "plan.txt, line 2",
        "plan.txt, line 4",
    ]
