"""Read what a form sends, with limits that hold while it arrives; names are shown, never used.

Everything stays in memory and nothing touches a disk. What is too large is thrown away as it
comes, so that the other fields of the form are still known and nothing typed is lost.
"""

from __future__ import annotations

import hmac
from collections.abc import AsyncIterator
from dataclasses import dataclass, field
from typing import Annotated
from urllib.parse import parse_qsl

from fastapi import Depends, HTTPException, Request
from python_multipart.exceptions import FormParserError
from python_multipart.multipart import MultipartParser, parse_options_header
from starlette.requests import ClientDisconnect

from reviewkit.errors import InputError
from reviewkit.report.wording import clean

MAX_TRANSCRIPT_BYTES = 20_000_000
MAX_PLAN_BYTES = 2_000_000
MAX_TEXT_BYTES = 2_000_000
MAX_SENT_BYTES = 400_000_000
MAX_FIELDS = 60
MAX_HEADER_BYTES = 4_000
MAX_NAME_CHARS = 200
FILE_LIMITS = {"transcript": MAX_TRANSCRIPT_BYTES, "plan_file": MAX_PLAN_BYTES}
# Fields that take many files, with the limit of each file.
MANY_LIMITS = {"classes": MAX_TRANSCRIPT_BYTES}
MAX_MANY_FILES = 500
DAMAGED = "The form arrived damaged; send it again."
SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})


@dataclass(frozen=True, slots=True)
class SentFile:
    """A file as it was sent; ``name`` is for showing alone."""

    name: str
    data: bytes
    limit_bytes: int
    is_too_large: bool = False

    def checked(self) -> bytes:
        """Give the bytes.

        Raises:
            InputError: There were more of them than the limit.
        """
        if self.is_too_large:
            limit = f"{self.limit_bytes / 1_000_000:g} MB"
            raise InputError(self.name, None, f"is larger than {limit}")
        return self.data


@dataclass(frozen=True, slots=True)
class Form:
    """The fields of one form: a text or a file by name, the last one where there are two.

    ``many`` holds all files of a field that takes many, in the order they were sent.
    """

    texts: dict[str, str] = field(default_factory=dict)
    files: dict[str, SentFile] = field(default_factory=dict)
    many: dict[str, list[SentFile]] = field(default_factory=dict)

    def text(self, name: str) -> str:
        """Give a text field, empty when it was not sent."""
        return self.texts.get(name, "")

    def file(self, name: str) -> SentFile | None:
        """Give a file that was chosen, None when the field was left empty."""
        return self.files.get(name)


@dataclass(slots=True)
class _Part:
    headers: dict[bytes, bytes] = field(default_factory=dict)
    header: bytearray = field(default_factory=bytearray)
    value: bytearray = field(default_factory=bytearray)
    header_bytes: int = 0
    name: str = ""
    file_name: str | None = None
    data: bytearray = field(default_factory=bytearray)
    limit: int = MAX_TEXT_BYTES
    is_too_large: bool = False


