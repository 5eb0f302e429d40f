from __future__ import annotations

from collections.abc import Callable
from threading import Event

import pytest

from reviewkit.errors import InputError
from reviewkit.review import hear_class
from reviewkit.store import Store
from reviewkit.web import making
from reviewkit.web.jobs import FAULT
from tests.web.visitor import PLAN, TALK, Visitor, field_value, words


def test_it_tells_how_far_it_is(page: Visitor, monkeypatch: pytest.MonkeyPatch) -> None:
    is_let_go, is_there = Event(), Event()
    hear: Callable[..., object] = hear_class

    def slow(*given: object, **named: object) -> object:
        is_there.set()
        assert is_let_go.wait(30)
        return hear(*given, **named)

    monkeypatch.setattr(making, "hear_class", slow)
    sent = page.send(plan_text=PLAN, title="Slow one")
    assert is_there.wait(30)
    shown = page.get(sent.headers["location"])
    assert "Slow one" in words(shown)
    assert '<li class="now" aria-current="step">Listening through the class</li>' in shown.text
    assert '<noscript><meta http-equiv="refresh" content="2"></noscript>' in shown.text
    state = page.get(f"{sent.headers['location']}/state").json()
    assert state == {"step": 1, "next": None}
    is_let_go.set()
    assert page.wait(sent).startswith("/reviews/")
    assert page.get(sent.headers["location"]).headers["location"].startswith("/reviews/")


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
