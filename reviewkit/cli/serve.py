"""``reviewkit serve``: open the page on this machine."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING, Annotated

import typer

from reviewkit.cli.options import DataOption

if TYPE_CHECKING:
    import socket

HERE = "127.0.0.1"


def serve(
    port: Annotated[
        int, typer.Option(min=0, max=65535, help="Where to serve; a free port when 0.")
    ] = 0,
    is_left_alone: Annotated[
        bool, typer.Option("--no-open", help="Leave the browser alone.")
    ] = False,
    data: DataOption = None,
) -> None:
    """Open a page to review classes in, on this machine alone."""
    import secrets

    import uvicorn

    from reviewkit.store import default_folder, open_data
    from reviewkit.web.app import make_app

    place = data or str(default_folder())
    store = open_data(place)
    with _listening(port) as listener:
        chosen = listener.getsockname()[1]
        app = make_app(store, port=chosen, secret=secrets.token_urlsafe(32))
        address = f"http://{HERE}:{chosen}/"
        typer.echo(f"The page is at {address}")
        typer.echo(f"Reviews are kept in {store.place if store.is_server else place}")
        typer.echo("Press Ctrl+C to stop.")
        if not is_left_alone:
            _open_soon(address)
        config = uvicorn.Config(
            app, log_level="warning", access_log=False, ws="none", server_header=False
        )
        with suppress(KeyboardInterrupt):
            uvicorn.Server(config).run(sockets=[listener])


def _listening(port: int) -> socket.socket:
    """Take the port, so that nobody else can have it before the page is up."""
    import os
    import socket

    from reviewkit.errors import InputError

    listener = socket.socket()
    if os.name == "posix":
        # A port that the program had a moment ago is free again at once.
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((HERE, port))
    except OSError as error:
        listener.close()
        reason = (error.strerror or str(error)).lower()
        raise InputError("--port", None, f"{port} cannot be used: {reason}; name another") from None
    listener.listen(64)
    return listener


def _open_soon(address: str) -> None:
    """Open the browser from beside, as some browsers keep their caller waiting."""
    import threading
    import webbrowser

    threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
