"""Gather lines by which labelled classes give points of the lexicon into ``point_lines.csv``.

    python -m tests.fit.gather_point_lines

A line goes to a point when the plan's point that it gives is nearly the lexicon's. The
note names the class it was heard in, so that a fit can leave a class's own lines out;
lines with another note or none were written by hand and stay.
"""

from __future__ import annotations

import csv
import re
import sys
from collections.abc import Iterable, Iterator

from reviewkit.evaluate import LabelledClass
from reviewkit.findings.point_features import LINES_LIST
from reviewkit.frames.evidence import Ask, weigh_evidence
from reviewkit.frames.grammar import frame_book, parse_frames
from reviewkit.frames.polarity import asks_for_opposite, point_frames
from reviewkit.frames.terms import is_little, words_of
from reviewkit.frames.utterances import Utterance
from reviewkit.model import Lexicon, Line
from reviewkit.read import read_lexicon
from tests.corpus import FIXTURES, load_classes
from tests.fit.point_data import giving_lines

FILE = FIXTURES.parent / "lexicons" / "en" / f"{LINES_LIST}.csv"
# How like a point of the lexicon one of the plan must be for its lines to be the lexicon's.
_NEARLY = 0.74
# A longer line is cut at its punctuation; a piece needs some words, and some that tell.
_LONGEST_WORDS, _SHORTEST_WORDS, _FEWEST_TELLING = 14, 3, 2
_STOPS = re.compile(r"[,.;:!?]")


def gather_lines(
    classes: Iterable[LabelledClass], lexicon: Lexicon
) -> Iterator[tuple[str, str, str]]:
    """Give phrase, point and class of every line, or piece of it, that gives a point."""
    for labelled in classes:
        asked = [(row.move, text) for row in labelled.plan.rows for text in row.must_say]
        for (move, text), point in zip(asked, _kin(asked, lexicon), strict=True):
            for number in giving_lines(labelled, move, text) if point else ():
                for phrase in _pieces(labelled.said[number].text):
                    yield phrase, point, labelled.name


def _kin(asked: list[tuple[str, str]], lexicon: Lexicon) -> list[str]:
    """Give the lexicon's point that each point asked for nearly is, empty where none is."""
    if not asked:
        return []
    nothing = Utterance(Line(0, 0, 0, 1, "hello"), ("hello",))
    book, wanted = frame_book(lexicon), point_frames(lexicon)
    weighed = weigh_evidence([nothing], [Ask(text) for _, text in asked], lexicon)
    return [
        one
        if link >= _NEARLY
        and not asks_for_opposite(parse_frames(words_of(text), book), wanted.get(one, ()))
        else ""
        for (_, text), one, link in zip(asked, weighed.link_ids, weighed.link, strict=True)
    ]


def _pieces(text: str) -> list[str]:
    words = words_of(text)
    pieces = [words] if len(words) <= _LONGEST_WORDS else list(map(words_of, _STOPS.split(text)))
    return [
        " ".join(piece)
        for piece in pieces
        if len(piece) >= _SHORTEST_WORDS
        and sum(not is_little(word) for word in piece) >= _FEWEST_TELLING
    ]


def main() -> None:
    """Write the table anew; lines written by hand stay."""
    classes = load_classes()
    names = {one.name for one in classes}
    with FILE.open(encoding="utf-8", newline="") as file:
        rows = [(row["phrase"], row["label"], row["note"]) for row in csv.DictReader(file)]
    kept = [row for row in rows if row[2] not in names]
    taken = {phrase for phrase, _, _ in kept}
    heard = {row[:2]: row for row in gather_lines(classes, read_lexicon()) if row[0] not in taken}
    with FILE.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(("phrase", "label", "note"))
        writer.writerows(sorted((*kept, *heard.values())))
    sys.stdout.write(f"{len(kept)} lines by hand, {len(heard)} from classes\n")


if __name__ == "__main__":
    main()
