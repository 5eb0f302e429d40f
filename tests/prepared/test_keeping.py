from __future__ import annotations

from dataclasses import replace
from hashlib import sha256
from pathlib import Path

import pytest

from reviewkit.model import Lexicon
from reviewkit.once import all_made
from reviewkit.prepared import keeping
from reviewkit.prepared.keeping import MOST_KEPT, is_of_lists_alone, make_ready
from reviewkit.prepared.packing import pack
from reviewkit.prepared.trial import listen_for_once
from reviewkit.read import BundledFile, LexiconSources, build, lexicon_sources, read_lexicon
from reviewkit.read.lexicon import LexiconFile

MOVES = "move,pattern\nSquat,squat\n"
PATTERNS = "pattern,meaning\nsquat,bend the knees\n"


def sources(rest: str = "phrase,label\nshake it out,rest\n") -> LexiconSources:
    texts = {"moves.csv": MOVES, "patterns.csv": PATTERNS, "rest.csv": rest}
    return LexiconSources(
        tuple(BundledFile(name, text.encode()) for name, text in texts.items()), ()
    )


@pytest.fixture
def made_anew(monkeypatch: pytest.MonkeyPatch) -> list[Lexicon]:
    """Collect each lexicon that is made and listened with, rather than found."""
    seen: list[Lexicon] = []
    monkeypatch.setattr(keeping, "listen_for_once", seen.append)
    return seen


def only_file(folder: Path) -> Path:
    (path,) = folder.iterdir()
    return path


def test_a_kept_lexicon_is_the_one_that_was_read_with_all_that_was_made_of_it(
    tmp_path: Path,
) -> None:
    make_ready(lexicon_sources(), tmp_path)
    kept = make_ready(lexicon_sources(), tmp_path)
    assert kept == read_lexicon()
    with all_made() as made:
        listen_for_once(kept)
    assert made()
    assert not [one for one in made() if is_of_lists_alone(one, kept)]


def test_what_was_made_of_shared_lists_before_is_kept_too(tmp_path: Path) -> None:
    listen_for_once(build(lexicon_sources()))
    make_ready(lexicon_sources(), tmp_path)
    kept = make_ready(lexicon_sources(), tmp_path)
    with all_made() as made:
        listen_for_once(kept)
    assert not [one for one in made() if is_of_lists_alone(one, kept)]


def test_the_same_lists_are_made_ready_once(tmp_path: Path, made_anew: list[Lexicon]) -> None:
    first, second = make_ready(sources(), tmp_path), make_ready(sources(), tmp_path)
    assert first == second
    assert len(made_anew) == 1


def test_a_changed_list_is_seen(tmp_path: Path, made_anew: list[Lexicon]) -> None:
    make_ready(sources(), tmp_path)
    changed = make_ready(sources("phrase,label\nhave a sip,rest\n"), tmp_path)
    assert [line.phrase for line in changed.lists["rest"]] == ["have a sip"]
    assert len(made_anew) == 2


def test_a_word_of_the_coach_s_own_is_seen(tmp_path: Path, made_anew: list[Lexicon]) -> None:
    make_ready(sources(), tmp_path)
    own = LexiconFile("own/rest.csv", "phrase,label\nhave a sip,rest\n", is_own=True)
    more = make_ready(replace(sources(), own=(own,)), tmp_path)
    assert [line.phrase for line in more.lists["rest"]] == ["shake it out", "have a sip"]
    assert len(made_anew) == 2


def test_a_changed_program_is_seen(
    tmp_path: Path, made_anew: list[Lexicon], monkeypatch: pytest.MonkeyPatch
) -> None:
    make_ready(sources(), tmp_path)
    monkeypatch.setattr(keeping, "_program", lambda: b"the next version")
    make_ready(sources(), tmp_path)
    assert len(made_anew) == 2


@pytest.mark.parametrize("damage", [b"", b"half", b"\0" * 5000])
def test_a_damaged_file_is_made_anew(
    tmp_path: Path, made_anew: list[Lexicon], damage: bytes
) -> None:
    lexicon = make_ready(sources(), tmp_path)
    only_file(tmp_path).write_bytes(damage)
    assert make_ready(sources(), tmp_path) == lexicon
    assert make_ready(sources(), tmp_path) == lexicon
    assert len(made_anew) == 2


def test_a_file_that_others_can_write_is_not_believed(
    tmp_path: Path, made_anew: list[Lexicon]
) -> None:
    lexicon = make_ready(sources(), tmp_path)
    packed = pack(Lexicon((), (), {}), ())
    path = only_file(tmp_path)
    path.write_bytes(sha256(packed).digest() + packed)
    path.chmod(0o666)
    assert make_ready(sources(), tmp_path) == lexicon
    assert path.stat().st_mode & 0o777 == 0o600
    assert len(made_anew) == 2


def test_where_nothing_can_be_kept_a_lexicon_is_made_all_the_same(
    tmp_path: Path, made_anew: list[Lexicon]
) -> None:
    (tmp_path / "taken").write_text("a file, no folder", encoding="utf-8")
    for _ in range(2):
        assert make_ready(sources(), tmp_path / "taken" / "lists").moves[0].name == "Squat"
    assert len(made_anew) == 2


@pytest.mark.usefixtures("made_anew")
def test_only_the_latest_are_kept(tmp_path: Path) -> None:
    for number in range(MOST_KEPT + 2):
        make_ready(sources(f"phrase,label\nsip {number},rest\n"), tmp_path)
    assert len([*tmp_path.iterdir()]) == MOST_KEPT
