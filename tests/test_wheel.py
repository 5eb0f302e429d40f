"""What is built is what works: the wheel, installed alone, reviews the bundled class."""

from __future__ import annotations

import re
import subprocess
import sys
import sysconfig
import tarfile
import venv
from pathlib import Path
from zipfile import ZipFile

import httpx
import pytest

from reviewkit.read import DEMO_CLASS

ROOT = Path(__file__).parents[1]
PACKAGE_DATA = (
    "py.typed",
    "report/review.schema.json",
    "report/templates/review.html",
    "batch/templates/summary.html",
)


def run(*command: str | Path, cwd: Path) -> str:
    done = subprocess.run(
        [str(part) for part in command], cwd=cwd, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout + done.stderr


def names_under(folder: str) -> set[str]:
    """Name the files of a folder as they should be called in the archives."""
    return {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / folder).rglob("*")
        if path.is_file() and path.suffix != ".pyc"
    }


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the source archive, and the wheel out of it, as a release does."""
    folder = tmp_path_factory.mktemp("built")
    run(sys.executable, "-m", "build", "--no-isolation", "--outdir", folder, ROOT, cwd=folder)
    return folder


@pytest.fixture(scope="module")
def installed(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Install the wheel into an environment of its own and give its folder of programs.

    Libraries are taken from the environment that runs the tests, so that nothing is
    fetched; its own copy of the program stays out of sight.
    """
    folder = tmp_path_factory.mktemp("fresh")
    venv.create(folder, symlinks=True)
    programs = folder / "bin"
    (wheel,) = built.glob("*.whl")
    pip = (sys.executable, "-m", "pip", "--python", programs / "python")
    run(*pip, "install", "--quiet", "--no-index", "--no-deps", wheel, cwd=folder)
    purelib = run(
        programs / "python", "-c", "import sysconfig; print(sysconfig.get_path('purelib'))",
        cwd=folder,
    )  # fmt: skip
    libraries = {sysconfig.get_path("purelib"), sysconfig.get_path("platlib")}
    (Path(purelib.strip()) / "libraries.pth").write_text("\n".join(sorted(libraries)) + "\n")
    return programs


def test_the_wheel_carries_lexicons_the_demo_and_data(built: Path) -> None:
    (path,) = built.glob("*.whl")
    with ZipFile(path) as wheel:
        carried = set(wheel.namelist())
    demo = names_under(f"fixtures/{DEMO_CLASS}")
    assert {f"reviewkit/{name}" for name in names_under("lexicons") | demo} <= carried
    assert {name for name in carried if "/fixtures/" in name} == {
        f"reviewkit/{name}" for name in demo
    }
    assert {f"reviewkit/{name}" for name in PACKAGE_DATA} <= carried
    for part in ("progress", "rehearse", "web"):
        assert names_under(f"reviewkit/{part}") <= carried
    assert {name.split("/")[0] for name in carried} == {
        "reviewkit",
        next(name.split("/")[0] for name in carried if ".dist-info/" in name),
    }


def test_the_source_archive_can_be_tested(built: Path) -> None:
    (path,) = built.glob("*.tar.gz")
    with tarfile.open(path) as archive:
        carried = {name.partition("/")[2] for name in archive.getnames()}
    assert names_under("lexicons") | names_under("fixtures") <= carried
    assert {
        "LICENSE",
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        ".github/report.png",
        "tests/test_wheel.py",
    } <= carried


def test_the_demo_runs_from_any_folder(installed: Path, tmp_path: Path) -> None:
    said = run(installed / "reviewkit", "demo", cwd=tmp_path)
    assert "The full report is in reviewkit-demo" in said
    assert {path.name for path in (tmp_path / "reviewkit-demo").iterdir()} == {
        "review.html",
        "review.md",
        "review.json",
        "intervals.csv",
        "moves.csv",
    }


def test_the_page_is_served_with_all_that_it_asks_for(installed: Path, tmp_path: Path) -> None:
    command = (installed / "reviewkit", "serve", "--no-open", "--data", tmp_path / "data")
    with subprocess.Popen(command, cwd=tmp_path, stdout=subprocess.PIPE, text=True) as program:
        try:
            assert program.stdout is not None
            address = program.stdout.readline().split()[-1]
            screens = "".join(httpx.get(address + name).text for name in ("", "progress"))
            asked = re.findall(r'(?:src|href)="/(static/[^"]+)"', screens)
            assert len({*asked}) > 3
            for name in asked:
                assert httpx.get(address + name).is_success
        finally:
            program.terminate()


def test_the_program_that_runs_is_the_installed_one(installed: Path, tmp_path: Path) -> None:
    script = "import reviewkit, sys; print(reviewkit.__file__); print(*sys.path, sep='\\n')"
    home, *path = run(installed / "python", "-c", script, cwd=tmp_path).splitlines()
    assert Path(home).is_relative_to(installed.parent)
    assert str(ROOT) not in path
