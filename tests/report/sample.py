# ruff: noqa: E501 - one line a row reads better than rows broken up
"""An invented class of fourteen minutes, reviewed by hand: every verdict occurs in it.

The words are written as a coach would say them and spread at a steady pace; intervals,
marks and findings are set beside them, so that reports can be tested without the stages.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Literal, get_args

from reviewkit.cautions import CAUTIONS
from reviewkit.model import (
    Cue,
    Edge,
    Evidence,
    Findings,
    Fix,
    Flag,
    HeardClass,
    Interval,
    IntervalTalk,
    Label,
    Lexicon,
    Mark,
    MoveFinding,
    Piece,
    Plan,
    PlanKind,
    PlanRow,
    PointFinding,
    PointKind,
    PointVerdict,
    Promise,
    PromptFinding,
    Review,
    Score,
    Side,
    Status,
    Talk,
    TimeCall,
    Timing,
    Transcript,
    Word,
)

WORD_MS = 340
SPREAD_MS = 250

# Second, words, and what is heard in them: {kind: part of the words}.
SPOKEN: tuple[tuple[float, str, dict[str, str]], ...] = (
    (3, "hello everyone it is just me and the kitchen clock today", {}),
    (
        9,
        "twelve minutes two rounds of four moves forty on twenty off and no kit at all",
        {
            "promise": "twelve minutes two rounds of four moves forty on twenty off and no kit at all"
        },
    ),
    (
        17,
        "if a knee or a back complains take the small version",
        {"option": "take the small version"},
    ),
    (24, "right let us march on the spot and wake the hips up", {"move": "march on the spot"}),
    (
        30,
        "and march tall through the crown of the head",
        {"form": "tall through the crown of the head"},
    ),
    (41, "roll the shoulders back as you go", {"form": "roll the shoulders back"}),
    (
        52,
        "in through the nose and out through the mouth",
        {"breathing": "in through the nose and out"},
    ),
    (66, "halfway keep it easy", {"time_call": "halfway"}),
    (88, "and rest shake it out", {"rest": "rest"}),
    (95, "first up bodyweight squats feet under your hips", {"move": "bodyweight squats"}),
    (99, "three two one", {"count": "three two one"}),
    (
        101,
        "and down we go chest proud heels heavy",
        {"form": "chest proud", "form ": "heels heavy"},
    ),
    (108, "let the knees follow the toes", {"safety": "knees follow the toes"}),
    (115, "breathe out as you stand", {"breathing": "breathe out as you stand"}),
    (122, "twenty seconds to go you are doing lovely work", {"time_call": "twenty seconds to go"}),
    (131, "hang on the dog wants to join in one second", {}),
    (144, "and we carry on keep it smooth", {"motivation": "keep it smooth"}),
    (157, "three two one and rest", {"count": "three two one", "rest": "rest"}),
    (
        163,
        "press ups next hands on the floor or on the sofa",
        {"move": "press ups", "option": "on the sofa"},
    ),
    (179, "go one long line from ears to ankles", {"form": "one long line from ears to ankles"}),
    (187, "elbows brush your ribs do not let them flare", {"form": "elbows brush your ribs"}),
    (196, "ten seconds left", {"time_call": "ten seconds left"}),
    (203, "strong finish you can do anything for ten seconds", {"motivation": "strong finish"}),
    (217, "and rest", {"rest": "rest"}),
    (226, "reverse lunge right leg steps back", {"move": "reverse lunge"}),
    (240, "here we go long step and the front heel stays put", {"form": "front heel stays put"}),
    (250, "drop the back knee straight down", {"form": "drop the back knee straight down"}),
    (258, "blow the air out on the way up", {"breathing": "blow the air out on the way up"}),
    (272, "last five", {"time_call": "last five"}),
    (279, "swap legs straight away", {"announcement": "swap legs"}),
    (285, "left leg back and go", {"move": "left leg back"}),
    (300, "same again long step", {"form": "long step"}),
    (326, "and relax get some water", {"rest": "relax"}),
    (341, "plank hold find your forearms", {"move": "plank hold"}),
    (347, "belly in back flat do not let the hips sag", {"safety": "do not let the hips sag"}),
    (356, "lift the hips high so they are above the shoulders", {"form": "lift the hips high"}),
    (368, "hold your breath and squeeze everything you have", {"risky_talk": "hold your breath"}),
    (379, "and rest", {"rest": "rest"}),
    (384, "that is one round done one more to come", {"announcement": "one round done"}),
    (398, "squats again ready go", {"move": "squats"}),
    (404, "sink a little deeper if it feels good", {"option": "sink a little deeper"}),
    (412, "halfway", {"time_call": "halfway"}),
    (424, "push the floor away", {"form": "push the floor away"}),
    (438, "three two one rest", {"count": "three two one", "rest": "rest"}),
    (445, "my wrists are grumpy so today we do star jumps instead", {"move": "star jumps"}),
    (458, "land softly with bent knees", {"safety": "land softly"}),
    (475, "out out out short breaths", {"breathing": "short breaths"}),
    (497, "and rest", {"rest": "rest"}),
    (504, "i fancy some mountain climbers nobody planned these", {"move": "mountain climbers"}),
    (512, "hands under shoulders and run", {"form": "hands under shoulders"}),
    (536, "done shake the wrists", {"rest": "done"}),
    (545, "reverse lunges right leg", {"move": "reverse lunges"}),
    (551, "tall chest", {"form": "tall chest"}),
    (583, "and left", {"move": "left"}),
    (612, "stand up", {"rest": "stand up"}),
    (622, "last plank of the day", {"move": "plank"}),
    (631, "long neck look between your hands", {"form": "long neck"}),
    (645, "steady breaths in and out", {"breathing": "steady breaths in and out"}),
    (664, "and lower down", {"rest": "lower down"}),
    (672, "lie on your back and hug the knees", {"move": "hug the knees"}),
    (684, "let everything go heavy", {"motivation": "let everything go heavy"}),
    (700, "slow breath in and a longer one out", {"breathing": "slow breath in"}),
    (731, "and that is the class thank you see you next time", {}),
)

# move, kind, round, side, work s, rest s, must say
PLANNED: tuple[tuple[str, PlanKind, int, Side, int, int, tuple[str, ...]], ...] = (
    ("March on the spot", "warm-up", 1, "", 60, 15, ("roll the shoulders",)),
    ("Bodyweight squat", "work", 1, "", 40, 20, ("knees over the toes", "heels stay down")),
    ("Press-up", "work", 1, "", 40, 20, ("straight line head to heel", "hands under the shoulders")),
    ("Reverse lunge", "work", 1, "right", 40, 5, ("front knee over the ankle", "chest tall")),
    ("Reverse lunge", "work", 1, "left", 40, 20, ("front knee over the ankle", "chest tall")),
    ("Plank hold", "work", 1, "", 40, 20, ("don't let the hips sag",)),
    ("Bodyweight squat", "work", 2, "", 40, 20, ("knees over the toes", "heels stay down")),
    ("Press-up", "work", 2, "", 40, 20, ("straight line head to heel", "hands under the shoulders")),
    ("Reverse lunge", "work", 2, "right", 40, 5, ("front knee over the ankle", "chest tall")),
    ("Reverse lunge", "work", 2, "left", 40, 20, ("front knee over the ankle", "chest tall")),
    ("Plank hold", "work", 2, "", 40, 20, ("don't let the hips sag",)),
    ("Knee hug", "cool-down", 1, "", 60, 0, ()),
    ("Hamstring stretch", "cool-down", 1, "each", 40, 0, ("soft knee",)),
)  # fmt: skip

# plan row, status, start s, end s, half-width of the range, timing, rest after s
HAPPENED: tuple[tuple[int | None, Status, float, float, float, Timing, float], ...] = (
    (1, "done", 28, 88, 1.2, "on time", 12.6),
    (2, "done", 100.6, 157.9, 0.6, "long", 21),
    (3, "done", 179, 217, 0.8, "on time", 23),
    (4, "done", 240, 279, 0.9, "on time", 6.5),
    (5, "done", 285.5, 326, 1.4, "on time", 19),
    (6, "done", 345, 379, 3.6, "unclear", 20.4),
    (7, "done", 399.4, 438.9, 0.7, "on time", 19.1),
    (8, "swapped", 458, 497, 1.1, "on time", 14),
    (None, "added", 511, 536, 2.0, "unclear", 11.5),
    (9, "done", 547.5, 582, 0.9, "short", 2.5),
    (10, "done", 584.5, 612, 1.0, "short", 15),
    (11, "done", 627, 664, 2.4, "on time", 12),
    (12, "done", 676, 731, 2.9, "on time", 0),
)  # fmt: skip


def sample_review() -> Review:
    """Build the review of the invented class."""
    talk, marks = _talk()
    plan = _plan()
    heard = HeardClass(plan, talk, marks, _intervals(plan), Lexicon((), (), {}))
    cues = tuple(
        Cue(round(at * 1000), None, (Piece(text),), line)
        for line, (at, text, _) in enumerate(SPOKEN, 1)
    )
    transcript = Transcript("kitchen-clock.vtt", "WebVTT", cues)
    return Review(transcript, heard, _findings(heard), CAUTIONS)


def corrected_review() -> Review:
    """Build the same review with an interval, a point and findings put right or set aside."""
    sample = sample_review()
    intervals = list(sample.heard.intervals)
    intervals[1] = replace(intervals[1], by_coach=True, set_aside="we agreed on this")
    moves = list(sample.findings.moves)
    first, *others = moves[1].points
    moves[1] = replace(moves[1], points=(replace(first, by_coach=True), *others))
    found = sample.findings
    calls, promises, flags = found.time_calls, found.promises, found.flags
    aside = "heard wrongly"
    return replace(
        sample,
        heard=replace(sample.heard, intervals=tuple(intervals)),
        findings=replace(
            found,
            moves=tuple(moves),
            time_calls=(replace(calls[0], set_aside=aside), *calls[1:]),
            promises=(replace(promises[0], set_aside=aside), *promises[1:]),
            flags=(replace(flags[0], set_aside=aside), *flags[1:]),
        ),
    )


def _talk() -> tuple[Talk, tuple[Mark, ...]]:
    words: list[Word] = []
    marks: list[Mark] = []
    for at_s, text, heard in SPOKEN:
        first = len(words)
        start_ms = round(at_s * 1000)
        for place, word in enumerate(text.split()):
            at_ms = start_ms + place * WORD_MS
            words.append(Word(word, word, at_ms, at_ms + WORD_MS - 40, SPREAD_MS))
        for kind, part in heard.items():
            marks.append(_mark(kind.strip(), part.split(), text.split(), first, words))
    return Talk(tuple(words), "captions", 400, 742_000), tuple(marks)


def _mark(kind: str, part: list[str], line: list[str], first: int, words: list[Word]) -> Mark:
    place = next(at for at in range(len(line)) if line[at : at + len(part)] == part)
    one, last = first + place, first + place + len(part) - 1
    return Mark(kind, one, last, words[one].start_ms, words[last].end_ms, " ".join(part), ref=kind)


def _plan() -> Plan:
    blocks = {"warm-up": "Warm-up", "work": "Main", "cool-down": "Cool-down"}
    rows = tuple(
        PlanRow(move, work * 1000, blocks[kind], kind, round_, side, rest * 1000, must_say)
        for move, kind, round_, side, work, rest, must_say in PLANNED
    )
    return Plan("kitchen-clock-plan.csv", rows, title="Kitchen clock")


def _edge(at_s: float, half_s: float) -> Edge:
    at_ms, half_ms = round(at_s * 1000), round(half_s * 1000)
    return Edge(at_ms, at_ms - half_ms, at_ms + half_ms)


def _intervals(plan: Plan) -> tuple[Interval, ...]:
    made = []
    for row_number, status, start_s, end_s, half_s, timing, rest_s in HAPPENED:
        row = plan.rows[row_number - 1] if row_number else None
        length_ms, slack_ms = round((end_s - start_s) * 1000), round(half_s * 1400)
        made.append(
            Interval(
                id=f"i{row_number}" if row_number else "a1",
                plan_row=row_number,
                block=row.block if row else "Main",
                kind=row.kind if row else "work",
                round=row.round if row else 2,
                move=row.move if row else "Mountain climber",
                side=row.side if row else "",
                planned_ms=row.work_ms if row else None,
                status=status,
                start=_edge(start_s, half_s),
                end=_edge(end_s, half_s),
                length_low_ms=length_ms - slack_ms,
                length_high_ms=length_ms + slack_ms,
                timing=timing if row else None,
                planned_rest_ms=row.rest_ms if row else None,
                rest_after_ms=round(rest_s * 1000),
                done_instead="Star jump" if status == "swapped" else "",
                certainty=0.97,
            )
        )
    return (*made, _skipped(plan.rows[12], 13))


def _skipped(row: PlanRow, plan_row: int) -> Interval:
    return Interval(
        id=f"i{plan_row}",
        plan_row=plan_row,
        block=row.block,
        kind=row.kind,
        round=row.round,
        move=row.move,
        side=row.side,
        planned_ms=row.work_ms,
        status="skipped",
        start=None,
        end=None,
        length_low_ms=None,
        length_high_ms=None,
        timing=None,
        planned_rest_ms=row.rest_ms,
        rest_after_ms=None,
    )


def _findings(heard: HeardClass) -> Findings:
    return Findings(
        talk=tuple(_interval_talk(heard, one) for one in heard.intervals),
        moves=_moves(),
        time_calls=_time_calls(),
        promises=_promises(),
        flags=_flags(),
        scores=_scores(),
        fixes=_fixes(),
        profile=(("words_per_min", 62.4), ("cues_per_min", 3.9), ("breathing_share", 0.22)),
    )


def _interval_talk(heard: HeardClass, interval: Interval) -> IntervalTalk | None:
    if interval.start is None or interval.end is None:
        return None
    start_ms, end_ms = interval.start.at_ms, interval.end.at_ms
    inside = [word for word in heard.talk.words if start_ms <= word.start_ms < end_ms]
    marks = [mark for mark in heard.marks if start_ms <= mark.start_ms < end_ms]
    counts: dict[Label, int] = dict.fromkeys(get_args(Label), 0)
    for mark in marks:
        for label in counts:
            counts[label] += mark.kind == label
    cues = sum(counts[label] for label in ("form", "safety", "breathing", "option", "motivation"))
    moments = [
        start_ms,
        *(time for word in inside for time in (word.start_ms, word.end_ms)),
        end_ms,
    ]
    silences = [b - a for a, b in zip(moments[::2], moments[1::2], strict=True)]
    return IntervalTalk(
        words=len(inside),
        cues=cues,
        cues_per_min=cues * 60_000 / (end_ms - start_ms),
        longest_silence_ms=max(silences),
        labels=tuple(counts.items()),
    )


def _said(at_s: float, text: str) -> Evidence:
    return Evidence(round(at_s * 1000), text)


def _point(
    point: str,
    kind: PointKind,
    verdict: PointVerdict,
    *evidence: Evidence,
    by_lexicon: bool = False,
    why: str = "",
    line: str = "",
) -> PointFinding:
    asked_by: Literal["plan", "lexicon"] = "lexicon" if by_lexicon else "plan"
    return PointFinding(point, kind, asked_by, verdict, evidence, "", why, line)


def _moves() -> tuple[MoveFinding, ...]:
    said, nothing = PromptFinding, PromptFinding("missing")
    return (
        MoveFinding(
            "March on the spot",
            (_point("roll the shoulders", "form", "said", _said(41, "roll the shoulders back")),),
            said("said", (_said(52, "in through the nose and out"),)),
            nothing,
        ),
        MoveFinding(
            "Bodyweight squat",
            (
                _point(
                    "knees over the toes", "safety", "said", _said(108, "knees follow the toes")
                ),
                _point("heels stay down", "form", "said", _said(104.4, "heels heavy")),
                _point(
                    "chest up",
                    "form",
                    "said",
                    _said(103, "chest proud"),
                    by_lexicon=True,
                ),
            ),
            said("said", (_said(115, "breathe out as you stand"),)),
            said("said", (_said(404, "sink a little deeper"),)),
        ),
        MoveFinding(
            "Press-up",
            (
                _point(
                    "straight line head to heel",
                    "form",
                    "said",
                    _said(179.3, "one long line from ears to ankles"),
                ),
                _point(
                    "hands under the shoulders",
                    "form",
                    "missing",
                    why="Hands too far forward load the shoulder.",
                    line="Hands right under your shoulders.",
                ),
                _point(
                    "elbows close",
                    "form",
                    "said",
                    _said(187, "elbows brush your ribs"),
                    by_lexicon=True,
                ),
            ),
            nothing,
            said("said", (_said(166, "on the sofa"),)),
        ),
        MoveFinding(
            "Reverse lunge",
            (
                _point(
                    "front knee over the ankle",
                    "safety",
                    "missing",
                    why="A knee that runs ahead of the foot takes the load.",
                    line="Keep your front knee above your ankle.",
                ),
                _point("chest tall", "form", "late", _said(551, "tall chest")),
                _point(
                    "front heel down",
                    "form",
                    "said",
                    _said(242, "front heel stays put"),
                    by_lexicon=True,
                ),
            ),
            said("said", (_said(258, "blow the air out on the way up"),)),
            nothing,
        ),
        MoveFinding(
            "Plank hold",
            (
                _point(
                    "don't let the hips sag",
                    "safety",
                    "said",
                    _said(348.4, "do not let the hips sag"),
                ),
                _point("long neck", "form", "late", _said(631, "long neck"), by_lexicon=True),
                _point(
                    "shoulders over elbows",
                    "safety",
                    "missing",
                    by_lexicon=True,
                    why="Elbows out in front strain the lower back.",
                    line="Stack your shoulders over your elbows.",
                ),
            ),
            said("said", (_said(645, "steady breaths in and out"),)),
            nothing,
        ),
        MoveFinding("Knee hug", (), said("said", (_said(700, "slow breath in"),)), nothing),
        MoveFinding(
            "Hamstring stretch",
            (_point("soft knee", "safety", "missing", line="Keep a soft bend in the knee."),),
            nothing,
            nothing,
        ),
    )


def _time_calls() -> tuple[TimeCall, ...]:
    return (
        TimeCall(66_300, "halfway", "i1", 30_000, 21_700, "wrong"),
        TimeCall(123_400, "twenty seconds to go", "i2", 20_000, 34_500, "wrong"),
        TimeCall(197_000, "ten seconds left", "i3", 10_000, 20_000, "wrong"),
        TimeCall(272_700, "last five", "i4", 5_000, 6_300, "right"),
        TimeCall(412_300, "halfway", "i7", 20_000, 26_600, "unclear"),
    )


def _promises() -> tuple[Promise, ...]:
    return (
        Promise("minutes", 9_000, "twelve minutes", 12.0, 11.7, "kept"),
        Promise("rounds", 9_700, "two rounds", 2.0, 2.0, "kept"),
        Promise("work", 11_400, "forty on", 40.0, 51.0, "broken", "3 of 11 intervals differ"),
        Promise("rest", 12_100, "twenty off", 20.0, 17.5, "unclear"),
        Promise("equipment", 13_000, "no kit at all", "none", "sofa", "unclear", "an option uses one"),
    )  # fmt: skip


def _flags() -> tuple[Flag, ...]:
    return (
        Flag("dead_air", 302_000, "Reverse lunge", 1, "same again long step", "24 s without a word", "i5"),
        Flag(
            "contradiction", 348_400, "Plank hold", 1, "do not let the hips sag",
            "two lines on where the hips go, for one position", "i6",
            356_000, "lift the hips high so they are above the shoulders",
        ),
        Flag(
            "risky_talk", 368_000, "Plank hold", 1, "hold your breath",
            "holding the breath under effort pushes blood pressure up", "i6",
            instead="Keep breathing, small and steady.",
        ),
        Flag("side_imbalance", 584_500, "Reverse lunge", 2, "and left", "right 34 s, left 28 s", "i10"),
    )  # fmt: skip


def _scores() -> tuple[tuple[str, Score], ...]:
    return (
        ("timing", Score(65.6, (("lengths", 68.2), ("plan", 88.5), ("time calls", 25.0), ("promises", 66.7)))),
        ("cues", Score(55.6, (("safety", 33.3), ("form", 70.0), ("careful talk", 66.7), ("no contradictions", 75.0)))),
        ("density", Score(72.2, (("cued", 61.0), ("no dead air", 72.4), ("room to listen", 100.0)))),
        ("breathing", Score(None, (("prompted", None), ("never held", None)))),
    )  # fmt: skip


def _fixes() -> tuple[Fix, ...]:
    return (
        Fix(1, "Cut “hold your breath” or talk over it", "Say instead: “Keep breathing, small and steady.”", 368_000, "i6"),
        Fix(2, "Say where the front knee goes in the reverse lunge", "Record “Keep your front knee above your ankle.” and lay it over 4:10.", 250_000, "i4"),
        Fix(3, "Trim 17 s from the first squat", "Cut 2:10 to 2:27, where the dog comes in.", 131_000, "i2"),
        Fix(4, "Say hips level, not high, in the plank", "Drop the line at 5:56: it undoes the one at 5:48.", 356_000, "i6"),
        Fix(5, "Put a true call over “ten seconds left”", "20 s were left. Move the line to 3:27.", 196_000, "i3"),
        Fix(6, "Tell people the hamstring stretch is missing", "The plan ends with it; add it or change the description.", None, "i13"),
    )  # fmt: skip
