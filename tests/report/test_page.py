from __future__ import annotations

import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from reviewkit.report.page import page
from tests.report.hostile import hostile_review
from tests.report.sample import corrected_review, sample_review

VOID = {"meta", "br", "img", "link", "input", "hr"}


class Outline(HTMLParser):
    """Collects tags with their attributes and checks that they nest."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def outline(html: str) -> Outline:
    parsed = Outline()
    parsed.feed(html)
    parsed.close()
    assert not parsed.open
    return parsed


@pytest.fixture(scope="module")
def sample() -> Outline:
    return outline(page(sample_review()))


@pytest.fixture(scope="module")
def hostile() -> str:
    return page(hostile_review())


def test_hostile_words_appear_as_text(hostile: str) -> None:
    parsed = outline(hostile)
    tags = {tag for tag, _ in parsed.tags}
    assert not tags & {"script", "img", "iframe", "object", "embed", "form", "link"}
    assert "<script src=//x>alert(1)</script>" in "".join(parsed.text)
    assert not re.search("[\x00-\x08\x0b-\x1f\u202a-\u202e]", hostile)


def test_no_attribute_runs_or_loads_anything(hostile: str) -> None:
    for tag, attributes in outline(hostile).tags:
        assert not [name for name in attributes if name.startswith("on")], tag
        assert "src" not in attributes
        for name in ("href", "xlink:href"):
            assert (attributes.get(name) or "#").startswith("#")
        assert "url(" not in re.sub(r"url\(#[\w-]+\)", "", attributes.get("style") or "")


def test_nothing_points_out_of_the_page() -> None:
    assert not re.search(r"https?:|@import|<link|<script", page(sample_review()))


def test_ids_are_unique_and_links_lead_somewhere(sample: Outline) -> None:
    ids = [attributes["id"] for _, attributes in sample.tags if "id" in attributes]
    assert len(ids) == len(set(ids))
    for _, attributes in sample.tags:
        for name in ("href", "aria-labelledby"):
            for target in (attributes.get(name) or "").split():
                assert target.lstrip("#") in ids


def test_the_page_can_be_used_without_seeing_it(sample: Outline) -> None:
    tags = [tag for tag, _ in sample.tags]
    assert [tags.count(tag) for tag in ("header", "main", "nav", "h1")] == [1, 1, 1, 1]
    assert tags.count("table") == tags.count("caption")
    assert all("scope" in attributes for tag, attributes in sample.tags if tag == "th")
    links = [attributes for tag, attributes in sample.tags if tag == "a"]
    assert links[0]["class"] == "skip"
    pictures = [attributes for tag, attributes in sample.tags if tag == "svg"]
    assert pictures
    assert all(one["role"] == "img" and "aria-labelledby" in one for one in pictures)


def test_verdict_and_fixes_come_first(sample: Outline) -> None:
    text = " ".join("".join(sample.text).split())
    order = ["Worth another pass", "Cut “hold your breath”", "The same figures stand", "no score"]
    places = [text.index(words) for words in order]
    assert places == sorted(places)


def test_the_same_review_gives_the_same_page() -> None:
    assert page(sample_review()) == page(sample_review())


def test_a_page_of_nothing_says_so() -> None:
    review = sample_review()
    findings = replace(
        review.findings, talk=(), moves=(), time_calls=(), promises=(), flags=(), fixes=()
    )
    heard = replace(review.heard, intervals=(), marks=(), talk=replace(review.heard.talk, words=()))
    text = "".join(outline(page(replace(review, heard=heard, findings=findings))).text)
    assert "No interval was heard" in text
    assert "No call of time left was heard." in text


def test_what_the_coach_did_stands_beside_the_verdict() -> None:
    text = page(corrected_review())
    assert "put right by the coach; set aside: we agreed on this" in text
    assert text.count("set aside: heard wrongly") == 3
    assert "by-coach" not in re.sub(r"<style>.*?</style>", "", page(sample_review()), flags=re.S)
