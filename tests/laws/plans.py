"""Plans of every shape a plan can have, for laws that hold for all of them."""

from __future__ import annotations

from hypothesis import strategies as st

from reviewkit.model import Plan, PlanKind, PlanRow, Side

# Words that are settings elsewhere on a line, and signs that mean something there.
_TRICKY = (
    "left right each both side sides per rest break water 45s 1m30s 20m 0:45 40/20 x x3 3x round "
    "rounds 2 three minutes minute twice work on off then and to say: cue: class warm-up cool "
    "down stretch no between after block main l r a half halfway switch hold ( ) [ ] \" ' ; , : - "
    "* # = =1+1 - 1. | é Übung 動き sep= every circuit times"
)
_words = st.sampled_from(_TRICKY.split()) | st.text(
    st.characters(codec="utf-8", categories=("L", "N", "P", "S")), min_size=1, max_size=6
)
names = st.lists(_words, min_size=1, max_size=4).map(" ".join)
points = names.map(lambda text: text.replace(";", "")).map(lambda text: " ".join(text.split()))
lengths_ms = st.sampled_from((20_000, 30_000, 40_000, 60_000, 90_000, 1_200_000)) | st.integers(
    1, 14_400_000
)
rests_ms = st.none() | st.just(0) | lengths_ms
kinds: st.SearchStrategy[PlanKind] = st.sampled_from(("warm-up", "work", "cool-down"))
sides: st.SearchStrategy[Side] = st.sampled_from(("", "left", "right", "each"))


@st.composite
def rows(draw: st.DrawFn) -> PlanRow:
    """Any row that a table can hold."""
    return PlanRow(
        move=draw(names),
        work_ms=draw(lengths_ms),
        block=draw(st.sampled_from(("Main", "Warm-up", "Finish", "Block 2")) | names),
        kind=draw(kinds),
        round=draw(st.integers(1, 4)),
        side=draw(sides),
        rest_ms=draw(rests_ms),
        must_say=tuple(dict.fromkeys(filter(None, draw(st.lists(points, max_size=3))))),
    )


@st.composite
def circuits(draw: st.DrawFn) -> list[PlanRow]:
    """Rounds of the same moves, which text writes once."""
    once = draw(st.lists(rows(), min_size=1, max_size=3))
    block, kind = draw(names), draw(kinds)
    between, last = draw(rests_ms), draw(rests_ms)
    made = []
    rounds = draw(st.integers(1, 4))
    for number in range(1, rounds + 1):
        for at, row in enumerate(once):
            rest = row.rest_ms
            if at == len(once) - 1:
                rest = last if number == rounds else between
            made.append(
                PlanRow(row.move, row.work_ms, block, kind, number, row.side, rest, row.must_say)
            )
    return made


row_lists = st.lists(rows().map(lambda row: [row]) | circuits(), min_size=1, max_size=4).map(
    lambda parts: [row for part in parts for row in part]
)


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Any plan, with or without a title and an announced length."""
    return Plan(
        source="plan",
        rows=tuple(draw(row_lists)),
        title=draw(st.just("") | st.just("Harbour Steps") | names),
        minutes=draw(st.none() | st.sampled_from((3.0, 7.5, 20.0, 45.0))),
    )
