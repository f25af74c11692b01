"""The planning desk served on this machine, until it is ended."""

import gc
import socket
import webbrowser
from contextlib import suppress
from pathlib import Path
from threading import Timer

import uvicorn
from fastapi import FastAPI

from limen.desk.doors_kept import write_all
from limen.desk.refusal import Refusal
from limen.web.app import create_app
from limen.web.assets import AssetsMissingError

_MOMENT = 0.8  # s, until the server answers


def ready(library: Path | None = None) -> FastAPI:
    """The application, its library opened.

    Args:
        library: the database file; that of the user's data folder if not given.

    Raises:
        Refusal: the library cannot be opened, or nothing was bundled.
    """
    try:
        return create_app(library)
    except AssetsMissingError as error:
        raise Refusal([str(error)]) from error


def until_ended(app: FastAPI, here: socket.socket, where: str, *, show: bool) -> None:
    """Serve until it is ended.

    Args:
        app: the application.
        here: a socket that listens, for this machine alone.
        where: its address.
        show: whether a browser is opened.
    """
    if show:
        timer = Timer(_MOMENT, webbrowser.open, [where])
        timer.daemon = True
        timer.start()
    # A name asked for is checked by us; no forwarded address is believed.
    settings = uvicorn.Config(
        app,
        log_level="warning",
        access_log=False,
        server_header=False,
        proxy_headers=False,
        ws="none",
        timeout_graceful_shutdown=3,
    )
    # All that was imported and made until here stays: looked through for garbage again
    # and again, it would hold up an answer each time by a tenth of a second.
    gc.freeze()
    try:
        with suppress(KeyboardInterrupt):  # how it is meant to end
            uvicorn.Server(settings).run(sockets=[here])
    finally:
        for work in (app.state.jobs, app.state.studying):
            work.close()
        write_all(app.state.desk)
        app.state.desk.library.close()
