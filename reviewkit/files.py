"""Write files whole or not at all: nobody ever finds half a review."""

from __future__ import annotations

import os
import secrets
import shutil
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path, PurePosixPath

from reviewkit.errors import InputError


def write_whole(path: Path, data: bytes | str, *, overwrite: bool = False) -> None:
    """Write a file so that it holds all of ``data`` or stays as it was.

    Text is written as UTF-8 with the line ends it has.

    Raises:
        InputError: The file exists and may not be replaced, or cannot be written.
    """
    target = Path(os.path.realpath(path))
    _check_target(target, path, overwrite)
    staged = target.with_name(_staging_name())
    try:
        _write_new(staged, data)
        staged.replace(target)
    except OSError as error:
        raise _cannot_write(path, error) from None
    finally:
        with suppress(OSError):
            staged.unlink(missing_ok=True)


def write_folder(
    folder: Path, files: Mapping[str, bytes | str], *, overwrite: bool = False
) -> None:
    """Write all files into a folder or none; the folder is made when it is missing.

    Files of other names that are in the folder already stay untouched.

    Args:
        folder: Where to write.
        files: What to write by name; a name may hold folders of its own, joined by ``/``.
        overwrite: Whether files of these names may be replaced.

    Raises:
        ValueError: A name leads out of the folder.
        InputError: A file exists and may not be replaced, or something cannot be written.
    """
    targets = {name: _inside(folder, name) for name in files}
    if folder.exists() and not folder.is_dir():
        raise InputError(str(folder), None, "is a file; name a folder")
    for target in targets.values():
        _check_target(target, target, overwrite, is_parent_made=True)
    is_new = not folder.exists()
    staging = (folder.parent if is_new else folder) / _staging_name()
    try:
        (staging / "new").mkdir(parents=True)
        for name, data in files.items():
            staged = staging / "new" / name
            staged.parent.mkdir(parents=True, exist_ok=True)
            _write_new(staged, data)
        if is_new:
            (staging / "new").replace(folder)
        else:
            _move_all(staging, targets)
    except OSError as error:
        raise _cannot_write(folder, error) from None
    finally:
        shutil.rmtree(staging, ignore_errors=True)


def _move_all(staging: Path, targets: Mapping[str, Path]) -> None:
    """Move staged files into place; when one cannot be moved, put everything back."""
    undo: list[tuple[Path, Path | None]] = []
    try:
        for name, target in targets.items():
            target.parent.mkdir(parents=True, exist_ok=True)
            kept = None
            if target.exists():
                kept = staging / "old" / name
                kept.parent.mkdir(parents=True, exist_ok=True)
                target.replace(kept)
            undo.append((target, kept))
            (staging / "new" / name).replace(target)
    except OSError:
        for target, kept in reversed(undo):
            with suppress(OSError):
                target.unlink(missing_ok=True)
                if kept is not None:
                    kept.replace(target)
        raise


def _write_new(path: Path, data: bytes | str) -> None:
    with path.open("xb") as file:
        file.write(data.encode("utf-8") if isinstance(data, str) else data)
        file.flush()
        os.fsync(file.fileno())


def _check_target(
    target: Path, named: Path, overwrite: bool, *, is_parent_made: bool = False
) -> None:
    if target.is_dir():
        raise InputError(str(named), None, "is a folder; name a file")
    if target.exists() and not target.is_file():
        raise InputError(str(named), None, "is no regular file; name another one")
    if target.exists() and not overwrite:
        raise InputError(str(named), None, "exists already; give --force to replace it")
    if not is_parent_made and not target.parent.is_dir():
        raise InputError(str(named), None, f"there is no folder {named.parent}")


def _inside(folder: Path, name: str) -> Path:
    pure = PurePosixPath(name)
    if not pure.parts or pure.is_absolute() or ".." in pure.parts or "\\" in name:
        raise ValueError(f"{name!r} is no name of a file inside a folder")
    return folder.joinpath(*pure.parts)


def _staging_name() -> str:
    return f".reviewkit-{secrets.token_hex(6)}.tmp"


def _cannot_write(path: Path, error: OSError) -> InputError:
    return InputError(str(path), None, f"cannot be written: {error.strerror or error}")
