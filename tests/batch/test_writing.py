from __future__ import annotations

import json
from html import unescape

from reviewkit.batch.sections import MOST_LINES, headline
from reviewkit.batch.summary import summarise
from reviewkit.batch.writing import markdown, summary_files
from reviewkit.cautions import CAUTIONS
from tests.batch.test_summary import SAMPLE, changed
from tests.rewrite_golden import GOLDEN, library_markdown


def test_the_markdown_is_as_kept() -> None:
    assert library_markdown() == (GOLDEN / "library.md").read_text("utf-8")


def test_every_form_says_the_headline_and_the_cautions() -> None:
    summary = summarise([("a", SAMPLE)])
    files = summary_files(summary, [], [])
    assert set(files) == {"summary.json", "summary.md", "summary.html"}
    assert json.loads(files["summary.json"])["classes"] == 1
    for name in ("summary.md", "summary.html"):
        text = unescape(files[name])
        assert headline(summary, []) in text
        assert all(one in text for one in CAUTIONS)


def test_foreign_words_stay_words() -> None:
    hostile = "<script>x</script>|\u202e\udc80"
    files = summary_files(summarise([]), [(hostile, hostile)], [(hostile, hostile)])
    assert "<script>" not in files["summary.html"]
    assert r"\<script\>" in files["summary.md"]
    assert all(text.encode("utf-8") for text in files.values())


def test_long_tables_are_cut_and_say_so() -> None:
    flags = [one for one in SAMPLE["flags"] if one["kind"] == "risky_talk"][:1] * (MOST_LINES + 5)
    text = markdown(summarise([("a", changed(flags=flags))]), [], [])
    assert f"The first {MOST_LINES} of {MOST_LINES + 5}." in text
