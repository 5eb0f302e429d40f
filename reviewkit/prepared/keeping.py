"""Keep a lexicon made ready for listening in a file, and trust the file no further than needed.

Its name is the digest of the lists and of the program, so that what either of them was before
is never taken for what it is now. A file that is damaged, that somebody else may have written
or that cannot be written is as good as none.
"""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from functools import cache
from hashlib import sha256
from pathlib import Path

from reviewkit.errors import InputError
from reviewkit.files import write_whole
from reviewkit.model import Lexicon
from reviewkit.once import Made, all_made
from reviewkit.prepared.packing import UnreadableError, pack, unpack
from reviewkit.prepared.trial import listen_for_once
from reviewkit.read import LexiconSources, build

SUFFIX = ".lexicon"
# A coach's lists change now and then, and each change leaves a file behind.
MOST_KEPT = 4
_DIGEST_BYTES = 32
_PACKAGE = Path(__file__).resolve().parent.parent


def make_ready(sources: LexiconSources, folder: Path) -> Lexicon:
    """Give the lexicon that is built from some files, ready for listening.

    Args:
        sources: The files.
        folder: Where it is kept; made when it is missing.

    Raises:
        InputErrors: Every problem found in the files' lines.
    """
    path = folder / f"{_digest(sources)}{SUFFIX}"
    kept = _kept(path)
    if kept is not None:
        return kept
    lexicon = build(sources)
    # Another lexicon of this process may share its fitted tables, and have made much of them.
    with all_made(or_known=True) as made:
        listen_for_once(lexicon)
    _keep(path, lexicon, [one for one in made() if is_of_lists_alone(one, lexicon)])
    return lexicon


def _kept(path: Path) -> Lexicon | None:
    """Read what was kept, if it is whole and the user's own."""
    try:
        if not _is_own(path):
            return None
        data = path.read_bytes()
        if sha256(data[_DIGEST_BYTES:]).digest() != data[:_DIGEST_BYTES]:
            return None
        with _no_collections():
            lexicon, made = unpack(data[_DIGEST_BYTES:])
    except (OSError, UnreadableError):
        return None
    for one in made:
        one.restore()
    return lexicon


@contextmanager
def _no_collections() -> Iterator[None]:
    """Look for no garbage while much is made that is none, nor among all that afterwards.

    What is made has no circles, so that it goes when nobody needs it, all the same.
    """
    was_enabled = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        gc.freeze()
        if was_enabled:
            gc.enable()


def _is_own(path: Path) -> bool:
    """Tell whether nobody but this user can have written a file; where one cannot tell, yes."""
    if not hasattr(os, "getuid"):
        return True
    status = path.stat()
    return status.st_uid == os.getuid() and not status.st_mode & 0o022


def _keep(path: Path, lexicon: Lexicon, made: Sequence[Made]) -> None:
    """Keep what was made and forget the oldest; where that cannot be, nothing is lost."""
    data = pack(lexicon, made)
    digest = sha256(data).digest()
    with suppress(OSError, InputError):
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        write_whole(path, digest + data, overwrite=True)
        path.chmod(0o600)
        by_age = sorted(path.parent.glob(f"*{SUFFIX}"), key=lambda one: one.stat().st_mtime_ns)
        for old in by_age[:-MOST_KEPT]:
            old.unlink(missing_ok=True)


def is_of_lists_alone(made: Made, lexicon: Lexicon) -> bool:
    """Tell what was made from the lexicon, or from parts of it, from what the talk has part in."""
    parts = (
        lexicon, lexicon.moves, lexicon.points, lexicon.patterns, lexicon.weights, (),
        *lexicon.lists.values(), *lexicon.weights.values(),
    )  # fmt: skip
    return {id(source) for source in made.sources} <= {id(part) for part in parts}


def _digest(sources: LexiconSources) -> str:
    """Sum up the lists, with whose they are, and the program that makes something of them."""
    digest = sha256(_program())
    bundled = [(file.source, file.data) for file in (*sources.bundled, *sources.fitted)]
    own = [(file.source, file.text.encode("utf-8", "surrogatepass")) for file in sources.own]
    for whose, files in (("bundled", bundled), ("own", own)):
        for source, data in files:
            head = f"{whose}\0{source}\0{len(data)}\0"
            digest.update(head.encode("utf-8", "surrogatepass") + data)
    return digest.hexdigest()


@cache
def _program() -> bytes:
    """Sum up the program: its version says too little while somebody works on it."""
    digest = sha256()
    for path in sorted(_PACKAGE.rglob("*.py")):
        digest.update(path.read_bytes())
    return digest.digest()
