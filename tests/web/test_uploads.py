from __future__ import annotations

from collections.abc import AsyncIterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.errors import InputError
from reviewkit.store import Store
from reviewkit.web import uploads
from reviewkit.web.uploads import SentFile, shown_name
from tests.web.visitor import HERE, PLAN, SECRET, TALK, Visitor, words

BOUNDARY = "limit"
HEADERS = {"Origin": HERE, "Content-Type": f"multipart/form-data; boundary={BOUNDARY}"}


def part(name: str, data: bytes, file_name: str | None = None) -> bytes:
    named = "" if file_name is None else f'; filename="{file_name}"'
    head = f'--{BOUNDARY}\r\nContent-Disposition: form-data; name="{name}"{named}\r\n\r\n'
    return head.encode() + data + b"\r\n"


END = f"--{BOUNDARY}--\r\n".encode()
TOKEN = part("form_token", SECRET.encode())


def test_limits_are_those_that_are_promised() -> None:
    assert uploads.FILE_LIMITS == {"transcript": 20_000_000, "plan_file": 2_000_000}


def test_a_transcript_beyond_the_limit_is_refused_and_the_rest_is_kept(page: Visitor) -> None:
    talk = TALK.encode() + b"\n" * 20_000_000
    answer = page.post(
        "/reviews", {"plan_text": PLAN, "title": "Mine"}, {"transcript": ("long.vtt", talk)}
    )
    assert answer.status_code == 422
    assert "long.vtt: is larger than 20 MB" in words(answer)
    assert 'value="Mine"' in answer.text
    assert PLAN in answer.text
    assert "is here already" not in words(answer)


def test_a_plan_beyond_the_limit_is_refused(page: Visitor) -> None:
    files = {"transcript": ("talk.vtt", TALK.encode()), "plan_file": ("p.txt", b" " * 2_000_001)}
    answer = page.post("/reviews", {"plan_from": "file"}, files)
    assert "p.txt: is larger than 2 MB" in words(answer)
    assert "talk.vtt is here already" in words(answer)


def test_what_is_too_large_is_not_gathered_in_memory(page: Visitor) -> None:
    taken = 0

    async def endless() -> AsyncIterator[bytes]:
        nonlocal taken
        yield TOKEN + part("transcript", b"", "video.mp4")[:-2]
        while True:
            taken += 1_000_000
            yield b"\n" * 1_000_000

    answer = page.request("POST", "/reviews", content=endless(), headers=HEADERS)
    assert answer.status_code == 413
    assert "far too large" in words(answer)
    assert taken <= uploads.MAX_SENT_BYTES + 2_000_000


def test_fields_that_are_no_known_file_hold_nothing(page: Visitor) -> None:
    body = TOKEN + part("other", b"x" * 100, "other.bin") + part("plan_text", b"x") + END
    answer = page.request("POST", "/plans/check", content=body, headers=HEADERS)
    assert answer.status_code == 200


def test_too_much_text_in_one_field_is_refused(page: Visitor) -> None:
    body = TOKEN + part("plan_text", b"x" * 2_000_001) + END
    answer = page.request("POST", "/plans/check", content=body, headers=HEADERS)
    assert answer.status_code == 413
    plain = f"form_token={SECRET}&plan_text={'x' * 6_000_001}"
    headers = HEADERS | {"Content-Type": "application/x-www-form-urlencoded"}
    answer = page.request("POST", "/plans/check", content=plain, headers=headers)
    assert answer.status_code == 413


@pytest.mark.parametrize(
    "body",
    [
        pytest.param(TOKEN + part("plan_text", b"x"), id="cut off between parts"),
        pytest.param(TOKEN + part("plan_text", b"x")[:-3], id="cut off inside a part"),
        pytest.param(b"nothing of the kind", id="no parts"),
        pytest.param(b"", id="empty"),
        pytest.param(TOKEN + b"--limit\r\nno header\r\n\r\nx\r\n" + END, id="no header"),
        pytest.param(
            TOKEN + b"--limit\r\nA: " + b"x" * 9000 + b"\r\n\r\nx\r\n" + END, id="long header"
        ),
        pytest.param(TOKEN + part("a", b"") * 100 + END, id="many fields"),
    ],
)
def test_damaged_forms_are_refused(page: Visitor, body: bytes) -> None:
    answer = page.request("POST", "/plans/check", content=body, headers=HEADERS)
    assert answer.status_code in (400, 403)


@pytest.mark.parametrize(
    "kind",
    [
        "multipart/form-data",
        f"multipart/form-data; boundary={'x' * 5000}",
        "text/plain",
        "application/json",
        "\xff",
    ],
)
def test_bodies_that_are_no_form_are_refused(page: Visitor, kind: str) -> None:
    headers = {"Origin": HERE, "Content-Type": kind.encode("latin-1")}
    body = TOKEN + part("plan_text", PLAN.encode()) + END
    answer = page.request("POST", "/plans/check", content=body, headers=headers)
    assert answer.status_code in (400, 403)


def test_many_plain_fields_are_refused(page: Visitor) -> None:
    body = f"form_token={SECRET}" + "&a=" * 1000
    headers = HEADERS | {"Content-Type": "application/x-www-form-urlencoded"}
    answer = page.request("POST", "/plans/check", content=body, headers=headers)
    assert answer.status_code == 400


@pytest.mark.parametrize(
    ("sent", "shown"),
    [
        ("captions.vtt", "captions.vtt"),
        ("../../etc/passwd", "passwd"),
        (r"C:\films\talk.srt", "talk.srt"),
        ("a\x00b\x1b[31m.vtt", "a b [31m.vtt"),
        ("\u202ettv.klat", "ttv.klat"),
        ("x" * 999, "x" * 200),
    ],
)
def test_names_are_made_fit_to_show(sent: str, shown: str) -> None:
    assert shown_name(sent) == shown


@given(st.text())
def test_no_shown_name_leads_anywhere(name: str) -> None:
    shown = shown_name(name)
    assert "/" not in shown
    assert "\\" not in shown
    assert len(shown.splitlines()) <= 1


def test_names_never_become_paths(page: Visitor, store: Store) -> None:
    files = {"transcript": ("../../../reviewkit.sqlite3", TALK.encode())}
    page.wait(page.post("/reviews", {"plan_text": PLAN}, files))
    assert [one.transcript_name for one in store.list_reviews()] == ["reviewkit.sqlite3"]


def test_a_file_within_its_limit_gives_its_bytes() -> None:
    assert SentFile("a", b"x", 1).checked() == b"x"
    with pytest.raises(InputError, match="a: is larger than 2 MB"):
        SentFile("a", b"x", 2_000_000, is_too_large=True).checked()
