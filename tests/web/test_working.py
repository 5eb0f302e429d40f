from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from threading import Event
from typing import Any

import pytest

from reviewkit.errors import InputError
from reviewkit.model import HeardClass
from reviewkit.review import Stage, hear_class
from reviewkit.store import Store
from reviewkit.web import making, working
from reviewkit.web.jobs import FAULT
from tests.web.visitor import PLAN, TALK, Visitor, field_value, words


@dataclass(frozen=True)
class Slow:
    """Listening that stands still until it is let go."""

    is_there: Event = field(default_factory=Event)
    is_let_go: Event = field(default_factory=Event)

    def __call__(self, *given: Any, watch: Callable[[Stage], None], **named: Any) -> HeardClass:
        self.is_there.set()
        assert self.is_let_go.wait(30)
        return hear_class(*given, watch=watch, **named)


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> Iterator[Slow]:
    one = Slow()
    monkeypatch.setattr(making, "hear_class", one)
    yield one
    one.is_let_go.set()


def test_it_tells_how_far_it_is(page: Visitor, slow: Slow) -> None:
    sent = page.send(plan_text=PLAN, title="Slow one")
    assert slow.is_there.wait(30)
    shown = page.get(sent.headers["location"])
    assert "Slow one" in words(shown)
    assert '<li class="now" aria-current="step">Listening through the class</li>' in shown.text
    assert '<noscript><meta http-equiv="refresh" content="2"></noscript>' in shown.text
    state = page.get(f"{sent.headers['location']}/state").json()
    assert re.fullmatch(r"Listening through the class, \d:\d\d so far", state.pop("told"))
    assert state == {"step": 1, "next": None}
    assert "The class lasts 1:51; most computers take less than half a minute" in words(shown)
    slow.is_let_go.set()
    assert page.wait(sent).startswith("/reviews/")
    assert page.get(sent.headers["location"]).headers["location"].startswith("/reviews/")
    state = page.get(f"{sent.headers['location']}/state").json()
    assert state["told"] == "The review is made; open it"


def test_it_can_be_left_and_is_told_of_on_the_start_page(page: Visitor, slow: Slow) -> None:
    first = page.send(plan_text=PLAN, title="Slow one")
    second = page.send(plan_text=PLAN, title="Waiting one")
    assert slow.is_there.wait(30)
    start = page.get("/")
    assert "In the making" in words(start)
    assert first.headers["location"] in start.text
    assert "Slow one Listening through the class, 0:" in words(start)
    assert "so far; 1 class to be done before it" in words(start)
    slow.is_let_go.set()
    page.wait(first), page.wait(second)
    assert "In the making" not in words(page.get("/"))


def test_it_can_be_stopped_and_nothing_sent_is_lost(
    page: Visitor, store: Store, slow: Slow
) -> None:
    sent = page.send(plan_from="typed", plan_text=PLAN, title="Wrong file")
    assert slow.is_there.wait(30)
    stopped = page.post(f"{sent.headers['location']}/stop")
    assert stopped.status_code == 303
    answer = page.get(stopped.headers["location"])
    assert "The review was stopped. What you sent is still here." in words(answer)
    assert "In the making" not in words(answer)
    assert field_value(answer, "title") == "Wrong file"
    assert PLAN in answer.text
    assert "talk.vtt is here already" in words(answer)
    slow.is_let_go.set()
    fields = {"kept": field_value(answer, "kept"), "plan_from": "typed", "plan_text": PLAN}
    page.wait(page.post("/reviews", {**fields, "title": "Right after all"}))
    assert [one.title for one in store.list_reviews()] == ["Right after all"]


def test_what_could_not_be_made_is_told_of_until_it_is_discarded(
    page: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> object:
        raise InputError("own lines/moves.csv", 2, "cannot be used")

    monkeypatch.setattr(making, "hear_class", fail)
    sent = page.send(plan_text=PLAN, title="Mine")
    page.wait(sent)
    told = "Mine It could not be made: own lines/moves.csv, line 2: cannot be used Discard"
    assert told in words(page.get("/"))
    assert page.post(f"{sent.headers['location']}/stop").headers["location"] == "/"
    assert "In the making" not in words(page.get("/"))


@pytest.mark.parametrize(
    ("minutes", "usual"),
    [(0, "half a minute"), (60, "half a minute"), (90, "a minute"), (600, "5 minutes")],
)
def test_a_longer_class_is_said_to_take_longer(minutes: int, usual: str) -> None:
    assert working.usual_wait(minutes * 60_000) == usual


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (InputError("own lines/moves.csv", 2, "cannot be used"), "line 2: cannot be used"),
        (RuntimeError("inside"), FAULT),
    ],
)
def test_a_review_that_stops_gives_everything_back(
    page: Visitor, store: Store, monkeypatch: pytest.MonkeyPatch, error: Exception, said: str
) -> None:
    def fail(*_: object, **__: object) -> object:
        raise error

    with monkeypatch.context() as patch:
        patch.setattr(making, "hear_class", fail)
        led_to = page.wait(page.send(plan_from="typed", plan_text=PLAN, title="Mine"))
    assert led_to.startswith("/?again=")
    answer = page.get(led_to)
    assert said in words(answer)
    assert "inside" not in answer.text
    assert field_value(answer, "title") == "Mine"
    assert PLAN in answer.text
    assert "talk.vtt is here already" in words(answer)
    fields = {"kept": field_value(answer, "kept"), "plan_from": "typed", "plan_text": PLAN}
    page.wait(page.post("/reviews", fields))
    assert store.get_review(store.list_reviews()[0].id).transcript == TALK.encode()


@pytest.mark.parametrize("address", ["/working/none", "/working/none/state", "/drafts/none"])
def test_what_is_not_known_any_more_is_said(page: Visitor, address: str) -> None:
    answer = page.get(address)
    assert answer.status_code == 410
    assert "Send the class again." in words(answer)
