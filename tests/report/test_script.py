from __future__ import annotations

from dataclasses import replace

from reviewkit.report.script import KINDS, script
from tests.report.sample import sample_review


def test_every_word_appears_once_and_in_order() -> None:
    review = sample_review()
    told = [
        word
        for passage in script(review)
        for line in passage.lines
        for stretch in line.stretches
        for word in stretch.text.split()
    ]
    assert told == [word.text for word in review.heard.talk.words]


def test_intervals_head_their_own_words() -> None:
    heads = [one.interval.id for one in script(sample_review()) if one.interval]
    assert heads == [*(f"i{row}" for row in range(1, 9)), "a1", "i9", "i10", "i11", "i12"]


def test_marks_are_told_by_kind() -> None:
    stretches = [
        stretch
        for one in script(sample_review())
        for line in one.lines
        for stretch in line.stretches
    ]
    (risky,) = (one for one in stretches if one.text == "hold your breath")
    assert [kind.name for kind in risky.kinds] == ["risky talk"]


def test_marks_of_unknown_kinds_and_places_are_left_out() -> None:
    review = sample_review()
    odd = replace(review.heard.marks[0], kind="hum", first=-3, last=10_000)
    heard = replace(review.heard, marks=(odd,))
    bare = replace(review, heard=heard, findings=replace(review.findings, moves=()))
    lines = [line for one in script(bare) for line in one.lines]
    assert all(not stretch.kinds for line in lines for stretch in line.stretches)


def test_letters_tell_kinds_apart() -> None:
    assert len({kind.letter for kind in KINDS}) == len(KINDS)
