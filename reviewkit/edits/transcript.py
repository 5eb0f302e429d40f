"""The talk as captions to publish: the words as put right, in lines that can be read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate, groupby, pairwise

from reviewkit.edits.caption_files import Shown, one_after_another, show
from reviewkit.edits.overlays import wrap_text
from reviewkit.edits.records import Renamed
from reviewkit.edits.renaming import put_right
from reviewkit.language.lines import split_lines
from reviewkit.model import Line, Talk
from reviewkit.times import Span

MOST_LINES = 2
MOST_MS = 6_000
# A caption of one short word stays at least this long, if the next one lets it.
LEAST_MS = 700


def transcript_captions(talk: Talk, renamed: Sequence[Renamed]) -> tuple[Shown, ...]:
    """Set out the whole talk in captions of at most two lines; no word is lost or doubled."""
    texts = put_right(talk.words, renamed)
    return one_after_another(
        shown
        for line in split_lines(talk)
        for first, last in _runs(talk, texts, line)
        for shown in _caption(talk, texts, first, last)
    )


def _runs(talk: Talk, texts: Sequence[str], line: Line) -> list[tuple[int, int]]:
    """Part a line into as few runs of words as fit captions, each about as long."""
    words = line.last - line.first + 1
    runs: list[tuple[int, int]] = []
    for parts in range(1, words + 1):
        runs = _even_runs(texts, line, parts)
        if all(_fits(talk, texts, *run) for run in runs):
            break
    return runs


def _even_runs(texts: Sequence[str], line: Line, parts: int) -> list[tuple[int, int]]:
    """Part a line into so many runs, or fewer, by where the middle of each word falls."""
    ends = [0, *accumulate(len(texts[at]) + 1 for at in range(line.first, line.last + 1))]
    place = [(begin + end) * parts // (2 * ends[-1]) for begin, end in pairwise(ends)]
    grouped = groupby(range(line.first, line.last + 1), key=lambda at: place[at - line.first])
    runs = [list(run) for _, run in grouped]
    return [(run[0], run[-1]) for run in runs]


def _fits(talk: Talk, texts: Sequence[str], first: int, last: int) -> bool:
    lasts_ms = talk.words[last].end_ms - talk.words[first].start_ms
    return lasts_ms <= MOST_MS and len(wrap_text(_text(texts, first, last))) <= MOST_LINES


def _text(texts: Sequence[str], first: int, last: int) -> str:
    return " ".join(text for text in texts[first : last + 1] if text)


def _caption(talk: Talk, texts: Sequence[str], first: int, last: int) -> Iterator[Shown]:
    start_ms = max(0, talk.words[first].start_ms)
    end_ms = max(talk.words[last].end_ms, start_ms + LEAST_MS)
    shown = show(Span(start_ms, end_ms), *wrap_text(_text(texts, first, last)))
    if shown.lines:
        yield shown
