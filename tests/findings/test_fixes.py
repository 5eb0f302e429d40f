from dataclasses import replace

from reviewkit.findings.fixes import MOST_FIXES, list_fixes
from reviewkit.model import (
    Fix,
    Flag,
    HeardClass,
    MoveFinding,
    PointFinding,
    Promise,
    PromptFinding,
    TimeCall,
)
from tests.findings.classes import COOL_DOWN, WARM_UP, circuit, heard_class
from tests.talking import talk

WORDS = talk("sit low [2] push the floor away [6] and up", start_ms=120_000).words
CLASS = heard_class([WARM_UP, *circuit(), COOL_DOWN], words=WORDS)
SAID, MISSING = PromptFinding("said"), PromptFinding("missing")
KNEES = PointFinding("knees out", "safety", "plan", "missing", line="Knees over your toes.")
CHEST = PointFinding("chest tall", "form", "plan", "late")
RISKY = Flag("risky_talk", 400_000, "Lunge", 2, "push through the pain", "why", "i8",
             instead="If it hurts, stop.")  # fmt: skip
WRONG = TimeCall(130_000, "ten left", "i2", 10_000, 22_000, "wrong")
BROKEN = Promise("minutes", 5_000, "ten minutes", 10.0, 16.0, "broken", "it took 16")


def fixes(
    heard: HeardClass = CLASS,
    moves: tuple[MoveFinding, ...] = (),
    calls: tuple[TimeCall, ...] = (),
    promises: tuple[Promise, ...] = (),
    flags: tuple[Flag, ...] = (),
) -> tuple[Fix, ...]:
    return list_fixes(heard, moves, calls, promises, flags)


def test_a_faultless_class_needs_nothing() -> None:
    good = MoveFinding("Squat", (replace(KNEES, verdict="said"),), SAID, SAID)
    right = replace(WRONG, verdict="right")
    assert fixes(moves=(good,), calls=(right,), promises=(replace(BROKEN, verdict="kept"),)) == ()


def test_uneven_sides_are_mended_by_the_words_for_the_shorter_one() -> None:
    flag = Flag("side_imbalance", 90_000, "Clam", 1, "left 40 s, right 28 s", "why", "i2",
                instead="12 more seconds on the right.")  # fmt: skip
    (fix,) = fixes(flags=(flag,))
    assert "12 more seconds on the right." in fix.how


def test_one_move_without_breath_is_not_told_of_others() -> None:
    silent = MoveFinding(CLASS.intervals[1].move, (), MISSING, SAID)
    (fix,) = fixes(moves=(silent,))
    assert "other" not in fix.how


def test_nothing_is_done_about_what_is_unclear() -> None:
    calls = (replace(WRONG, verdict="unclear"),)
    assert fixes(calls=calls, promises=(replace(BROKEN, verdict="unclear"),)) == ()


def test_safety_comes_before_form_and_form_before_timing() -> None:
    move = MoveFinding("Squat", (CHEST, KNEES), SAID, SAID)
    listed = fixes(moves=(move,), calls=(WRONG,), promises=(BROKEN,), flags=(RISKY,))
    words = ("risky", "knees out", "chest tall", "time call", "ten minutes")
    assert [fix.rank for fix in listed] == [1, 2, 3, 4, 5]
    for fix, word in zip(listed, words, strict=True):
        assert word in fix.what


def test_a_point_is_recorded_over_the_first_gap_that_fits() -> None:
    (fix,) = fixes(moves=(MoveFinding("Squat", (KNEES,), SAID, SAID),))
    assert fix.at_ms == WORDS[5].end_ms + 300
    assert fix.how.startswith("Record over the gap")
    assert "Knees over your toes." in fix.how
    assert fix.interval == "i2"


def test_nothing_is_recorded_over_talk() -> None:
    """Nor where one stamp covers many words, as nobody knows of gaps there."""
    busy = talk(" ".join(["and"] * 200), start_ms=100_000).words
    lacking = MoveFinding("Squat", (KNEES,), MISSING, SAID)
    coarse = replace(CLASS, talk=replace(CLASS.talk, clock="blocks"))
    for heard in (heard_class([WARM_UP, *circuit(), COOL_DOWN], words=busy), coarse):
        for fix in fixes(heard, moves=(lacking,)):
            assert fix.how.startswith("Put a caption")
            assert "gap at" not in fix.how


def test_a_point_of_a_move_that_was_skipped_is_no_fix() -> None:
    assert fixes(moves=(MoveFinding("Burpee", (KNEES,), SAID, SAID),)) == ()


def test_risky_words_come_with_the_safer_ones() -> None:
    (fix,) = fixes(flags=(RISKY,))
    assert "push through the pain" in fix.what
    assert "If it hurts, stop." in fix.how
    assert fix.at_ms == 400_000


def test_repeated_faults_are_one_fix() -> None:
    calls = tuple(replace(WRONG, at_ms=130_000 + 60_000 * at) for at in range(7))
    silences = tuple(Flag("dead_air", 150_000 * at, "Squat", 1, "", "") for at in (1, 2))
    moves = tuple(MoveFinding(name, (), MISSING, SAID) for name in ("Squat", "Lunge", "Plank"))
    listed = fixes(moves=moves, calls=calls, flags=silences)
    assert len(listed) == 3
    assert "7 wrong time calls: 2:10, 3:10, 4:10, 5:10, 6:10 and 2 more" in listed[0].what


def test_a_promised_part_that_was_left_out_is_one_fix() -> None:
    flag = Flag("no_cool_down", 900_000, "", None, "", "why", instead="Add two slow minutes.")
    promise = replace(BROKEN, what="cool_down", said="promised", found="not done")
    (fix,) = fixes(promises=(promise,), flags=(flag,))
    assert fix.how == "Add two slow minutes."


def test_the_words_that_sent_for_kit_are_no_caption() -> None:
    kit = Promise("equipment", 5_000, "no discs", "mat", "off i put two discs on", "broken", "why")
    (fix,) = fixes(promises=(kit,))
    assert "all the kit that is used" in fix.how
    assert "two discs" not in fix.how


def test_long_intervals_are_listed_with_their_surplus() -> None:
    rows = circuit()
    rows[0] = replace(rows[0], length_s=52)
    (fix,) = fixes(heard_class(rows, words=WORDS))
    assert "Squat at 2:00 (+12 s)" in fix.what


def test_moves_that_traded_places_are_named_without_a_full_stop() -> None:
    why = "Lunge came before Squat; the plan has them the other way round."
    (fix,) = fixes(flags=(Flag("order", 400_000, "Squat", 1, "", why, "i8"),))
    assert fix.what == why[:-1]


def test_few_suggestions_from_the_lexicon() -> None:
    point = replace(KNEES, asked_by="lexicon")
    names = ("Squat", "Push-up", "Lunge", "Plank")
    moves = tuple(MoveFinding(name, (point,), SAID, SAID) for name in names)
    assert len(fixes(moves=moves)) == 3


def test_the_list_stays_short() -> None:
    flags = tuple(replace(RISKY, at_ms=10_000 * at) for at in range(40))
    listed = fixes(flags=flags)
    assert len(listed) == MOST_FIXES
    assert [fix.rank for fix in listed] == list(range(1, MOST_FIXES + 1))
