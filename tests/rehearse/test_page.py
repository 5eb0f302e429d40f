from __future__ import annotations

import base64
import hashlib
import json
import re
from html import unescape

import pytest

from reviewkit.rehearse.page import clock_page, sheet_page
from tests.rehearse.sample import CROWDED, last_document, sheet

HOSTILE = "Main: 40s work\n- Squat </script><script>alert(1)</script> (say: <img src=x>; a & b)\n"


def policy(page: str) -> str:
    (found,) = re.findall(r'http-equiv="content-security-policy" content="([^"]+)"', page)
    return unescape(found)


@pytest.mark.parametrize("make", [sheet_page, clock_page])
def test_a_page_asks_nobody_for_anything(make: object) -> None:
    page = make(sheet(document=last_document()))  # type: ignore[operator]
    assert not re.findall(r"""(?:src|href)=|url\(|https?://|@import""", page)
    assert policy(page).startswith("default-src 'none'; ")


@pytest.mark.parametrize("make", [sheet_page, clock_page])
def test_the_policy_lets_in_the_pages_own_style_and_script_alone(make: object) -> None:
    page = make(sheet())  # type: ignore[operator]
    for inside in re.findall(r"<(?:style|script)>(.*?)</(?:style|script)>", page, re.DOTALL):
        digest = base64.b64encode(hashlib.sha256(inside.encode()).digest()).decode()
        assert f"'sha256-{digest}'" in policy(page)
    assert "unsafe" not in policy(page)


@pytest.mark.parametrize("make", [sheet_page, clock_page])
def test_hostile_words_stay_words(make: object) -> None:
    page = make(sheet(HOSTILE))  # type: ignore[operator]
    assert "<script>alert" not in page
    assert "<img" not in page


def test_the_clocks_data_are_read_back() -> None:
    page = clock_page(sheet(HOSTILE))
    (data,) = re.findall(r'<script type="application/json" id="class">(.*?)</script>', page)
    assert json.loads(data)["stretches"][1]["name"].startswith("Squat </script><script>")


def test_on_our_own_page_styles_and_scripts_come_from_there() -> None:
    page = clock_page(sheet(), served_from="/rehearse-files", back="/plans/1")
    assert 'href="/plans/1"' in page
    assert 'src="/rehearse-files/class-clock.js"' in page
    assert "<style>" not in page
    assert "'sha256-" not in page


def test_a_long_sheet_is_printed_smaller() -> None:
    long = "Main, 9 rounds: 40s work\n- Squat\n- Row\n- Lunge\n"
    assert '<body class="crowded">' in sheet_page(sheet(long))
    assert '<body class="crowded">' not in sheet_page(sheet())


def test_the_sheet_shows_warnings_marks_and_cautions() -> None:
    assert "Not enough time" in sheet_page(sheet(CROWDED))
    assert "Not enough time" not in sheet_page(sheet())
    page = sheet_page(sheet(document=last_document()))
    assert "late last time" in page
    assert "no standard of care" in page
    assert "no standard of care" in clock_page(sheet())
