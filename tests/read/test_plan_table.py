"""Plans as tables: every spelling of the same table, and what is wrong with a bad one."""

from __future__ import annotations

import pytest

from reviewkit.errors import InputError, InputErrors
from reviewkit.model import PlanRow
from reviewkit.read.plan import MAX_BYTES, parse_plan

SQUAT = PlanRow("Squat", 45_000, rest_ms=15_000, must_say=("knees out", "chest up"))


def read(text: str, source: str = "plan.csv") -> tuple[PlanRow, ...]:
    return parse_plan(source, text.encode()).rows


def problems(text: str) -> list[str]:
    with pytest.raises(InputErrors) as caught:
        parse_plan("plan.csv", text.encode())
    return str(caught.value).splitlines()


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("move,work,rest,must_say\nSquat,45s,15s,knees out; chest up\n", id="plain"),
        pytest.param("work,rest,must_say,move\n45,15,knees out;chest up,Squat\n", id="any order"),
        pytest.param("MOVE,Work,REST,Must say\nSquat,0:45,0:15,knees out;chest up\n", id="case"),
        pytest.param('move;work;rest;must_say\nSquat;45s;15s;"knees out;chest up"', id="semicolon"),
        pytest.param("move;work;rest;must_say\nSquat;45s;15s;knees out;chest up", id="unquoted"),
        pytest.param("move\twork\trest\tmust_say\nSquat\t45s\t15s\tknees out;chest up", id="tab"),
        pytest.param(
            "\ufeffmove,work,rest,must_say\r\nSquat,45s,15s,knees out;chest up", id="mark"
        ),
        pytest.param(
            '\n\n"move","work","rest","must_say"\n\n,,,\n"Squat","45s","15s","knees out;chest up"',
            id="quotes and blank lines",
        ),
        pytest.param(
            'move,work,rest,must_say\nSquat,45s,15s,"knees out\nchest up"', id="points on lines"
        ),
        pytest.param(
            "My class,,,\n\nmove,work,rest,must_say\nSquat,45s,15s,knees out;chest up", id="title"
        ),
        pytest.param(
            "sep=;\nmove;work;rest;must_say\nSquat;45s;15s;knees out;chest up", id="separator note"
        ),
        pytest.param(
            "move,work,rest,must_say,my notes\nSquat,45s,15s,knees out;chest up,blue mat",
            id="a column of the coach's own",
        ),
        pytest.param(
            "exercise,work,rest,points\nSquat,45 sec,15 seconds,knees out;chest up", id="words"
        ),
    ],
)
def test_one_table_in_many_spellings(text: str) -> None:
    assert read(text) == (SQUAT,)


def test_windows_1252_and_utf_16_are_read() -> None:
    text = "move,work\nPli\u00e9,45s\n"
    for encoding in ("cp1252", "utf-8", "utf-8-sig", "utf-16"):
        assert parse_plan("p", text.encode(encoding)).rows[0].move == "Pli\u00e9"


def test_missing_rounds_count_up_for_each_block_move_and_side() -> None:
    rows = read(
        "block,move,side,work,round\nA,Row,left,30,\nA,Row,right,30,\nA,Row,left,30,\n"
        "B,Row,left,30,\nB,Row,left,30,5\nB,row,left,30,\n"
    )
    assert [row.round for row in rows] == [1, 1, 2, 1, 5, 6]


def test_missing_blocks_are_main_and_missing_kinds_follow_the_block() -> None:
    rows = read("block,move,work\n,Squat,30\nWarm up,March,30\nStretch,Calf,30\n")
    assert [(row.block, row.kind) for row in rows] == [
        ("Main", "work"),
        ("Warm up", "warm-up"),
        ("Stretch", "cool-down"),
    ]


@pytest.mark.parametrize(
    ("spelling", "kind"),
    [
        ("warm-up", "warm-up"),
        ("Warm Up", "warm-up"),
        ("WARMUP", "warm-up"),
        ("warm_up", "warm-up"),
        ("cooldown", "cool-down"),
        ("Cool down", "cool-down"),
        ("Work", "work"),
    ],
)
def test_kinds_are_spelled_in_many_ways(spelling: str, kind: str) -> None:
    assert read(f"move,work,kind\nSquat,45s,{spelling}")[0].kind == kind


