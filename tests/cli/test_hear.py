import json
from pathlib import Path

import pytest

from reviewkit.cli.app import main


def run(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    with pytest.raises(SystemExit) as stopped:
        main(["hear", *arguments])
    assert not stopped.value.code
    return capsys.readouterr().out


def test_readable_output_names_the_words(capsys: pytest.CaptureFixture[str]) -> None:
    out = run(["ten seconds left"], capsys)
    assert "time call: ten seconds left" in out
    assert "claims 10 s left" in out


def test_json_gives_one_object_a_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lines = tmp_path / "lines.txt"
    lines.write_text("breathe out as you rise\n\nhalfway\n", encoding="utf-8")
    documents = [
        json.loads(line)
        for line in run(["--lines", str(lines), "--json", "-"], capsys).splitlines()
    ]
    assert [document["text"] for document in documents] == [
        "breathe out as you rise",
        "",
        "halfway",
    ]
    assert "breathing" in documents[0]["labels"]
    assert documents[1]["labels"] == []
    assert documents[2]["labels"] == ["time_call"]
    assert documents[2]["claimed_left_s"] is None


def test_nothing_to_hear_is_one_clear_line(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["hear"])
    assert stopped.value.code == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
