"""Join the parts of the page."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from http import HTTPStatus

from fastapi import Depends, FastAPI, HTTPException, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import HTMLResponse
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException as AnyHTTPException

from reviewkit.errors import ReviewkitError
from reviewkit.store import Missing, Store
from reviewkit.web import (
    editing,
    files,
    forget,
    lexicon,
    many,
    over_time,
    plans,
    rehearsing,
    reviewing,
    start,
    working,
)
from reviewkit.web.batches import Batches
from reviewkit.web.concluded import ConcludedCache
from reviewkit.web.guard import Guard
from reviewkit.web.heard import HeardCache
from reviewkit.web.jobs import Jobs
from reviewkit.web.screens import make_screens
from reviewkit.web.state import PageState
from reviewkit.web.uploads import checked_form

NOT_HERE = "There is nothing at this address. It may have been deleted."

# The first that fits is asked, so that the page's own come last.
STATIC = (
    (over_time.SERVED_FROM, "reviewkit.progress", "static"),
    (rehearsing.SERVED_FROM, "reviewkit.rehearse", "pages/static"),
    ("/static", "reviewkit.web", "static"),
)


def make_app(store: Store, *, port: int, secret: str) -> FastAPI:
    """Make the page.

    Args:
        store: What is kept between starts.
        port: Where the page is served on this machine; requests for other places are refused.
        secret: Token that forms carry; a new one at each start.
    """
    state = PageState(
        store, HeardCache(), ConcludedCache(), Jobs(), Batches(store), make_screens(), secret
    )

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        yield
        state.jobs.close()
        state.batches.close()

    app = FastAPI(
        title="Reviewkit",
        docs_url=None,
        redoc_url=None,
        openapi_url=None,
        lifespan=lifespan,
        dependencies=[Depends(checked_form)],
    )
    app.state.secret = secret
    parts = (
        start, working, plans, reviewing, files, editing, rehearsing, over_time, forget, lexicon,
        many,
    )  # fmt: skip
    for part in parts:
        app.include_router(part.router(state))
    for address, package, folder in STATIC:
        app.mount(address, StaticFiles(packages=[(package, folder)]))
    _answer_errors(app, state)
    app.add_middleware(Guard, port=port)
    return app


def _answer_errors(app: FastAPI, state: PageState) -> None:
    """Give every error a screen with one clear sentence."""

    def tell(status: int, message: str) -> HTMLResponse:
        return state.render("error.html", status=status, message=message)

    @app.exception_handler(Missing)
    async def _missing(_: Request, error: Missing) -> HTMLResponse:
        return tell(HTTPStatus.NOT_FOUND, f"T{str(error)[1:]}.")

    @app.exception_handler(ReviewkitError)
    async def _bad_input(_: Request, error: ReviewkitError) -> HTMLResponse:
        return tell(HTTPStatus.UNPROCESSABLE_ENTITY, str(error))

    @app.exception_handler(AnyHTTPException)
    async def _refused(_: Request, error: HTTPException) -> HTMLResponse:
        is_unknown = error.status_code == HTTPStatus.NOT_FOUND
        return tell(error.status_code, NOT_HERE if is_unknown else str(error.detail))

    @app.exception_handler(RequestValidationError)
    async def _no_such_address(_: Request, __: RequestValidationError) -> HTMLResponse:
        return tell(HTTPStatus.NOT_FOUND, NOT_HERE)
