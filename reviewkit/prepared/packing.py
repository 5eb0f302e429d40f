"""Write a lexicon, and what was made of it, as bytes and read them back.

Python's own pickle, narrowed to plain values, arrays and the program's records: whatever
else a file names is refused before it is looked up, so that reading one runs no code but
the making of records.
"""

from __future__ import annotations

import pickle
from collections.abc import Sequence
from dataclasses import fields, is_dataclass
from importlib import import_module
from io import BytesIO
from typing import Any

from reviewkit.model import Lexicon
from reviewkit.once import Made, Once

# What stands beside the program's records and once-functions, by module.
_ALLOWED = {
    "re": frozenset({"_compile"}),
    "collections": frozenset({"Counter", "OrderedDict"}),
    "builtins": frozenset({"frozenset", "set"}),
    "numpy": frozenset({"dtype", "ndarray"}),
    "numpy._core.multiarray": frozenset({"_reconstruct"}),
    "numpy._core.numeric": frozenset({"_frombuffer"}),
    "numpy.core.multiarray": frozenset({"_reconstruct"}),
    "numpy.core.numeric": frozenset({"_frombuffer"}),
    # How a phrasebook brings forms of a word together.
    "reviewkit.language.matching": frozenset({"singular", "stem"}),
    "reviewkit.frames.terms": frozenset({"fold"}),
}


class UnreadableError(ValueError):
    """The bytes are no lexicon, or not one of this program's."""


def pack(lexicon: Lexicon, made: Sequence[Made]) -> bytes:
    """Write a lexicon and what was made of it; what both share is written once."""
    stream = BytesIO()
    _Pickler(stream, protocol=5).dump((lexicon, tuple(made)))
    return stream.getvalue()


def unpack(data: bytes) -> tuple[Lexicon, tuple[Made, ...]]:
    """Read what ``pack`` wrote.

    Raises:
        UnreadableError: It is something else.
    """
    try:
        lexicon, made = _Unpickler(BytesIO(data)).load()
    # A pickle that is none can fail in any way.
    except Exception as error:
        raise UnreadableError(str(error)) from None
    if not isinstance(lexicon, Lexicon):
        raise UnreadableError("this is no lexicon")
    return lexicon, made


class _Pickler(pickle.Pickler):
    def reducer_override(self, value: Any) -> Any:
        """Write records as calls with their fields: read back at a fifth of the usual cost."""
        if is_dataclass(value) and not isinstance(value, type):
            return type(value), tuple(getattr(value, one.name) for one in fields(value))
        return NotImplemented


class _Unpickler(pickle.Unpickler):
    def find_class(self, module: str, name: str) -> Any:
        if name in _ALLOWED.get(module, ()):
            return super().find_class(module, name)
        if module.partition(".")[0] == "reviewkit":
            found = getattr(import_module(module), name, None)
            if isinstance(found, Once) or (isinstance(found, type) and is_dataclass(found)):
                return found
        raise UnreadableError(f"{module}.{name} has no place in a lexicon")
