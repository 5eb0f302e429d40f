"""Take the README's picture anew: the top of the demo's report.

    python -m tests.rewrite_picture

Needs Chromium (``apt-get install chromium``). Run it after a change to the page, and look
at the picture before it is committed.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from PIL import Image

PICTURE = Path(__file__).parents[1] / ".github" / "report.png"
WIDTH_PX, HEIGHT_PX = 1100, 1700
COLOURS = 64


def _browser() -> str:
    found = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
    if found is None:
        raise SystemExit("Chromium is missing; install it with: apt-get install chromium")
    return found


def main() -> None:
    """Review the demo class, open the page without a window and keep what it shows."""
    with TemporaryDirectory() as folder:
        report, shot = Path(folder) / "report", Path(folder) / "report.png"
        subprocess.run(
            [sys.executable, "-m", "reviewkit", "demo", "--out", str(report)],
            check=True,
            stdout=subprocess.DEVNULL,
        )
        # Chromium refuses its sandbox to root, which is who runs a container.
        as_root = ["--no-sandbox"] if os.geteuid() == 0 else []
        subprocess.run(
            [
                _browser(),
                "--headless",
                *as_root,
                "--disable-gpu",
                "--hide-scrollbars",
                "--force-color-profile=srgb",
                f"--user-data-dir={folder}/profile",
                f"--window-size={WIDTH_PX},{HEIGHT_PX}",
                f"--screenshot={shot}",
                (report / "review.html").as_uri(),
            ],
            check=True,
            timeout=120,
            stderr=subprocess.DEVNULL,
        )
        PICTURE.parent.mkdir(exist_ok=True)
        with Image.open(shot) as image:
            image.convert("RGB").quantize(COLOURS).save(PICTURE, optimize=True)


if __name__ == "__main__":
    main()