@pytest.mark.parametrize(
    ("spelling", "side"),
    [("L", "left"), ("Right side", "right"), ("both sides", "each"), ("EACH", "each"), ("", "")],
)
def test_sides_are_spelled_in_many_ways(spelling: str, side: str) -> None:
    assert read(f"move,work,side\nSquat,45s,{spelling}")[0].side == side


def test_no_rest_and_a_rest_of_nothing_differ() -> None:
    rows = read("move,work,rest\nSquat,45s,\nSquat,45s,0\n")
    assert [row.rest_ms for row in rows] == [None, 0]


def test_every_problem_is_reported_with_its_line() -> None:
    found = problems(
        "kind,move,side,work,rest,round\n"
        "work,Squat,,45x,,\n"
        "\n"
        "dance,Squat,up,45s,soon,first\n"
        ",,,,,\n"
        'work,"two\nlines",,0s,,\n'
        "work,,,45s,,\n"
        "work,Squat,,5h,,0\n"
        "work,Squat,,999m,,\n"
    )
    assert found == [
        'plan.csv, line 2: work "45x" is no length of time; write 45s, 1m30s or 0:45',
        'plan.csv, line 4: round "first" is no round; write a number from 1 to 999',
        'plan.csv, line 4: kind "dance" is unknown; write warm-up, work or cool-down',
        'plan.csv, line 4: side "up" is unknown; write left, right, each or nothing',
        'plan.csv, line 4: rest "soon" is no length of time; write 45s, 1m30s or 0:45',
        'plan.csv, line 6: work "0s" is no time at all; write 45s, 1m30s or 0:45',
        "plan.csv, line 8: move is empty; write the exercise",
        'plan.csv, line 9: round "0" is no round; write a number from 1 to 999',
        'plan.csv, line 9: work "5h" is no length of time; write 45s, 1m30s or 0:45',
        'plan.csv, line 10: work "999m" is longer than 4 hours; write 45s, 1m30s or 0:45',
    ]


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("move,rest\nSquat,5s", "line 1: no column named work"),
        ("move,work,wrok\nSquat,5s,", None),
        ("move,work,sides\nSquat,5s,", 'line 1: column "sides" is unknown; write side'),
        ("move,work,rounds\nSquat,5s,3", 'line 1: column "rounds" is unknown; write round'),
        ("move,work,Move\nSquat,5s,", "line 1: two columns are named move; keep one"),
        ("move,work\n", "has no rows under its header"),
        ("Squat,45s\nRow,45s", "the first line names the columns"),
        ("move,work,rest\nSquat,45s,10s,and,more", "line 2: has 5 cells and the header 3"),
        ('move,work,rest\n"Squat,45s,10s\nRow,45s,10s\nPlank,45s,10s\n', "a quote mark opens here"),
        ("move,work\n" + "m" * 201 + ",45s", "has 201 characters; 200 at most"),
    ],
)
def test_a_table_that_cannot_be_used_says_why(text: str, problem: str | None) -> None:
    if problem is None:
        assert read(text)
    else:
        assert problem in "\n".join(problems(text))


def test_very_many_problems_are_cut_short() -> None:
    found = problems("move,work\n" + "Squat,soon\n" * 100)
    assert len(found) == 26
    assert found[-1] == "plan.csv: and 75 more problems like these"


def test_a_plan_holds_2000_rows_at_most() -> None:
    assert len(read("move,work\n" + "Squat,45s\n" * 2000)) == 2000
    assert problems("move,work\n" + "Squat,45s\n" * 2001) == [
        "plan.csv: has 2001 rows; a plan holds 2000 at most"
    ]


@pytest.mark.parametrize(
    ("data", "problem"),
    [
        (b"", "is empty"),
        (b" \n ", "is empty"),
        (b"x" * (MAX_BYTES + 1), "larger than 5 MB"),
        (b"%PDF-1.7", "is a PDF"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1", "old binary office file"),
        (b"{\\rtf1 Squat}", "rich-text"),
        (b"WEBVTT\n\n00:01.000 --> 00:02.000\nhi", "captions"),
        (bytes(range(1, 32)) * 20, "is no text"),
    ],
)
def test_files_of_other_kinds_are_refused(data: bytes, problem: str) -> None:
    with pytest.raises(InputError, match=problem):
        parse_plan("plan", data)
