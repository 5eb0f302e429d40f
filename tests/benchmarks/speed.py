"""Print how fast a review is, as ratios to what any program of its kind has to pay.

    python -m tests.benchmarks.speed
    python -m tests.benchmarks.speed --quick

Ratios carry over from one machine to another where seconds do not. Times are seconds of
the processor, best of a few, so that a busy machine changes them little. The classes are
one labelled class said again and again, with its plan as often. Processes find the program
compiled, as the libraries are and as it is once installed, and the word lists made ready,
but for the very first.
"""

from __future__ import annotations

import argparse
import cProfile
import gc
import math
import os
import pstats
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from statistics import fmean
from tempfile import TemporaryDirectory
from time import process_time

from reviewkit.cli.app import OBJECTS_BETWEEN_COLLECTIONS
from reviewkit.model import Cue, Plan, Transcript
from reviewkit.read import read_lexicon, read_plan, read_transcript
from reviewkit.report.plan_files import plan_csv
from tests.corpus import FIXTURES

CLASS = FIXTURES / "harbour-evening"
USUAL_MINUTES = 45
GROWTH_MINUTES = (15, 45, 120, 300, 600)
QUICK_MINUTES = (15, 45, 120)
TURNS = 3
COSTLIEST = 8
MINUTE_MS = 60_000


@dataclass(frozen=True)
class Cost:
    """What a process took: seconds of the processor and the most memory at once."""

    cpu_s: float
    peak_mb: float


def long_class(minutes: int) -> tuple[Transcript, Plan]:
    """Say a class again and again for so many minutes, with as much of its plan."""
    transcript, plan = read_transcript(CLASS / "captions.vtt"), read_plan(CLASS / "plan.csv")
    turn_ms = max(cue.end_ms or cue.start_ms for cue in transcript.cues) + 5000
    turns = math.ceil(minutes * MINUTE_MS / turn_ms)
    cues = [_later(cue, turn * turn_ms) for turn in range(turns) for cue in transcript.cues]
    kept = tuple(cue for cue in cues if cue.start_ms < minutes * MINUTE_MS)
    rows = math.floor(len(plan.rows) * minutes * MINUTE_MS / turn_ms)
    return replace(transcript, cues=kept), replace(plan, rows=(plan.rows * turns)[:rows])


def _later(cue: Cue, by_ms: int) -> Cue:
    end_ms = None if cue.end_ms is None else cue.end_ms + by_ms
    return replace(cue, start_ms=cue.start_ms + by_ms, end_ms=end_ms)


def write_class(minutes: int, folder: Path) -> tuple[Path, Path]:
    """Write a long class as captions and its plan as a table."""
    transcript, plan = long_class(minutes)
    blocks = [
        f"{_stamp(cue.start_ms)} --> {_stamp(cue.end_ms or cue.start_ms)}\n{cue.text}\n"
        for cue in transcript.cues
    ]
    captions, table = folder / f"{minutes}.vtt", folder / f"{minutes}.csv"
    captions.write_text("WEBVTT\n\n" + "\n".join(blocks), encoding="utf-8")
    table.write_text(plan_csv(plan), encoding="utf-8")
    return captions, table


def _stamp(at_ms: int) -> str:
    seconds, rest_ms = divmod(at_ms, 1000)
    return f"{seconds // 3600:02}:{seconds // 60 % 60:02}:{seconds % 60:02}.{rest_ms:03}"


def run(folder: Path, *arguments: str) -> Cost:
    """Run a Python process to its end, with nothing on its standard output kept.

    What is compiled or made ready for later runs is kept in a folder.
    """
    kept = {"PYTHONPYCACHEPREFIX": str(folder / "code"), "XDG_CACHE_HOME": str(folder / "lists")}
    process = subprocess.Popen(
        [sys.executable, *arguments],
        stdout=subprocess.DEVNULL,
        env={**os.environ, **kept, "PYTHONDONTWRITEBYTECODE": ""},
    )
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise RuntimeError(f"{arguments} exited with {process.returncode}")
    return Cost(used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)


def best(measure: Callable[[], Cost], turns: int = TURNS) -> Cost:
    """Measure a few times and give the cheapest."""
    return min((measure() for _ in range(turns)), key=lambda cost: cost.cpu_s)


