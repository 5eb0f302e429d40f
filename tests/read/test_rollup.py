from __future__ import annotations

from collections.abc import Sequence

import pytest

from tests.read.transcripts import starts, words

LINES = [
    "push push push",
    "push push",
    "up and up",
    "and up and",
    "down",
    "down",
    "and hold it there",
]


def clock(ms: int) -> str:
    return f"00:{ms // 60_000:02d}:{ms // 1000 % 60:02d}.{ms % 1000:03d}"


def rolled_up(lines: Sequence[str], *, stamped: bool, holds: bool) -> str:
    """Write lines of two seconds each as captions that roll up."""
    parts = ["WEBVTT", ""]
    before = " "
    for at, line in enumerate(lines):
        start = 2000 * at
        shown = line
        if stamped:
            first, *others = line.split()
            shown = first + "".join(
                f"<{clock(start + 300 * n)}><c> {word}</c>" for n, word in enumerate(others, 1)
            )
        parts += [f"{clock(start)} --> {clock(start + 2000)}", before, shown, ""]
        if holds:
            parts += [f"{clock(start + 2000)} --> {clock(start + 2010)}", line, " ", ""]
        before = line
    return "\n".join(parts)


@pytest.mark.parametrize("stamped", [True, False])
@pytest.mark.parametrize("holds", [True, False])
def test_each_word_comes_once(stamped: bool, holds: bool) -> None:
    assert words(rolled_up(LINES, stamped=stamped, holds=holds)) == " ".join(LINES).split()


def test_words_keep_their_own_times() -> None:
    got = starts(rolled_up(LINES, stamped=True, holds=True))
    assert got[:5] == [("push", 0), ("push", 300), ("push", 600), ("push", 2000), ("push", 2300)]


def test_three_lines_that_roll() -> None:
    shown = [LINES[max(0, at - 2) : at + 1] for at in range(len(LINES))]
    text = "WEBVTT\n\n" + "\n\n".join(
        f"{clock(2000 * at)} --> {clock(2000 * at + 2000)}\n" + "\n".join(lines)
        for at, lines in enumerate(shown)
    )
    assert words(text) == " ".join(LINES).split()


def test_true_repeats_in_plain_captions_stay() -> None:
    lines = ["push", "push", "hold it", "push", "up", "up", "and down", "now rest"]
    text = "WEBVTT\n\n" + "\n\n".join(
        f"{clock(2000 * at)} --> {clock(2000 * at + 2000)}\n{line}" for at, line in enumerate(lines)
    )
    assert words(text) == " ".join(lines).split()


def test_repeats_far_apart_stay() -> None:
    text = "WEBVTT\n\n" + "\n\n".join(
        f"{clock(5000 * at)} --> {clock(5000 * at + 2000)}\nin\nand out" for at in range(8)
    )
    assert words(text) == ["in", "and", "out"] * 8
