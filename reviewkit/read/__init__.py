"""Turn files into records; the only place in this package that opens them."""

from __future__ import annotations

from pathlib import Path

from reviewkit.errors import InputError
from reviewkit.model import Plan
from reviewkit.read.plan import MAX_BYTES as MAX_PLAN_BYTES
from reviewkit.read.plan import parse_plan

__all__ = ["read_bytes", "read_plan"]


def read_bytes(path: Path, max_bytes: int) -> bytes:
    """Read a whole file of at most ``max_bytes`` bytes.

    Raises:
        InputError: There is no such file, it is a folder, too large or not readable.
    """
    try:
        with path.open("rb") as file:
            data = file.read(max_bytes + 1)
    except FileNotFoundError:
        raise InputError(str(path), None, "there is no such file") from None
    except IsADirectoryError:
        raise InputError(str(path), None, "is a folder; name a file in it") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise InputError(str(path), None, f"cannot be read: {reason}") from None
    if len(data) > max_bytes:
        raise InputError(str(path), None, f"is larger than {max_bytes / 1_000_000:g} MB")
    return data


def read_plan(path: Path) -> Plan:
    """Read a plan from a CSV table, an .xlsx spreadsheet or plain text, told by content.

    Raises:
        InputError: The file cannot be read or is no plan.
        InputErrors: Every problem found in its lines.
    """
    return parse_plan(path.name, read_bytes(path, MAX_PLAN_BYTES))
