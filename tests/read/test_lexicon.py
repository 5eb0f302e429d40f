from __future__ import annotations

from pathlib import Path

import pytest

from reviewkit.errors import InputError, InputErrors
from reviewkit.model import Lexicon, LexiconMove, Phrase
from reviewkit.read import lexicon_file_names, read_lexicon
from reviewkit.read.lexicon import LexiconFile, build_lexicon

MOVES = """move,aliases,pattern,load,sides,points,breath
Air squat,squat;free squat,squat,bodyweight,both,chest-tall,up
Side plank,,side-core,bodyweight,one,,
"""
PATTERNS = """pattern,meaning,nouns,body_parts,verbs
side-core,the side works,side plank,side;waist,lift
squat,hips and knees bend,squat,knees;hips,sit;drive
"""
POINTS = """[chest-tall]
kind = "form"
say = "chest tall"
phrases = ["lift your chest"]
"""
PRAISE = "phrase,label,note\nlovely,praise,\nnice,praise,\nnice,separator,often only a pause\n"


def build(own: dict[str, str] | None = None, **changed: str) -> Lexicon:
    """Build a small lexicon; ``changed`` replaces bundled files, ``own`` comes on top."""
    bundled = {"moves.csv": MOVES, "patterns.csv": PATTERNS, "praise.csv": PRAISE}
    bundled |= {"points.toml": POINTS}
    bundled |= {name.replace("_", "."): text for name, text in changed.items()}
    files = [LexiconFile(name, text) for name, text in bundled.items()]
    files += [LexiconFile(f"own/{name}", text, is_own=True) for name, text in (own or {}).items()]
    return build_lexicon(files)


def move(lexicon: Lexicon, name: str) -> LexiconMove:
    return next(move for move in lexicon.moves if move.name == name)


def problems(own: dict[str, str] | None = None, **changed: str) -> str:
    with pytest.raises(InputErrors) as caught:
        build(own, **changed)
    return str(caught.value)


# --- reading -------------------------------------------------------------------------


def test_tables_become_records() -> None:
    lexicon = build()
    assert move(lexicon, "Air squat") == LexiconMove(
        "Air squat", ("squat", "free squat"), "squat", "bodyweight", False, ("chest-tall",), "up"
    )
    assert move(lexicon, "Side plank").is_sided
    assert lexicon.points[0].phrases == ("lift your chest",)
    assert lexicon.patterns[1].verbs == ("sit", "drive")
    assert lexicon.lists["praise"][2] == Phrase("nice", "separator", "often only a pause")


@pytest.mark.parametrize(
    "text",
    [
        MOVES.replace("\n", "\r\n"),
        "\ufeff" + MOVES,
        "# my moves\n\n" + MOVES + ",,,,,,\n",
        MOVES.replace("squat;free squat", '"squat;free squat"').replace(",", "\t"),
    ],
    ids=["windows lines", "mark in front", "comments and empty lines", "tabs"],
)
def test_tables_may_be_written_as_spreadsheets_write_them(text: str) -> None:
    assert build(moves_csv=text) == build()


# --- a coach's own files -------------------------------------------------------------


def test_an_own_move_is_added() -> None:
    own = {"moves.csv": "move,pattern\nLog squat,squat\n"}
    assert move(build(own), "Log squat").load == "bodyweight"
    assert len(build(own).moves) == 3


def test_an_own_line_changes_what_it_fills_and_adds_aliases() -> None:
    changed = move(
        build({"moves.csv": "move,aliases,breath\nair squats,sitter,down\n"}), "Air squat"
    )
    assert changed.aliases == ("squat", "free squat", "sitter")
    assert (changed.effort, changed.pattern, changed.points) == ("down", "squat", ("chest-tall",))


def test_an_own_name_wins_over_a_bundled_one() -> None:
    lexicon = build({"moves.csv": "move,aliases,pattern\nBox sit,free squats,squat\n"})
    assert move(lexicon, "Box sit").aliases == ("free squats",)
    assert move(lexicon, "Air squat").aliases == ("squat",)


def test_own_phrases_replace_bundled_ones_and_a_dash_takes_them_out() -> None:
    lexicon = build({"praise.csv": "phrase,label\nNice,filler\nlovely,-\nmint,praise\n"})
    assert [(line.phrase, line.label) for line in lexicon.lists["praise"]] == [
        ("nice", "filler"),
        ("mint", "praise"),
    ]


def test_an_own_point_changes_what_it_fills() -> None:
    own = {
        "points.toml": '[chest-tall]\nkind = "safety"\n\n[chin]\nkind = "form"\nsay = "chin in"\n'
    }
    chest, chin = build(own).points
    assert (chest.kind, chest.say, chest.phrases) == ("safety", "chest tall", ("lift your chest",))
    assert chin.say == "chin in"


