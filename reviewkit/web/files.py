"""Take a review away: the files of its report, as the coach has put it right."""

from __future__ import annotations

import unicodedata
from http import HTTPStatus
from urllib.parse import quote

from fastapi import APIRouter, HTTPException
from fastapi.responses import Response

from reviewkit.report.folder import MAKERS
from reviewkit.web.opening import open_review
from reviewkit.web.state import PageState

KINDS = {
    "html": "text/html",
    "md": "text/markdown",
    "json": "application/json",
    "csv": "text/csv",
    "edl": "text/plain",
    "parquet": "application/vnd.apache.parquet",
    "srt": "application/x-subrip",
    "txt": "text/plain",
    "vtt": "text/vtt",
    "zip": "application/zip",
}
NO_SUCH_FILE = "A review has no file of that name."
MAX_NAME_CHARS = 60


def router(state: PageState) -> APIRouter:
    """Give the routes of a review's files."""
    routes = APIRouter()

    @routes.get("/reviews/{review_id}/files/{name}")
    def take(review_id: int, name: str) -> Response:
        """Send one file of the report, for saving."""
        opened = open_review(state, review_id)
        if name not in MAKERS:
            raise HTTPException(HTTPStatus.NOT_FOUND, NO_SUCH_FILE)
        return as_download(MAKERS[name](opened.review), opened.stored.title, name)

    return routes


def as_download(data: str | bytes, title: str, name: str) -> Response:
    """Answer with a file for saving, named after what it is about."""
    kind = KINDS[name.rsplit(".", 1)[-1]]
    return Response(
        data.encode() if isinstance(data, str) else data,
        media_type=f"{kind}; charset=utf-8" if isinstance(data, str) else kind,
        headers={"content-disposition": saved_as(title, name)},
    )


def saved_as(title: str, name: str) -> str:
    """Word the header that names a download after its class, in plain signs and in full."""
    full = f"{_file_title(title)}-{name.replace('/', '-')}"
    plain = unicodedata.normalize("NFKD", full).encode("ascii", "ignore").decode() or name
    return f"attachment; filename=\"{plain}\"; filename*=UTF-8''{quote(full, safe='')}"


def _file_title(title: str) -> str:
    """Make a title fit for the name of a file anywhere."""
    letters = "".join(one if one.isalnum() else " " for one in title)
    return "-".join(letters.casefold().split())[:MAX_NAME_CHARS] or "class"
