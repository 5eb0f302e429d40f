from dataclasses import replace

import pytest

from reviewkit.findings.risk import ADVICE
from reviewkit.findings.scores import score_class
from reviewkit.model import (
    Flag,
    HeardClass,
    IntervalTalk,
    MoveFinding,
    PointFinding,
    PointKind,
    PointVerdict,
    Promise,
    PromiseVerdict,
    PromptFinding,
    Score,
    TimeCall,
)
from tests.findings.classes import COOL_DOWN, WARM_UP, circuit, heard_class
from tests.talking import talk

CLASS = heard_class([WARM_UP, *circuit(), COOL_DOWN], words=talk("knees out and breathe").words)
SPOKEN = IntervalTalk(words=70, cues=4, cues_per_min=6.0, longest_silence_ms=9_000, labels=())
KEPT = Promise("rounds", 0, "three rounds", 3.0, 3.0, "kept")
RIGHT = TimeCall(0, "ten left", "i2", 10_000, 10_000, "right")


def point(
    verdict: PointVerdict, kind: PointKind = "safety", *, of_plan: bool = True
) -> PointFinding:
    return PointFinding("knees out", kind, "plan" if of_plan else "lexicon", verdict)


def move(name: str, *points: PointFinding, breath: bool = True) -> MoveFinding:
    said, missing = PromptFinding("said"), PromptFinding("missing")
    return MoveFinding(name, points, said if breath else missing, said)


PERFECT = tuple(
    move(name, point("said"), point("said", "form"))
    for name in ("Squat", "Push-up", "Lunge", "Plank")
)


def scores(
    heard: HeardClass = CLASS,
    *,
    spoken: IntervalTalk = SPOKEN,
    moves: tuple[MoveFinding, ...] = PERFECT,
    calls: tuple[TimeCall, ...] = (RIGHT,),
    promises: tuple[Promise, ...] = (KEPT,),
    flags: tuple[Flag, ...] = (),
) -> dict[str, Score]:
    spoken_in = tuple(spoken if one.start else None for one in heard.intervals)
    return dict(score_class(heard, spoken_in, moves, calls, promises, flags))


def flag(kind: str, why: str = "") -> Flag:
    return Flag(kind, 0, "Squat", 1, "words", why)


def test_a_perfect_class_reaches_100_in_every_part() -> None:
    for score in scores().values():
        assert score.value == 100
        assert {part for _, part in score.parts} <= {100, None}


def test_a_class_without_a_word_has_no_score() -> None:
    silent = replace(CLASS, talk=replace(CLASS.talk, words=()))
    assert [score.value for score in scores(silent).values()] == [None] * 4


def test_breath_sounds_alone_are_no_words() -> None:
    silent = replace(CLASS, talk=talk("(exhales) (inhales)"))
    assert scores(silent)["cues"].value is None


def test_what_is_unclear_changes_no_score() -> None:
    unclear: PromiseVerdict = "unclear"
    promises = (KEPT, replace(KEPT, verdict=unclear))
    calls = (RIGHT, replace(RIGHT, verdict="unclear"))
    assert scores(promises=promises, calls=calls) == scores()


@pytest.mark.parametrize(
    ("name", "worse"),
    [
        pytest.param("timing", scores(calls=(replace(RIGHT, verdict="wrong"),)), id="wrong call"),
        pytest.param("timing", scores(promises=(replace(KEPT, verdict="broken"),)), id="broken"),
        pytest.param("timing", scores(heard_class(circuit(length_s=48), words=CLASS.talk.words)),
                     id="long"),
        pytest.param("cues", scores(moves=(move("Squat", point("late")),)), id="late point"),
        pytest.param("cues", scores(flags=(flag("risky_talk"),)), id="risky talk"),
        pytest.param("cues", scores(flags=(flag("contradiction"),)), id="contradiction"),
        pytest.param("density", scores(spoken=replace(SPOKEN, cues=0)), id="no cues"),
        pytest.param("density", scores(spoken=replace(SPOKEN, words=150)), id="crowded"),
        pytest.param("density", scores(spoken=replace(SPOKEN, longest_silence_ms=25_000)),
                     id="silence"),
        pytest.param("breathing", scores(moves=(move("Squat", breath=False),)), id="no prompt"),
        pytest.param("breathing", scores(flags=(flag("risky_talk", ADVICE["breath"][0]),)),
                     id="held breath"),
    ],
)  # fmt: skip
def test_what_went_wrong_lowers_its_score(name: str, worse: dict[str, Score]) -> None:
    value = worse[name].value
    assert value is not None
    assert 0 <= value < 100


def test_the_lexicons_points_count_only_when_the_plan_asks_for_none() -> None:
    asked = move("Squat", point("said"), point("missing", of_plan=False))
    unasked = move("Squat", point("missing", of_plan=False))
    assert scores(moves=(asked,))["cues"].value == 100
    assert scores(moves=(unasked,))["cues"].value == 42.9


def test_a_block_clock_judges_no_silences() -> None:
    blocks = replace(CLASS, talk=replace(CLASS.talk, clock="blocks"))
    parts = dict(scores(blocks)["density"].parts)
    assert parts["no dead air"] is None
    assert scores(blocks)["density"].value == 100
