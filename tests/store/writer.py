"""Write into a store and say what is written, once it is; run as a program by tests."""

from __future__ import annotations

import sys
from itertools import count
from pathlib import Path

from reviewkit.store import open_store
from tests.store.build import A_CORRECTION, titled


def main(folder: Path, name: str, many: int) -> None:
    """Add reviews with a correction each, ``many`` of them or without end where it is 0."""
    with open_store(folder) as store:
        for at in range(many) if many else count():
            title = f"{name} {at}"
            store.add_correction(store.add_review(titled(title)), A_CORRECTION)
            sys.stdout.write(f"{title}\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]))
