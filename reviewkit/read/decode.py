"""Bytes -> text: find the encoding, make all line ends one, refuse what is no text."""

from __future__ import annotations

import codecs
import re

from reviewkit.errors import InputError

_SAMPLE = 4096
_CONTROLS = re.compile(r"[\x01-\x08\x0e-\x1a\x1c-\x1f\x7f]")
_MOST_CONTROLS = 0.02
_MOST_NULS = 0.3


def decode(data: bytes, source: str) -> tuple[str, tuple[str, ...]]:
    r"""Turn the bytes of a file into text with ``\n`` line ends and no byte order mark.

    Knows UTF-8, UTF-16 of either byte order (with or without a mark) and Windows-1252.
    A NUL becomes U+FFFD, as the WebVTT standard asks.

    Returns:
        The text, and warnings about bytes that could not be read.

    Raises:
        InputError: The bytes are no text.
    """
    text, warnings = _decode_any(data)
    if _is_binary(text[: 1 << 20]):
        raise InputError(
            source, None, "this is no text file; give captions or a transcript with times as text"
        )
    text = text.removeprefix("\ufeff").replace("\x00", "\ufffd")
    return text.replace("\r\n", "\n").replace("\r", "\n"), warnings


def _is_binary(text: str) -> bool:
    controls = len(_CONTROLS.findall(text))
    too_many = controls > 4 and controls > _MOST_CONTROLS * len(text)
    return too_many or text.count("\x00") > _MOST_NULS * len(text) > 4


def _decode_any(data: bytes) -> tuple[str, tuple[str, ...]]:
    utf16 = _utf16_order(data)
    if utf16:
        text = data.decode(utf16, errors="replace")
        return text, _replaced_warning(text)
    try:
        return data.decode("utf-8"), ()
    except UnicodeDecodeError:
        text = data.decode("utf-8", errors="replace")
    bad = text.count("\ufffd")
    good = sum(1 for byte in data if byte >= 0xC2) - bad
    if bad <= good or data.startswith(codecs.BOM_UTF8) or _is_cut_off(data):
        return text, _replaced_warning(text)
    # The five bytes Windows-1252 leaves open stand for themselves, as browsers read them.
    return "".join(_WINDOWS_1252[byte] for byte in data), ()


def _open_bytes() -> list[str]:
    table = []
    for byte in range(256):
        char = bytes([byte]).decode("cp1252", errors="replace")
        table.append(chr(byte) if char == "\ufffd" else char)
    return table


_WINDOWS_1252 = _open_bytes()


def _is_cut_off(data: bytes) -> bool:
    """Tell whether all is UTF-8 but a last character that lacks its end."""
    try:
        codecs.getincrementaldecoder("utf-8")().decode(data, final=False)
    except UnicodeDecodeError:
        return False
    return True


def _utf16_order(data: bytes) -> str | None:
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return "utf-16"
    sample = data[:_SAMPLE]
    half = len(sample) // 2
    if half < 4:
        return None
    even, odd = sample[0::2].count(0), sample[1::2].count(0)
    if odd > 0.6 * half and even < 0.1 * half:
        return "utf-16-le"
    if even > 0.6 * half and odd < 0.1 * half:
        return "utf-16-be"
    return None


def _replaced_warning(text: str) -> tuple[str, ...]:
    at = text.find("\ufffd")
    if at < 0:
        return ()
    line = text.count("\n", 0, at) + 1
    return (f"line {line}: some characters could not be read; save the file as UTF-8",)
