"""Render a class's exact words as the transcripts that people have.

Each form has its own grain of time and its own faults: words with stamps from a careful
recogniser, short captions without a full stop, subtitles with figures, captions that
roll up, one block of text in forty seconds, TTML. The same class always gives the same
transcript.
"""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from html import escape

from reviewkit.evaluate import LabelledClass
from reviewkit.model import Word
from tests.mishearing import GOOD_HEARING, Hearing, mishear, punctuate, seeded, write_figures

CAPTION_HEARING = Hearing()
BLOCK_HEARING = Hearing(mishears=0.12, drops=0.02)
# Roll-up captions name sounds in a silence this long.
_MUSIC_AFTER_MS = 12_000
_PLACE = "align:start position:0%"


@dataclass(frozen=True, slots=True)
class Form:
    """A kind of transcript: its usual file name and how to write it."""

    file_name: str
    render: Callable[[LabelledClass, random.Random], str]


def render(labelled: LabelledClass, form: str) -> str:
    """Write a class in one of ``ANY_FORM``."""
    return ANY_FORM[form].render(labelled, seeded(f"{labelled.name}:{form}"))


# --- the forms -----------------------------------------------------------------------------


def _words_json(labelled: LabelledClass, rng: random.Random) -> str:
    heard = punctuate(mishear(labelled.words, rng, GOOD_HEARING), _line_starts(labelled), rng)
    segments = [
        {
            "id": number,
            "start": group[0].start_ms / 1000,
            "end": group[-1].end_ms / 1000,
            "text": f" {_text(group)}",
            "words": [
                {"word": f" {one.text}", "start": one.start_ms / 1000, "end": one.end_ms / 1000}
                for one in group
            ],
        }
        for number, group in enumerate(_groups(heard, max_ms=9000, max_chars=220, pause_ms=1300))
    ]
    return json.dumps({"language": "en", "segments": segments}, ensure_ascii=False)


def _captions(labelled: LabelledClass, rng: random.Random) -> str:
    heard = mishear(labelled.words, rng, CAPTION_HEARING)
    return _in_captions(_groups(heard, max_ms=3000, max_chars=42, pause_ms=1000))


def _in_captions(groups: Iterable[list[Word]]) -> str:
    cues = [
        f"{_clock(group[0].start_ms)} --> {_clock(group[-1].end_ms)}\n{_text(group)}\n"
        for group in groups
    ]
    return "\n".join(["WEBVTT\n", *cues])


def _subtitles(labelled: LabelledClass, rng: random.Random) -> str:
    heard = write_figures(mishear(labelled.words, rng, GOOD_HEARING))
    heard = punctuate(heard, _line_starts(labelled), rng)
    cues = []
    for number, group in enumerate(_groups(heard, max_ms=5000, max_chars=84, pause_ms=1500), 1):
        start, end = _clock(group[0].start_ms, ","), _clock(group[-1].end_ms, ",")
        cues.append(f"{number}\n{start} --> {end}\n{_two_lines(_text(group))}\n")
    return "\n".join(cues)


def _rollup(labelled: LabelledClass, rng: random.Random) -> str:
    """Each line comes word by word under the one before it, then stands still for a moment."""
    heard = write_figures(mishear(labelled.words, rng, CAPTION_HEARING))
    groups = list(_groups(heard, max_ms=3500, max_chars=36, pause_ms=1500))
    out, above = ["WEBVTT\nKind: captions\nLanguage: en\n"], " "
    for group, after in zip(groups, [*groups[1:], None], strict=True):
        end_ms = after[0].start_ms if after else group[-1].end_ms
        pause_ms = end_ms - group[-1].end_ms
        has_music = pause_ms > _MUSIC_AFTER_MS and rng.random() < 0.5
        if has_music:
            end_ms = group[-1].end_ms + 2000
        out.append(_rolling(group, above, end_ms))
        above = _text(group)
        if has_music and after:
            stamp = f"{_clock(end_ms + 10)} --> {_clock(after[0].start_ms)} {_PLACE}"
            out.append(f"{stamp}\n{above}\n[Music]\n")
            above = "[Music]"
    return "\n".join(out)


def _rolling(group: Sequence[Word], above: str, end_ms: int) -> str:
    rest = "".join(f"<{_clock(word.start_ms)}><c> {word.text}</c>" for word in group[1:])
    start, end, later = _clock(group[0].start_ms), _clock(end_ms), _clock(end_ms + 10)
    return (
        f"{start} --> {end} {_PLACE}\n{above}\n{group[0].text}{rest}\n\n"
        f"{end} --> {later} {_PLACE}\n{_text(group)}\n \n"
    )


