"""Time a review by stage, on the demo class and on one an hour long.

    python -m tests.benchmarks

The long class is the demo said over and over, with a plan as long as that.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from resource import RUSAGE_SELF, getrusage
from time import perf_counter
from typing import TypeVar

from reviewkit.model import Lexicon, Plan, Transcript
from reviewkit.read import read_lexicon, read_plan, read_transcript
from reviewkit.report.folder import report_files
from reviewkit.review import review
from reviewkit.words import split_words
from tests.corpus import FIXTURES

DEMO = FIXTURES / "harbour-evening"
LONG_MS = 60 * 60 * 1000
Made = TypeVar("Made")


def timed(name: str, stage: Callable[[], Made]) -> Made:
    """Do a stage and print how long it took, and the most memory taken so far."""
    start_s = perf_counter()
    made = stage()
    took_s = perf_counter() - start_s
    peak_mb = getrusage(RUSAGE_SELF).ru_maxrss // 1024
    print(f"  {name:<24}{took_s:8.2f} s {peak_mb:8} MB", flush=True)  # noqa: T201
    return made


def lengthened(transcript: Transcript, plan: Plan) -> tuple[Transcript, Plan]:
    """Say a class again and again until it is long."""
    length_ms = split_words(transcript).length_ms
    times = -(-LONG_MS // length_ms)
    cues = tuple(
        replace(
            cue,
            start_ms=cue.start_ms + turn * length_ms,
            end_ms=None if cue.end_ms is None else cue.end_ms + turn * length_ms,
            pieces=tuple(replace(one, start_ms=None, end_ms=None) for one in cue.pieces),
        )
        for turn in range(times)
        for cue in transcript.cues
    )
    return replace(transcript, cues=cues), replace(plan, rows=plan.rows * times)


def time_class(transcript: Transcript, plan: Plan, lexicon: Lexicon) -> None:
    """Review a class once and print the seconds that each part took."""
    timed("words", lambda: split_words(transcript))
    made = timed("review, words and all", lambda: review(transcript, plan, lexicon))
    timed("report", lambda: report_files(made))


def main() -> None:
    """Time reading and both classes."""
    print("Reading")  # noqa: T201
    lexicon = timed("lexicon", read_lexicon)
    transcript = timed("transcript", lambda: read_transcript(DEMO / "captions.vtt"))
    plan = timed("plan", lambda: read_plan(DEMO / "plan.csv"))
    print("The demo class")  # noqa: T201
    time_class(transcript, plan, lexicon)
    print("An hour")  # noqa: T201
    time_class(*lengthened(transcript, plan), lexicon)


if __name__ == "__main__":
    main()
