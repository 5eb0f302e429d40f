"""What the documents say is so: commands, options, plans, links and examples."""

from __future__ import annotations

import doctest
import importlib
import pkgutil
import re
import subprocess
from pathlib import Path
from typing import Any

import pytest
import typer

import reviewkit
from reviewkit.cli.app import COMMANDS, app
from reviewkit.errors import ReviewkitError
from reviewkit.model import Plan
from reviewkit.read.lexicon import LexiconFile, build_lexicon
from reviewkit.read.plan import parse_plan
from reviewkit.report.formulae import PARTS

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")
DOCUMENTS = ("README.md", "DEVELOPERS.md", "lexicons/README.md", "fixtures/README.md")

# How a way to write a setting, as the README lists it, is used in a plan.
SETTINGS = {
    "length": "Main: {} work\n- Squat",
    "work": "Main: {}\n- Squat",
    "rest": "Main: 40s work, {}\n- Squat",
    "both": "Main: {}\n- Squat",
    "rounds": "Main: 40s work\n- Squat\n{}",
    "between rounds": "Main, 3 rounds: 40s work, {}\n- Squat",
    "move": "Main: 40s work\n{}",
    "sets": "Main\n{}",
    "side": "Main: 40s work\n- Row {}",
}


def fenced(document: str, language: str) -> list[str]:
    """Give the code blocks of one language."""
    return re.findall(rf"^```{language}\n(.*?)^```$", document, re.MULTILINE | re.DOTALL)


def pasted(ending: str) -> str:
    """Find the one line of the README that is there to be pasted and ends like this."""
    (line,) = [
        line
        for block in fenced(README, "sh")
        for line in block.splitlines()
        if line.endswith(ending)
    ]
    return line


def ways() -> list[tuple[str, str]]:
    """List the ways to write each part of a plan, as the README's table has them."""
    rows = re.findall(r"^\| ([a-z ]+) \| (.*) \|$", README, re.MULTILINE)
    return [(part, way) for part, cell in rows if part in SETTINGS for way in _code(cell)]


def _code(cell: str) -> list[str]:
    return re.findall(r"`([^`]+)`", cell)


def test_every_command_is_told_and_every_told_command_exists() -> None:
    told = set(re.findall(r"`(?:[\w./]*/)?reviewkit ([a-z]+)", README))
    told |= set(re.findall(r"\.venv/bin/reviewkit ([a-z]+)", README))
    assert told == {command.__name__ for command in COMMANDS}


@pytest.mark.parametrize("document", ["README.md", "lexicons/README.md"])
def test_options_that_are_told_exist(document: str) -> None:
    text = (ROOT / document).read_text("utf-8")
    group: Any = typer.main.get_command(app)
    known = {"--help"} | {
        spelt
        for command in group.commands.values()
        for parameter in command.params
        for spelt in parameter.opts
    }
    told = {option for span in _code(text) for option in re.findall(r"(?<!\S)--[a-z-]+", span)}
    told -= {"--only"} if "tests.accuracy --only" in text else set()
    assert told <= known


@pytest.mark.parametrize("ending", ["reviewkit demo", ".venv/bin/pytest"])
def test_set_up_is_one_line_that_a_shell_takes(ending: str) -> None:
    line = pasted(ending)
    assert "python3 -m venv .venv" in line
    subprocess.run(["sh", "-n", "-c", line], check=True)  # noqa: S607


def test_continuous_checks_run_the_line_that_is_pasted() -> None:
    script = (ROOT / ".ci" / "run").read_text("utf-8")
    (pattern,) = re.findall(r"grep --max-count=1 '(.*)' README\.md", script)
    first = next(line for line in README.splitlines() if re.search(pattern, line))
    assert first == pasted(".venv/bin/pytest")


@pytest.mark.parametrize(
    "text", fenced(README, "text") + [one for one in fenced(README, "csv") if "work" in one]
)
def test_plans_that_are_shown_can_be_read(text: str) -> None:
    plan = parse_plan("plan.txt", text.encode())
    assert {row.kind for row in plan.rows} == {"warm-up", "work", "cool-down"}


def test_the_plan_that_is_shown_first_is_read_as_meant() -> None:
    plan = parse_plan("plan.txt", fenced(README, "text")[0].encode())
    assert (plan.title, plan.minutes, len(plan.rows)) == ("Harbour Steps", 20, 12)
    squat = plan.rows[2]
    assert (squat.move, squat.work_ms, squat.rest_ms) == ("Goblet squat", 40_000, 20_000)
    assert squat.must_say == ("knees out", "chest tall")
    assert [row.rest_ms for row in plan.rows if row.move == "Dead bug"] == [60_000, 60_000, 20_000]


