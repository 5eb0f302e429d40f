from __future__ import annotations

from dataclasses import replace

from reviewkit.model import Evidence, MoveFinding, PromptFinding
from reviewkit.report.heard import heard_marks
from tests.report.sample import sample_review


def test_the_words_behind_a_verdict_are_heard() -> None:
    review = sample_review()
    heard = replace(review.heard, marks=())
    marks = heard_marks(replace(review, heard=heard))
    found = {(mark.kind, mark.text) for mark in marks}
    assert {("safety", "knees follow the toes"), ("option", "sink a little deeper")} <= found
    for mark in marks:
        spoken = [word.text for word in review.heard.talk.words[mark.first : mark.last + 1]]
        assert len(spoken) == len(mark.text.split())


def test_evidence_after_the_last_word_marks_nothing() -> None:
    review = sample_review()
    late = PromptFinding("said", (Evidence(10**9, "breathe"),))
    move = MoveFinding("Squat", (), late, PromptFinding("missing"))
    bare = replace(review, findings=replace(review.findings, moves=(move,)))
    assert heard_marks(bare) == tuple(
        sorted(review.heard.marks, key=lambda mark: (mark.first, mark.last, mark.kind))
    )