# --- problems ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("Hop,,jmp,,,,", 'moves.csv, line 4: pattern "jmp" is not known'),
        ("Hop,,sqat,,,,", 'pattern "sqat" is not known; did you mean "squat"?'),
        ("Hop,,,,,,", 'line 4: "Hop" has no pattern'),
        ("Hop,,squat,,,chest-tal,", 'line 4: point "chest-tal" is not known; did you mean'),
        ("Hop,,squat,,two,,", 'line 4: sides "two" is not known; write one'),
        ("air squats,,squat,,,,", 'line 4: "air squats" is already on line 2'),
        ("Hop,Free-Squats,squat,,,,", 'line 4: "free-squats" is already a name of "Air squat"'),
        ("Hop,,squat,,,,,more", 'line 4: "more" is one cell too many, there are 7 columns'),
        (",hops,squat,,,,", 'line 4: the column "move" is empty'),
    ],
)
def test_a_wrong_move_is_named_with_its_line(line: str, said: str) -> None:
    assert said in problems(moves_csv=MOVES + line + "\n")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "the file is empty; start it with phrase,label,note"),
        ("phrase,lable\nx,y\n", '"lable" is no column of this file'),
        ("label,note\nx,y\n", 'no column "phrase"'),
        ("phrase,phrase\nx,y\n", 'the column "phrase" is there twice'),
        ("phrase,label\nx,\n", 'line 2: "x" has no label'),
        ("phrase,label\nx,y\nX,y\n", 'line 3: "x" is already on line 2'),
    ],
)
def test_a_wrong_list_is_named_with_its_line(text: str, said: str) -> None:
    assert said in problems(praise_csv=text)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[chin]\nkind = form\n", "points.toml, line 2: this is not TOML"),
        ('\n[chin]\nkind = "frm"\nsay = "x"\n', 'line 2: point chin: kind "frm" is not known'),
        ('[chin]\nkind = "form"\n', 'line 1: point chin: "say" is missing'),
        ('[chin]\nsays = "form"\n', '"says" is not known; fields are kind'),
        ('[chin]\nphrases = "form"\n', '"phrases" must be a list'),
        ("[chin]\nsay = 3\n", '"say" must be one text'),
        ("chin = 3\n", "point chin: must be a table"),
        ('[chin]\nkind = "form"\nsay = "x"\npatterns = ["hop"]\n', 'pattern "hop" is not known'),
    ],
)
def test_a_wrong_point_is_named_with_its_line(text: str, said: str) -> None:
    assert said in problems(points_toml=text, moves_csv=MOVES.replace("chest-tall", ""))


def test_all_problems_come_together() -> None:
    said = problems(
        {"praise.csv": "phrase,label\nx,\n"}, moves_csv=MOVES + "Hop,,jmp,,,,\nSkip,,jmp,,,,\n"
    )
    assert len(said.splitlines()) == 3
    assert "own/praise.csv, line 2" in said


# --- folders -------------------------------------------------------------------------


def test_the_bundled_lexicon_is_found() -> None:
    assert read_lexicon().moves


def test_an_own_folder_comes_on_top(tmp_path: Path) -> None:
    (tmp_path / "moves.csv").write_bytes("move,pattern\nLog squat,squat\n".encode("utf-16"))
    (tmp_path / "notes.txt").write_text("not a list")
    assert "Log squat" in [move.name for move in read_lexicon(tmp_path).moves]


def test_an_own_folder_must_be_one(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="is no folder"):
        read_lexicon(tmp_path / "nowhere")


def test_single_lines_of_ones_own_come_on_top() -> None:
    lines = [
        ("moves.csv", "The chalice hold,,squat"),
        ("breathing.csv", "let it all go,out"),
        ("breathing.csv", "fill up,in"),
    ]
    lexicon = read_lexicon(own_lines=lines)
    assert "The chalice hold" in {move.name for move in lexicon.moves}
    breathing = {(one.phrase, one.label) for one in lexicon.lists["breathing"]}
    assert {("let it all go", "out"), ("fill up", "in")} <= breathing


def test_single_lines_that_cannot_be_used_are_told() -> None:
    with pytest.raises(InputErrors, match=r"own lines/moves\.csv, line 2"):
        read_lexicon(own_lines=[("moves.csv", "Log lift,,no-such-kind")])


def test_the_tables_that_single_lines_may_go_into_are_named() -> None:
    names = lexicon_file_names()
    assert {"moves.csv", "breathing.csv"} <= set(names)
    assert all(name.endswith(".csv") for name in names)
