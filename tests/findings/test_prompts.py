from dataclasses import replace

from reviewkit.findings.breathing import judge_breathing
from reviewkit.findings.options import judge_options
from reviewkit.judge import judge_class
from reviewkit.model import Edge, HeardClass, Interval, Lexicon, Mark, Plan, PlanRow
from tests.talking import talk


def interval(row: int, move: str, start_ms: int, *, done_instead: str = "") -> Interval:
    start, end = (Edge(at, at, at) for at in (start_ms, start_ms + 30_000))
    return Interval(
        id=f"i{row}", plan_row=row, block="Main", kind="work", round=1, move=move, side="",
        planned_ms=30_000, status="swapped" if done_instead else "done", start=start, end=end,
        length_low_ms=30_000, length_high_ms=30_000, timing="on time", planned_rest_ms=None,
        rest_after_ms=None, done_instead=done_instead,
    )  # fmt: skip


def heard(*marks: Mark) -> HeardClass:
    moves = ("Squat", "Plank", "Skipped")
    plan = Plan("plan", tuple(PlanRow(move, 30_000) for move in moves))
    intervals = (interval(1, "Squat", 10_000), interval(2, "Plank", 60_000, done_instead="Bridge"))
    return HeardClass(plan, talk("breathe"), marks, intervals, Lexicon((), (), {}))


def mark(kind: str, at_ms: int) -> Mark:
    return Mark(kind, 0, 0, at_ms, at_ms + 500, "breathe out")


def test_prompt_between_intervals_does_not_count() -> None:
    assert judge_breathing(heard(mark("breathing", 50_000)))["Squat"].verdict == "missing"


def test_in_and_out_that_start_or_end_an_interval_are_signals() -> None:
    def said(text: str, at_ms: int) -> str:
        one = replace(mark("breathing", at_ms), text=text)
        return judge_breathing(heard(one))["Squat"].verdict

    assert [said("In.", 10_000), said("and out", 39_600)] == ["missing", "missing"]
    assert [said("in and out", 20_000), said("breathe in", 10_000)] == ["said", "said"]


def test_a_prompt_near_an_edge_counts_where_it_was_likely_inside() -> None:
    exact = heard(mark("breathing", 62_000))
    squat, plank = exact.intervals
    vague = replace(exact, intervals=(squat, replace(plank, start=Edge(60_000, 45_000, 75_000))))
    said = [judge_breathing(one)["Plank"].verdict for one in (exact, vague)]
    assert said == ["said", "missing"]
    before = heard(mark("breathing", 59_000))
    assert judge_breathing(before)["Plank"].verdict == "missing"


def test_other_kind_does_not_count() -> None:
    assert judge_breathing(heard(mark("breath_hold", 20_000)))["Squat"].verdict == "missing"


def test_move_never_done_is_left_out() -> None:
    assert set(judge_breathing(heard())) == {"Squat", "Plank"}


def test_prompt_inside_counts_with_its_words() -> None:
    finding = judge_breathing(heard(mark("breathing", 20_000)))["Squat"]
    assert (finding.verdict, finding.evidence[0].text) == ("said", "breathe out")


def test_a_line_that_prompts_twice_is_told_once() -> None:
    once = mark("breathing", 20_000)
    finding = judge_breathing(heard(once, replace(once, ref="in"), mark("breathing", 25_000)))
    assert [one.at_ms for one in finding["Squat"].evidence] == [20_000, 25_000]


def test_asking_to_hold_the_breath_is_no_prompt() -> None:
    held = replace(mark("risky_talk", 20_000), ref="breath")
    assert judge_breathing(heard(mark("breathing", 20_000), held))["Squat"].verdict == "missing"
    pain = replace(held, ref="pain")
    assert judge_breathing(heard(mark("breathing", 20_000), pain))["Squat"].verdict == "said"


def test_swapped_slot_counts_for_the_planned_move() -> None:
    assert judge_options(heard(mark("option", 70_000)))["Plank"].verdict == "said"


def test_a_move_never_done_lacks_no_prompt() -> None:
    found = judge_class(heard(mark("breathing", 20_000)))
    assert [(one.move, one.breathing.verdict, one.options.verdict) for one in found.moves] == [
        ("Squat", "said", "missing"),
        ("Plank", "missing", "missing"),
        ("Skipped", "not done", "not done"),
    ]
    assert dict(found.scores)["breathing"].parts[0] == ("prompted", 50.0)
