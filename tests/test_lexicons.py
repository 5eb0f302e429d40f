"""The bundled lexicons: every table is whole, sorted, and says nothing twice."""

from __future__ import annotations

import csv
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from reviewkit.language.matching import fold_phrase, stem
from reviewkit.language.movebook import match_move, name_keys
from reviewkit.model import Lexicon
from reviewkit.read import read_lexicon

FOLDER = Path(__file__).parent.parent / "lexicons" / "en"
LOADS = {
    *("bodyweight", "dumbbell", "kettlebell", "barbell", "band", "ball", "rope", "step"),
    *("box", "bench", "chair", "wall", "desk", "bike", "treadmill", "machine"),
}
PHASES = {
    *("", "up", "press", "pull", "lift", "reach", "twist", "punch", "kick", "jump", "straighten"),
    *("open", "squeeze", "lower", "back", "drive", "slam", "throw", "chop", "push"),
}


@cache
def lexicon() -> Lexicon:
    return read_lexicon()


def table(name: str) -> list[dict[str, str]]:
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


# --- moves ---------------------------------------------------------------------------


def test_there_are_many_moves_of_every_pattern() -> None:
    used = Counter(move.pattern for move in lexicon().moves)
    assert len(lexicon().moves) >= 350
    assert set(used) == {pattern.id for pattern in lexicon().patterns}


def test_moves_are_sorted_and_aliases_lower_case() -> None:
    rows = table("moves.csv")
    names = [row["move"] for row in rows]
    assert names == sorted(names, key=str.casefold)
    for row in rows:
        aliases = [alias for alias in row["aliases"].split(";") if alias]
        assert aliases == sorted(set(aliases)), row["move"]
        assert row["aliases"] == row["aliases"].lower(), row["move"]


def test_every_name_finds_its_own_move() -> None:
    for move in lexicon().moves:
        for name in (move.name, *move.aliases):
            assert match_move(name, lexicon()) == move, name


def test_no_name_belongs_to_two_moves() -> None:
    owners = Counter(key for move in lexicon().moves for key in name_keys(move))
    assert [key for key, count in owners.items() if count > 1] == []


def test_moves_ask_for_a_few_points_and_known_loads_and_phases() -> None:
    for move in lexicon().moves:
        assert 1 <= len(move.points) <= 4, move.name
        assert len(set(move.points)) == len(move.points), move.name
        assert move.load in LOADS, move.name
        assert move.effort in PHASES, move.name


def test_patterns_say_what_they_are() -> None:
    rows = table("patterns.csv")
    assert [row["pattern"] for row in rows] == sorted(row["pattern"] for row in rows)
    for pattern in lexicon().patterns:
        assert pattern.meaning, pattern.id
        assert pattern.nouns, pattern.id
        assert pattern.body_parts, pattern.id
        assert pattern.verbs, pattern.id


def test_every_word_of_a_name_has_one_role() -> None:
    roles: dict[str, set[str]] = {}
    for line in lexicon().lists["move_words"]:
        roles.setdefault(stem(line.phrase), set()).add(line.label)
    assert {word: labels for word, labels in roles.items() if len(labels) > 1} == {}


@pytest.mark.parametrize("name", ["move_words", "move_context"])
def test_lists_about_moves_hold_sorted_single_words(name: str) -> None:
    phrases = [row["phrase"] for row in table(f"{name}.csv")]
    assert phrases == sorted(phrases)
    assert all(len(fold_phrase(phrase, stem)) == 1 for phrase in phrases)


def test_senses_are_of_sorted_single_words_and_each_has_many() -> None:
    rows = table("senses.csv")
    phrases = [row["phrase"] for row in rows]
    assert phrases == sorted(set(phrases))
    assert not [phrase for phrase in phrases if " " in phrase]
    counts = Counter(sense for row in rows for sense in row["label"].split())
    assert {sense: count for sense, count in counts.items() if count < 15} == {}


# --- lines that gave a point -----------------------------------------------------------


def test_lines_that_gave_a_point_are_sorted_and_of_known_points() -> None:
    rows = table("point_lines.csv")
    known = {point.id for point in lexicon().points}
    keys = [(row["phrase"], row["label"]) for row in rows]
    assert keys == sorted(set(keys))
    assert {row["label"] for row in rows} <= known
    assert all(row["phrase"] == row["phrase"].lower().strip() for row in rows)


def test_points_as_plans_write_them_are_sorted_and_of_known_points() -> None:
    rows = table("plan_points.csv")
    known = {point.id for point in lexicon().points}
    keys = [(row["phrase"], row["label"]) for row in rows]
    assert keys == sorted(set(keys))
    assert {row["label"] for row in rows} <= known
    assert all(row["phrase"] == row["phrase"].lower().strip() for row in rows)
