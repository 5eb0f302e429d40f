"""The command line as a whole: help, version, errors and what it loads."""

from __future__ import annotations

import subprocess
import sys

import pytest

from reviewkit.cli.app import COMMANDS, main

HEAVY = ("numpy", "pandas", "spacy", "matplotlib", "openpyxl", "jinja2", "rapidfuzz")


def run(*arguments: str, capsys: pytest.CaptureFixture[str]) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as caught:
        main(arguments)
    out, err = capsys.readouterr()
    assert isinstance(caught.value.code, int)
    return caught.value.code, out, err


def test_help_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run("--help", capsys=capsys)
    assert code == 0
    assert all(f"\n  {command.__name__} " in out for command in COMMANDS)


@pytest.mark.parametrize("arguments", [["--help"], ["plan", "--help"], ["--version"]])
def test_help_loads_no_heavy_library(arguments: list[str]) -> None:
    script = (
        "import sys\n"
        "from reviewkit.cli.app import main\n"
        "try:\n"
        f"    main({arguments!r})\n"
        "except SystemExit:\n"
        "    pass\n"
        f"print('loaded', *(name for name in {HEAVY!r} if name in sys.modules))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines()[-1] == "loaded"


def test_the_version_is_the_packages_own(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run("--version", capsys=capsys)
    assert code == 0
    assert out.startswith("reviewkit 0.")


@pytest.mark.parametrize(
    "arguments", [["dance"], ["plan"], ["plan", "a.csv", "--to", "pdf"], ["plan", "--sideways"]]
)
def test_wrong_options_exit_with_2(
    arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = run(*arguments, capsys=capsys)
    assert (code, out) == (2, "")
    assert "Error:" in err


def test_bad_input_is_one_line_and_no_traceback() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "reviewkit", "plan", "no-such-plan.csv"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr == "no-such-plan.csv: there is no such file\n"