def _blocks(labelled: LabelledClass, rng: random.Random) -> str:
    return _in_blocks(mishear(labelled.words, rng, BLOCK_HEARING), longest_ms=40_000)


def _in_blocks(heard: Sequence[Word], *, longest_ms: int) -> str:
    blocks = []
    for group in _groups(heard, max_ms=longest_ms, max_chars=10_000, pause_ms=600_000):
        minutes, seconds = divmod(group[0].start_ms // 1000, 60)
        blocks.append(f"[{minutes}:{seconds:02d}] {_text(group)}\n")
    return "\n".join(blocks)


def _ttml(labelled: LabelledClass, rng: random.Random) -> str:
    heard = mishear(labelled.words, rng, CAPTION_HEARING)
    cues = [
        f'   <p begin="{_clock(group[0].start_ms)}" end="{_clock(group[-1].end_ms)}">'
        f"{_two_lines(escape(_text(group), quote=False), '<br/>')}</p>"
        for group in _groups(heard, max_ms=4500, max_chars=64, pause_ms=1500)
    ]
    return "\n".join(
        [
            '<?xml version="1.0" encoding="UTF-8"?>',
            '<tt xmlns="http://www.w3.org/ns/ttml" xml:lang="en">',
            " <body>",
            "  <div>",
            *cues,
            "  </div>",
            " </body>",
            "</tt>",
            "",
        ]
    )


FORMS = {
    "words": Form("words.json", _words_json),
    "vtt": Form("captions.vtt", _captions),
    "srt": Form("captions.srt", _subtitles),
    "rollup": Form("rollup.vtt", _rollup),
    "blocks": Form("blocks.txt", _blocks),
    "ttml": Form("captions.ttml", _ttml),
}
FINE_FORMS = ("words", "vtt", "srt", "rollup", "ttml")


def _written_somehow(labelled: LabelledClass, rng: random.Random) -> list[Word]:
    heard = mishear(labelled.words, rng, rng.choice((GOOD_HEARING, CAPTION_HEARING, BLOCK_HEARING)))
    if rng.random() < 0.5:
        heard = write_figures(heard)
    return punctuate(heard, _line_starts(labelled), rng) if rng.random() < 0.5 else heard


def _any_captions(labelled: LabelledClass, rng: random.Random) -> str:
    return _in_captions(
        _groups(
            _written_somehow(labelled, rng),
            max_ms=rng.choice((1500, 2500, 4000, 6000, 9000)),
            max_chars=rng.choice((32, 42, 64, 84, 120)),
            pause_ms=rng.choice((700, 1000, 1500, 2500)),
        )
    )


def _any_blocks(labelled: LabelledClass, rng: random.Random) -> str:
    heard = _written_somehow(labelled, rng)
    return _in_blocks(heard, longest_ms=rng.randrange(25_000, 60_000))


# Besides them, forms to learn from: each class is heard, cut and written as chance has it.
ANY_FORM = FORMS | {
    "any captions": Form("captions.vtt", _any_captions),
    "any blocks": Form("blocks.txt", _any_blocks),
}

# --- parts of them ---------------------------------------------------------------------------


def _groups(
    words: Sequence[Word], *, max_ms: int, max_chars: int, pause_ms: int
) -> Iterator[list[Word]]:
    """Cut words into cues that end when they grow too long or a pause comes; never empty."""
    group: list[Word] = []
    chars = 0
    for word in words:
        is_full = group and (
            word.end_ms - group[0].start_ms > max_ms
            or chars + len(word.text) > max_chars
            or word.start_ms - group[-1].end_ms > pause_ms
        )
        if is_full:
            yield group
            group, chars = [], 0
        group.append(word)
        chars += len(word.text) + 1
    if group:
        yield group


def _line_starts(labelled: LabelledClass) -> list[int]:
    return [line.start_ms for line in labelled.said]


def _text(words: Sequence[Word]) -> str:
    return " ".join(word.text for word in words)


def _two_lines(text: str, line_break: str = "\n", max_chars: int = 42) -> str:
    """Break a text that is too long for one line near its middle."""
    place = text.find(" ", len(text) // 2)
    if len(text) <= max_chars or place < 0:
        return text
    return text[:place] + line_break + text[place + 1 :]


def _clock(at_ms: int, point: str = ".") -> str:
    seconds, ms = divmod(at_ms, 1000)
    minutes, seconds = divmod(seconds, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours:02d}:{minutes:02d}:{seconds:02d}{point}{ms:03d}"
