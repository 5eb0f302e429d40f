from __future__ import annotations

import pytest
from anyio.from_thread import start_blocking_portal
from starlette.types import Receive, Scope, Send

from reviewkit.store import Store
from reviewkit.web.guard import HEADERS, Guard
from tests.web.visitor import HERE, PORT, SECRET, Visitor, knock

FORM = {"form_token": SECRET}


@pytest.mark.parametrize("host", [f"127.0.0.1:{PORT}", f"localhost:{PORT}"])
def test_its_own_names_are_let_in(page: Visitor, host: str) -> None:
    assert page.get("/", {"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        f"evil.example:{PORT}",
        f"127.0.0.1.evil.example:{PORT}",
        "127.0.0.1",
        f"127.0.0.1:{PORT + 1}",
        f"LOCALHOST:{PORT}",
        f"[::1]:{PORT}",
        "",
    ],
)
def test_foreign_names_are_refused(page: Visitor, host: str) -> None:
    answer = page.get("/", {"Host": host})
    assert answer.status_code == 421
    assert "Reviewkit" not in answer.text


@pytest.mark.parametrize(
    "headers",
    [
        pytest.param({}, id="nothing"),
        pytest.param({"Origin": "null"}, id="no origin"),
        pytest.param({"Origin": "https://evil.example"}, id="another site"),
        pytest.param({"Origin": f"http://127.0.0.1:{PORT + 1}"}, id="another port"),
        pytest.param({"Origin": f"https://127.0.0.1:{PORT}"}, id="another scheme"),
        pytest.param({"Origin": f"http://localhost:{PORT}"}, id="its other name"),
        pytest.param({"Referer": f"{HERE}.evil.example/"}, id="alike"),
        pytest.param({"Referer": f"http://evil.example/{HERE}/"}, id="in the path"),
        pytest.param({"Origin": HERE, "Sec-Fetch-Site": "cross-site"}, id="fetched across"),
    ],
)
def test_forms_of_other_sites_are_refused(
    page: Visitor, store: Store, headers: dict[str, str]
) -> None:
    answer = page.request("POST", "/lexicon", data={**FORM, "line": "x,y"}, headers=headers)
    assert answer.status_code == 403
    assert not store.list_lexicon_lines()


@pytest.mark.parametrize("headers", [{"Origin": HERE}, {"Referer": f"{HERE}/plans"}])
def test_its_own_forms_are_taken(page: Visitor, headers: dict[str, str]) -> None:
    answer = page.request("POST", "/plans/check", data=FORM, headers=headers)
    assert answer.status_code == 200


@pytest.mark.parametrize("token", ["", "another", SECRET[:-1], SECRET + "x", "\N{SNOWMAN}"])
@pytest.mark.parametrize(
    "address", ["/sample", "/reviews", "/lexicon", "/plans/check", "/reviews/1/forget", "/drafts/x"]
)
def test_forms_without_the_token_are_refused(page: Visitor, address: str, token: str) -> None:
    answer = page.post(address, {"form_token": token})
    assert answer.status_code == 403
    assert "open the page anew" in answer.text


def test_every_form_of_every_screen_carries_the_token(page: Visitor) -> None:
    page.review()
    page.post(
        "/lexicon", {"file": "point_lines.csv", "line": "sit between your heels,hips-back-hinge"}
    )
    for address in ("/", "/plans", "/lexicon", "/reviews/1/forget"):
        forms = page.get(address).text.split("<form")[1:]
        assert forms
        for form in forms:
            inside = form.split("</form>")[0]
            assert f'name="form_token" value="{SECRET}"' in inside, address


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_other_methods_are_refused(page: Visitor, method: str) -> None:
    answer = page.request(method, "/", headers={"Origin": HERE})
    assert answer.status_code == 405
    assert answer.headers["content-security-policy"] == HEADERS["content-security-policy"]


def test_every_answer_is_hardened(page: Visitor) -> None:
    answers = [
        page.get("/"),
        page.get("/static/base.css"),
        page.get("/nowhere"),
        page.get("/working/none"),
        page.post("/plans/check", {"plan_text": "x"}),
        page.post("/reviews"),
        page.get("/", {"Host": "evil.example"}),
        page.request("POST", "/sample"),
    ]
    for answer in answers:
        for name, value in HEADERS.items():
            assert answer.headers[name] == value, answer.url
    policy = HEADERS["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "*" not in policy


def test_a_fault_is_told_in_words_and_is_hardened_too(caplog: pytest.LogCaptureFixture) -> None:
    async def faulty(_: Scope, __: Receive, ___: Send) -> None:
        raise RuntimeError("a secret of the inside")

    with start_blocking_portal() as portal:
        answer = knock(portal, Guard(faulty, port=PORT)).get("/")
    assert answer.status_code == 500
    assert "inside" not in answer.text
    assert answer.headers["content-security-policy"] == HEADERS["content-security-policy"]
    assert "a secret of the inside" in caplog.text


def test_no_screen_holds_a_script_or_style_of_its_own(page: Visitor) -> None:
    for address in ("/", "/plans", "/lexicon", "/nowhere"):
        text = page.get(address).text
        assert "<style" not in text
        assert " style=" not in text
        assert "javascript:" not in text
        assert all(part.startswith(' src="/static/') for part in text.split("<script")[1:])
        assert "://" not in text