class _Parts:
    """Take the parts of a multipart body as the parser comes upon them."""

    def __init__(self, boundary: bytes) -> None:
        self.texts: dict[str, str] = {}
        self.files: dict[str, SentFile] = {}
        self.many: dict[str, list[SentFile]] = {}
        self._part = _Part()
        self._count, self._many_count = 0, 0
        self._is_whole = False
        self._parser = MultipartParser(
            boundary,
            {
                "on_part_begin": self._begin,
                "on_header_field": lambda data, start, end: self._header(data[start:end], "name"),
                "on_header_value": lambda data, start, end: self._header(data[start:end], "value"),
                "on_header_end": self._header_end,
                "on_headers_finished": self._headers_finished,
                "on_part_data": self._data,
                "on_part_end": self._end,
                "on_end": self._all_there,
            },
        )

    def feed(self, chunk: bytes) -> None:
        try:
            self._parser.write(chunk)
        except FormParserError:
            raise HTTPException(400, DAMAGED) from None

    def finish(self) -> Form:
        self._parser.finalize()
        if not self._is_whole:
            raise HTTPException(400, DAMAGED)
        return Form(self.texts, self.files, self.many)

    def _begin(self) -> None:
        self._part = _Part()

    def _all_there(self) -> None:
        self._is_whole = True

    def _header(self, data: bytes, half: str) -> None:
        part = self._part
        part.header_bytes += len(data)
        if part.header_bytes > MAX_HEADER_BYTES:
            raise HTTPException(400, DAMAGED)
        (part.header if half == "name" else part.value).extend(data)

    def _header_end(self) -> None:
        part = self._part
        part.headers[bytes(part.header).lower()] = bytes(part.value)
        part.header, part.value = bytearray(), bytearray()

    def _headers_finished(self) -> None:
        part = self._part
        _, options = parse_options_header(part.headers.get(b"content-disposition", b""))
        part.name = options.get(b"name", b"").decode("utf-8", "replace")
        if b"filename" in options:
            part.file_name = shown_name(options[b"filename"].decode("utf-8", "replace"))
            part.limit = (FILE_LIMITS | MANY_LIMITS).get(part.name, 0)
        self._counted(is_one_of_many=part.file_name is not None and part.name in MANY_LIMITS)

    def _counted(self, *, is_one_of_many: bool) -> None:
        self._many_count += is_one_of_many
        self._count += not is_one_of_many
        if self._count > MAX_FIELDS:
            raise HTTPException(400, "The form has too many fields.")
        if self._many_count > MAX_MANY_FILES:
            raise HTTPException(
                413, f"These are more than {MAX_MANY_FILES} files at once; send them in parts."
            )

    def _data(self, data: bytes, start: int, end: int) -> None:
        part = self._part
        room = part.limit - len(part.data)
        part.data += data[start : min(end, start + room)]
        part.is_too_large |= end - start > room

    def _end(self) -> None:
        part = self._part
        if part.file_name is None:
            if part.is_too_large:
                raise HTTPException(413, "A field of the form holds too much text.")
            self.texts[part.name] = _as_text(bytes(part.data))
        elif part.file_name or part.data:
            sent = SentFile(
                part.file_name or "file", bytes(part.data), part.limit, part.is_too_large
            )
            if part.name in MANY_LIMITS:
                self.many.setdefault(part.name, []).append(sent)
            else:
                self.files[part.name] = sent


def shown_name(name: str) -> str:
    """Make a sent name fit to show: its last part, on one line, of a reasonable length."""
    return clean(name.replace("\\", "/").rsplit("/", 1)[-1])[:MAX_NAME_CHARS]


async def read_form(request: Request) -> Form:
    """Read the fields of a sent form; a form without any for a request that sends none.

    Raises:
        HTTPException: The body is no form, or far too large to be one.
    """
    kind, options = parse_options_header(request.headers.get("content-type"))
    if kind == b"multipart/form-data" and options.get(b"boundary"):
        parts = _begin_parts(options[b"boundary"])
        async for chunk in _limited(request, MAX_SENT_BYTES):
            parts.feed(chunk)
        return parts.finish()
    if kind == b"application/x-www-form-urlencoded":
        body = b"".join([chunk async for chunk in _limited(request, 3 * MAX_TEXT_BYTES)])
        return Form(_urlencoded(body))
    return Form()


async def checked_form(request: Request) -> Form:
    """Read the form of a request that changes something, if it carries the page's token.

    Raises:
        HTTPException: The token is missing or another's, or the form cannot be read.
    """
    if request.method in SAFE_METHODS:
        return Form()
    form = await read_form(request)
    given = request.headers.get("x-form-token") or form.text("form_token")
    if not hmac.compare_digest(given.encode(), request.app.state.secret.encode()):
        raise HTTPException(
            403, "This form is from an earlier start of the program; open the page anew."
        )
    return form


SentForm = Annotated[Form, Depends(checked_form)]


def _begin_parts(boundary: bytes) -> _Parts:
    try:
        return _Parts(boundary)
    except FormParserError:
        raise HTTPException(400, DAMAGED) from None


async def _limited(request: Request, max_bytes: int) -> AsyncIterator[bytes]:
    taken = 0
    try:
        async for chunk in request.stream():
            taken += len(chunk)
            if taken > max_bytes:
                raise HTTPException(413, "What was sent is far too large.")
            yield chunk
    except ClientDisconnect:
        raise HTTPException(400, DAMAGED) from None


def _urlencoded(body: bytes) -> dict[str, str]:
    try:
        pairs = parse_qsl(
            body.decode("ascii", "replace"), keep_blank_values=True, max_num_fields=MAX_FIELDS
        )
    except ValueError:
        raise HTTPException(400, "The form has too many fields.") from None
    return {name: _lines(value) for name, value in pairs}


def _as_text(data: bytes) -> str:
    return _lines(data.decode("utf-8", "replace"))


def _lines(text: str) -> str:
    """Browsers send line ends as two characters."""
    return text.replace("\r\n", "\n").replace("\r", "\n").replace("\x00", "\ufffd")
