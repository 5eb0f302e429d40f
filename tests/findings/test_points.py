from __future__ import annotations

from reviewkit.findings.points import judge_points
from reviewkit.model import HeardClass, Plan, PlanRow, PointFinding, Talk
from reviewkit.read import read_lexicon
from tests.findings.classes import Row, interval
from tests.talking import talk

FIRST_MS, SECOND_MS = 5_000, 65_000


def judged(
    first: str, second: str, *must_say: str, move: str = "Goblet squat"
) -> dict[str, PointFinding]:
    """Say lines in the two rounds of a move; give the plan's findings by their words."""
    early, late = talk(first, start_ms=FIRST_MS), talk(second, start_ms=SECOND_MS)
    said = Talk((*early.words, *late.words), "words", 0, 120_000)
    rows = [Row(move, 0), Row(move, 60, round=2)]
    spans = tuple(interval(row, number + 1) for number, row in enumerate(rows))
    plan = Plan(
        "plan.csv",
        tuple(PlanRow(row.move, 40_000, round=row.round, must_say=must_say) for row in rows),
    )
    ((name, findings),) = judge_points(HeardClass(plan, said, (), spans, read_lexicon()))
    assert name == move
    return {one.point: one for one in findings if one.asked_by == "plan"}


def test_chat_gives_no_point() -> None:
    chat = "my sister rang this morning about the cake [3] lovely weather here"
    found = judged(chat, chat, "knees out over the toes", "heels stay down")
    assert [one.verdict for one in found.values()] == ["missing", "missing"]
    assert all(one.evidence == () for one in found.values())


def test_a_cue_that_has_nothing_in_common_with_a_point_does_not_give_it() -> None:
    cue = "sit back into your heels and keep your chest tall"
    (one,) = judged(cue, cue, "zorble the wibbet").values()
    assert one.verdict == "missing"


def test_a_point_is_said_in_other_words() -> None:
    found = judged(
        "don't let those knees cave in push them wide [4] back of the feet glued to the carpet",
        "and again",
        "knees out over the toes",
        "heels stay down",
    )
    assert [one.verdict for one in found.values()] == ["said", "said"]
    assert found["heels stay down"].evidence[0].at_ms > FIRST_MS


def test_a_point_first_given_in_the_second_round_is_late() -> None:
    found = judged(
        "here we go then [5] lovely",
        "push your knees out over your toes [4] knees out",
        "knees out over the toes",
    )
    (one,) = found.values()
    assert one.verdict == "late"
    assert one.evidence[0].at_ms >= SECOND_MS


def test_the_plan_comes_before_the_lexicon_and_nothing_is_asked_twice() -> None:
    said = talk("knees out over your toes")
    plan = Plan("plan.csv", (PlanRow("Goblet squat", 40_000, must_say=("knees follow the toes",)),))
    spans = (interval(Row("Goblet squat", 0), 1),)
    ((_, findings),) = judge_points(HeardClass(plan, said, (), spans, read_lexicon()))
    asked_by = [one.asked_by for one in findings]
    assert asked_by == sorted(asked_by, key=("plan", "lexicon").index)
    assert [one.point_id for one in findings].count("knees-track-toes") == 1
    assert all(one.line for one in findings)


def test_words_of_the_plan_become_the_line_when_the_lexicon_has_none() -> None:
    (one,) = judged("hello", "hello", "wave the purple flag").values()
    assert one.line == "Wave the purple flag."
    assert one.point_id == ""


def test_the_lexicon_gives_the_line_where_it_words_the_point_as_the_plan_does() -> None:
    (one,) = judged("hello", "hello", "knees out").values()
    assert one.line != "Knees out."
    assert one.why


def test_what_is_only_like_a_point_is_not_put_in_the_coachs_mouth() -> None:
    """The lexicon has hands flat on the floor, and heels that touch."""
    for asked in ("hands flat on the bag", "heels never touch"):
        (one,) = judged("hello", "hello", asked).values()
        assert one.line == f"{asked.capitalize()}."
        assert not one.why


def test_a_move_that_was_never_done_misses_its_points() -> None:
    said = talk("push your knees out")
    plan = Plan("plan.csv", (PlanRow("Goblet squat", 40_000, must_say=("knees out",)),))
    spans = (interval(Row("Goblet squat", None), 1),)
    ((_, findings),) = judge_points(HeardClass(plan, said, (), spans, read_lexicon()))
    assert findings[0].verdict == "missing"


def test_a_coarse_clock_that_loses_a_move_does_not_lose_what_was_said() -> None:
    cue = "and push your knees out over your toes as you sit down"
    plan = Plan(
        "plan.csv",
        (
            PlanRow("Goblet squat", 40_000, must_say=("knees out over the toes",)),
            PlanRow("Dead bug", 40_000),
        ),
    )
    spans = (interval(Row("Goblet squat", None), 1), interval(Row("Dead bug", 60), 2))
    verdicts = [
        judge_points(
            HeardClass(plan, talk(cue, start_ms=5_000, clock=clock), (), spans, read_lexicon())
        )[0][1][0].verdict
        for clock in ("words", "blocks")
    ]
    assert verdicts == ["missing", "said"]


def test_no_talk_and_no_points_are_no_trouble() -> None:
    plan = Plan("plan.csv", (PlanRow("Zzz", 40_000),))
    assert judge_points(HeardClass(plan, talk(""), (), (), read_lexicon())) == (("Zzz", ()),)
    wanted = Plan("plan.csv", (PlanRow("Zzz", 40_000, must_say=("knees out",)),))
    ((_, findings),) = judge_points(HeardClass(wanted, talk(""), (), (), read_lexicon()))
    assert findings[0].verdict == "missing"


def test_an_unknown_move_is_asked_for_the_points_of_its_pattern() -> None:
    plan = Plan("plan.csv", (PlanRow("Towel row", 40_000),))
    ((_, findings),) = judge_points(HeardClass(plan, talk("hello"), (), (), read_lexicon()))
    asked = {one.point_id for one in findings}
    rows = [move for move in read_lexicon().moves if move.pattern == "pull-horizontal"]
    assert asked
    assert all(one.asked_by == "lexicon" for one in findings)
    assert asked <= {point for move in rows for point in move.points}


def test_a_point_given_only_as_an_image_was_said() -> None:
    (one,) = judged(
        "and sit down [2] you should be able to wiggle your toes inside your trainers [3] lovely",
        "and again [4] sit back heels heels heels",
        "weight in the heels",
    ).values()
    assert one.verdict == "said"


def test_a_story_that_names_the_part_is_hardly_ever_the_cue() -> None:
    stories = (
        "my nephew got his knees stuck in the garden gate on monday",
        "my nephew got his knees stuck in the fence last week",
        "my brother had his knees done in the spring and he's like new",
        "our dog has terrible knees bless him",
        "my knees went the colour of plums after that bike ride",
        "the plumber was on his knees in my kitchen all morning",
        "i banged both knees on the coffee table on sunday",
    )
    cue = "push those knees wide over your toes"
    told = [judged(story, "and again", "knees out over the toes") for story in stories]
    (asked,) = judged(cue, "and again", "knees out over the toes").values()
    missing = sum(one.verdict == "missing" for found in told for one in found.values())
    assert missing >= len(stories) - 1
    assert asked.verdict == "said"


def test_a_line_goes_to_the_point_that_it_fits_best() -> None:
    found = judged(
        "press those heels into the floor", "and again", "weight in the heels", "chest proud"
    )
    assert [one.verdict for one in found.values()] == ["said", "missing"]