@pytest.mark.parametrize(("part", "way"), ways())
def test_ways_to_write_a_plan_can_be_read(part: str, way: str) -> None:
    plan = parse_plan("plan.txt", SETTINGS[part].format(way).encode())
    plain = parse_plan("plan.txt", b"Main: 40s work\n- Squat")
    assert _settings(plan) != _settings(plain) or part in ("work", "move")
    assert {row.move for row in plan.rows} <= {"Squat", "Lunge", "Row", "Plank"}


def _settings(plan: Plan) -> list[tuple[object, ...]]:
    return [(row.move, row.work_ms, row.rest_ms, row.side, row.must_say) for row in plan.rows]


def test_the_problem_that_is_shown_is_what_is_said() -> None:
    (shown,) = re.findall(r'`(plan\.txt, line 7: "40z work" .*?)`', README)
    text = "Main\n\n\n\n\n\nMain: 40z work\n- Squat\n"
    with pytest.raises(ReviewkitError) as caught:
        parse_plan("plan.txt", text.encode())
    assert shown in str(caught.value).splitlines()


def test_lexicon_lines_that_are_shown_can_be_added() -> None:
    (lines,) = [one for one in fenced(README, "csv") if "aliases" in one]
    bundled = tuple(
        LexiconFile(str(path), path.read_text("utf-8"), is_own=False)
        for path in sorted((ROOT / "lexicons" / "en").iterdir())
        if path.is_file()
    )
    lexicon = build_lexicon((*bundled, LexiconFile("moves.csv", lines, is_own=True)))
    assert any("hug the bag" in move.aliases for move in lexicon.moves)


def test_scores_are_told_as_they_are_made() -> None:
    told = {
        (part, int(weight))
        for row in re.findall(r"^\| (?:\*\*[a-z]+\*\*)? ?\|([^|]*)\|", README, re.MULTILINE)
        for part, weight in re.findall(r"([a-z ]+) \((\d+)\)", row)
    }
    made = {(part, one.weight) for parts in PARTS.values() for part, one in parts.items()}
    assert {(part.strip(), weight) for part, weight in told} == made


@pytest.mark.parametrize("document", DOCUMENTS)
def test_links_lead_to_files(document: str) -> None:
    text = (ROOT / document).read_text("utf-8")
    for link in re.findall(r"\]\(([^)#]+)\)", text):
        assert (ROOT / document).parent.joinpath(link).exists(), link


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md"])
def test_files_that_are_named_exist(document: str) -> None:
    text = (ROOT / document).read_text("utf-8")
    named = re.findall(r"(?:reviewkit|tests|lexicons|fixtures|\.ci)/[\w./-]*\w/?", text)
    missing = {name for name in named if not (ROOT / name).exists()}
    # What only a reader's own folder has, or a test's name in general.
    assert {name for name in missing if "NAME" not in name} == set()


def test_programs_that_are_named_exist() -> None:
    text = README + (ROOT / "DEVELOPERS.md").read_text("utf-8")
    for name in set(re.findall(r"\btests(?:\.\w+)+", text)):
        place = ROOT.joinpath(*name.split("."))
        assert place.with_suffix(".py").exists() or (place / "__main__.py").exists(), name


def test_developers_read_one_sentence_a_line() -> None:
    for line in (ROOT / "DEVELOPERS.md").read_text("utf-8").splitlines():
        plain = re.sub(r"`[^`]*`", "x", line)
        assert not re.search(r"[.!?] [A-Z]", plain), line


def test_every_picture_is_there() -> None:
    pictures = re.findall(r"\]\((\.github/[^)]+)\)", README)
    assert len(pictures) >= 5
    for picture in pictures:
        assert (ROOT / picture).read_bytes().startswith(b"\x89PNG"), picture


MODULES = sorted(
    one.name
    for one in pkgutil.walk_packages(reviewkit.__path__, "reviewkit.")
    if not one.name.endswith("__main__")
)


@pytest.mark.parametrize("name", MODULES)
def test_examples_in_docstrings_are_true(name: str) -> None:
    assert doctest.testmod(importlib.import_module(name)).failed == 0
