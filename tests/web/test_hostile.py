"""Names and texts made to do harm come out as the text they are."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reviewkit.store import NewReview, Store
from tests.web.visitor import TALK, Visitor, tags, words

HARM = "<script>alert(1)</script>\"'><img src=x onerror=alert(1)>{{1234*4321}}"
TAGS_OF_OURS = {
    "a", "b", "body", "br", "button", "caption", "circle", "code", "dd", "details", "div", "dl",
    "dt", "fieldset", "footer", "form", "h1", "h2", "head", "header", "html", "i", "input", "kbd",
    "label", "legend", "li", "link", "main", "meta", "nav", "noscript", "ol", "optgroup", "option",
    "p", "pre", "rect", "script", "section", "select", "span", "summary", "svg", "table", "tbody",
    "td", "textarea", "th", "thead", "time", "title", "tr", "ul",
}  # fmt: skip


def is_harmless(page: Visitor, address: str) -> bool:
    answer = page.get(address)
    seen = tags(answer)
    has_handlers = any(name.startswith("on") for _, attributes in seen for name in attributes)
    return (
        {tag for tag, _ in seen} <= TAGS_OF_OURS
        and not has_handlers
        and "5332114" not in words(answer)
    )


def test_titles_and_file_names_are_escaped(page: Visitor, store: Store) -> None:
    plan = f'Main: 40s work, 20s rest\n- "{HARM.replace(chr(34), "")}"\n'
    files = {"transcript": (f"{HARM}.vtt".replace("/", ""), TALK.encode())}
    for _ in range(2):
        page.wait(page.post("/reviews", {"title": HARM, "plan_text": plan}, files))
    kept = store.list_reviews()[0]
    assert kept.title == HARM
    of_review, of_plan = f"/reviews/{kept.id}", f"/plans/{store.list_plans()[0].id}"
    for address in (
        "/",
        "/plans",
        "/progress",
        "/compare",
        f"{of_review}/forget",
        f"{of_review}/next",
        f"{of_review}/next/sheet",
        f"{of_plan}/next",
    ):
        assert is_harmless(page, address)
        assert "alert(1)" in words(page.get(address))
    clock = page.get(f"{of_review}/next/clock").text
    assert "<script>alert" not in clock
    assert "<img" not in clock


def test_an_address_that_chooses_does_no_harm(page: Visitor, store: Store) -> None:
    page.review()
    plan = store.list_plans()[0].id
    harm = "%22%3E%3Cscript%3Ealert(1)%3C/script%3E"
    for address in (f"/plans/{plan}/next", f"/plans/{plan}/next/sheet"):
        assert is_harmless(page, f"{address}?last={harm}")
    assert is_harmless(page, f"/compare?first={harm}&second=1")


def test_texts_that_cannot_be_used_are_escaped_too(page: Visitor) -> None:
    answer = page.send(HARM, title=HARM, plan_from="typed", plan_text=f"</textarea>{HARM}")
    assert answer.status_code == 422
    assert {tag for tag, _ in tags(answer)} <= TAGS_OF_OURS
    assert "&lt;/textarea&gt;&lt;script&gt;" in answer.text


def test_lexicon_lines_are_escaped(page: Visitor) -> None:
    line = f"{HARM.replace(chr(34), '')},praise"
    answer = page.post("/lexicon", {"file": "motivation.csv", "line": line})
    assert answer.status_code == 303
    assert is_harmless(page, "/lexicon")
    refused = page.post("/lexicon", {"file": HARM, "line": HARM})
    assert {tag for tag, _ in tags(refused)} <= TAGS_OF_OURS


def test_addresses_are_escaped_in_errors(page: Visitor) -> None:
    assert is_harmless(page, "/%3Cscript%3Ealert(1)%3C/script%3E")
    assert is_harmless(page, "/?again=%22%3E%3Cscript%3Ealert(1)%3C/script%3E")


def test_a_picture_that_is_no_strip_is_left_out(page: Visitor, store: Store) -> None:
    stored = store.get_review(page.review())
    fields = {name: getattr(stored, name) for name in NewReview.__dataclass_fields__}
    store.add_review(replace(NewReview(**fields), picture=f"<svg>{HARM}</svg>"))
    assert is_harmless(page, "/")
    assert page.get("/").text.count("<svg") == 1


@pytest.mark.parametrize(
    "address",
    [
        "/static/../app.py",
        "/static/..%2fapp.py",
        "/static/%2e%2e/app.py",
        "/static/..%5capp.py",
        "/static//etc/passwd",
        "/static/%2fetc%2fpasswd",
        "/static/",
        "/reviews/1/files/..%2f..%2freviewkit.sqlite3",
        "/reviews/1/files/%2e%2e%2freviewkit.sqlite3",
        "/reviews/..%2f1/files/review.md",
        "/reviews/99999999999999999999999/files/review.md",
        "/reviews/-1/files/review.md",
        "/working/..%2fstate",
        "/drafts/none",
        "/docs",
        "/openapi.json",
    ],
)
def test_path_tricks_lead_nowhere(page: Visitor, address: str) -> None:
    answer = page.get(address)
    assert answer.status_code in (404, 410)
    assert "import" not in answer.text
    assert "root:" not in answer.text
