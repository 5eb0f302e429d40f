"""Say what the program is busy with, when it takes long enough to wonder."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager

from rich.console import Console

PATIENCE_S = 1.0


@contextmanager
def waiting(doing: str) -> Iterator[None]:
    """Show what is being done after a second of it, on a terminal's standard error."""
    console = Console(stderr=True, markup=False, emoji=False, highlight=False)
    if not sys.stderr.isatty():
        yield
        return
    status = console.status(doing)
    timer = threading.Timer(PATIENCE_S, status.start)
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
        timer.join()
        status.stop()
