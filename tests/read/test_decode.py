from __future__ import annotations

import codecs

import pytest

from reviewkit.errors import InputError
from reviewkit.read.decode import decode

TEXT = "0:05 knees soft, it\u2019s tr\u00e8s good\n0:10 breathe"


@pytest.mark.parametrize(
    "data",
    [
        TEXT.encode(),
        codecs.BOM_UTF8 + TEXT.encode(),
        TEXT.encode("utf-16"),
        codecs.BOM_UTF16_BE + TEXT.encode("utf-16-be"),
        TEXT.encode("utf-16-le"),
        TEXT.encode("utf-16-be"),
        TEXT.encode("cp1252"),
        TEXT.replace("\n", "\r\n").encode(),
        TEXT.replace("\n", "\r").encode(),
    ],
    ids=["utf-8", "bom", "utf-16", "be-bom", "le", "be", "cp1252", "crlf", "cr"],
)
def test_one_text_in_every_encoding(data: bytes) -> None:
    assert decode(data, "a.txt") == (TEXT, ())


def test_a_character_cut_off_at_the_end_is_replaced_and_told() -> None:
    text, warnings = decode("0:05 tr\u00e8s \u00e8".encode()[:-1], "a.txt")
    assert text == "0:05 tr\u00e8s \ufffd"
    assert warnings[0].startswith("line 1: ")


def test_mostly_utf8_stays_utf8() -> None:
    text, warnings = decode("\u00e9\u00e9\u00e9\n".encode() + b"\xff", "a.txt")
    assert text == "\u00e9\u00e9\u00e9\n\ufffd"
    assert warnings[0].startswith("line 2: ")


def test_open_bytes_of_windows_1252_stand_for_themselves() -> None:
    assert decode(b"\xe9 \x81", "a.txt")[0] == "\u00e9 \x81"


def test_nul_becomes_the_replacement_character() -> None:
    assert decode(b"WEBVTT\n\n00:01.000 --> 00:02.000\na\x00b", "a.vtt")[0].endswith("a\ufffdb")


@pytest.mark.parametrize(
    "data",
    [b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 8, b"\x00" * 64, bytes(range(1, 9)) * 4],
    ids=["picture", "nul", "controls"],
)
def test_what_is_no_text_is_refused(data: bytes) -> None:
    with pytest.raises(InputError, match="this is no text file"):
        decode(data, "a.bin")