def cpu_s(work: Callable[[], object], turns: int = TURNS) -> float:
    """Give the fewest seconds of the processor that some work took."""
    taken = []
    for _ in range(turns):
        begun_s = process_time()
        work()
        taken.append(process_time() - begun_s)
    return min(taken)


def say(text: str) -> None:
    """Print a line at once."""
    print(text, flush=True)  # noqa: T201


def whole_process() -> None:
    """Set the whole program beside a process that only imports spaCy and pandas."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        captions, table = write_class(USUAL_MINUTES, folder)
        out = str(folder / "review.json")
        review = ("-m", "reviewkit", "review", str(captions), "--plan", str(table), "--json", out)
        imports = best(lambda: run(folder, "-c", "import spacy, pandas"), TURNS + 1)
        alone = best(lambda: run(folder, "-m", "reviewkit", "--help"))
        run(folder, "-c", "import reviewkit.cli.review, reviewkit.review, reviewkit.report.text")
        first = run(folder, *review)
        made = best(lambda: run(folder, *review))
    say(f"Whole process, a class of {USUAL_MINUTES} minutes")
    say(f"  importing spaCy and pandas {imports.cpu_s:7.2f} s {imports.peak_mb:6.0f} MB")
    say(f"  first review of all        {first.cpu_s:7.2f} s {first.peak_mb:6.0f} MB")
    say(f"  review                     {made.cpu_s:7.2f} s {made.peak_mb:6.0f} MB")
    say(f"  help                       {alone.cpu_s:7.2f} s {alone.peak_mb:6.0f} MB")
    say(f"  review to imports          {made.cpu_s / imports.cpu_s:7.2f} times (goal 1.5)")


def in_process(minutes: Sequence[int]) -> None:
    """Set a review beside splitting the same words into tokens, and see how it grows."""
    import spacy

    from reviewkit.review import review
    from reviewkit.words import split_words

    tokenizer = spacy.blank("en").tokenizer
    lexicon = read_lexicon()
    review(*long_class(minutes[0]), lexicon)
    say("In process, minutes of class: review, tokens by a blank pipeline, ratio (goal 10)")
    taken = []
    for size in minutes:
        transcript, plan = long_class(size)
        text = " ".join(word.text for word in split_words(transcript).words)
        turns = TURNS if size <= 2 * USUAL_MINUTES else 1
        review_s = cpu_s(lambda: review(transcript, plan, lexicon), turns)  # noqa: B023
        tokens_s = cpu_s(lambda: tokenizer(text), turns)  # noqa: B023
        taken.append(review_s)
        say(f"  {size:5} {review_s:8.2f} s {tokens_s:8.3f} s {review_s / tokens_s:8.1f}")
    say(f"  growth: exponent {exponent(minutes, taken):.2f} (goal 1.1)")


def exponent(sizes: Sequence[float], costs: Sequence[float]) -> float:
    """Give the slope of the straight line through the logarithms of both."""
    x, y = [math.log(size) for size in sizes], [math.log(cost) for cost in costs]
    middle_x, middle_y = fmean(x), fmean(y)
    rise = sum((a - middle_x) * (b - middle_y) for a, b in zip(x, y, strict=True))
    return rise / sum((a - middle_x) ** 2 for a in x)


def costliest() -> None:
    """Name the functions that a review spends most of its own time in."""
    from reviewkit.review import review

    transcript, plan = long_class(USUAL_MINUTES)
    lexicon = read_lexicon()
    review(transcript, plan, lexicon)
    profile = cProfile.Profile()
    profile.runcall(review, transcript, plan, lexicon)
    stats = pstats.Stats(profile).get_stats_profile()
    ranked = sorted(stats.func_profiles.items(), key=lambda item: -item[1].tottime)
    say(f"Costliest functions, own seconds of {stats.total_tt:.2f} s under a profiler")
    for name, one in ranked[:COSTLIEST]:
        where = Path(one.file_name).name
        say(f"  {one.tottime:6.2f} s {one.ncalls:>14} calls  {where}: {name}")


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.speed", description=__doc__)
    parser.add_argument("--quick", action="store_true", help="leave the longest classes out")
    asked = parser.parse_args()
    # As the program itself does.
    gc.set_threshold(OBJECTS_BETWEEN_COLLECTIONS)
    # The processes come first: memory that this one took by then would count as theirs.
    whole_process()
    in_process(QUICK_MINUTES if asked.quick else GROWTH_MINUTES)
    costliest()


if __name__ == "__main__":
    main()
