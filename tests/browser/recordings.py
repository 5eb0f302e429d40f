"""Small recordings that a browser can play: a picture a second, or a low tone."""

from __future__ import annotations

import io
import math
import struct
import wave

from PIL import Image

_SIZE = (32, 18)
_CLUSTER_ID, _SEGMENT_ID = 0x1F43B675, 0x18538067


def wav(seconds: int) -> bytes:
    """Record a tone as uncompressed sound."""
    rate = 4000
    second = bytes(128 + round(20 * math.sin(2 * math.pi * 100 * i / rate)) for i in range(rate))
    file = io.BytesIO()
    with wave.open(file, "wb") as sound:
        sound.setnchannels(1)
        sound.setsampwidth(1)
        sound.setframerate(rate)
        sound.writeframes(second * seconds)
    return file.getvalue()


def webm(seconds: int) -> bytes:
    """Film a grey that brightens, a picture a second, as WebM with VP8.

    Source: the Matroska elements of RFC 9559; a lossy WebP holds one whole picture of VP8
    (RFC 6386), which is the only kind that this film needs.
    """
    info = _element(
        0x1549A966,
        _number(0x2AD7B1, 1_000_000)  # a tick is a millisecond
        + _element(0x4489, struct.pack(">d", seconds * 1000.0))
        + _element(0x4D80, b"tests")
        + _element(0x5741, b"tests"),
    )
    picture = _element(0xE0, _number(0xB0, _SIZE[0]) + _number(0xBA, _SIZE[1]))
    entry = _number(0xD7, 1) + _number(0x73C5, 1) + _number(0x83, 1) + _element(0x86, b"V_VP8")
    tracks = _element(0x1654AE6B, _element(0xAE, entry + picture))
    clusters, cues = [], []
    at = len(info) + len(tracks)
    for second in range(seconds):
        place = _number(0xF7, 1) + _number(0xF1, at)
        cues.append(_element(0xBB, _number(0xB3, second * 1000) + _element(0xB7, place)))
        clusters.append(_cluster(second))
        at += len(clusters[-1])
    body = info + tracks + b"".join(clusters) + _element(0x1C53BB6B, b"".join(cues))
    return _head() + _element(_SEGMENT_ID, body)


def _head() -> bytes:
    return _element(
        0x1A45DFA3,
        b"".join(_number(name, value) for name, value in ((0x4286, 1), (0x42F7, 1)))
        + _number(0x42F2, 4)
        + _number(0x42F3, 8)
        + _element(0x4282, b"webm")
        + _number(0x4287, 2)
        + _number(0x4285, 2),
    )


def _cluster(second: int) -> bytes:
    is_whole = 0x80  # a picture that needs no other
    block = b"\x81" + struct.pack(">hB", 0, is_whole) + _picture(60 + second % 180)
    return _element(_CLUSTER_ID, _number(0xE7, second * 1000) + _element(0xA3, block))


def _picture(grey: int) -> bytes:
    file = io.BytesIO()
    Image.new("RGB", _SIZE, (grey, grey, grey)).save(file, "WEBP", quality=50)
    held = file.getvalue()
    start = held.index(b"VP8 ") + 8
    (size,) = struct.unpack("<I", held[start - 4 : start])
    return held[start : start + size]


def _element(name: int, held: bytes) -> bytes:
    """Write one element: its name, its length in eight bytes, and what it holds."""
    named = name.to_bytes((name.bit_length() + 7) // 8, "big")
    return named + (len(held) | 1 << 56).to_bytes(8, "big") + held


def _number(name: int, value: int) -> bytes:
    return _element(name, value.to_bytes(max(1, (value.bit_length() + 7) // 8), "big"))
