"""What lists say of sites, written down after something was changed anyway."""

from starlette.concurrency import run_in_threadpool
from starlette.types import ASGIApp, Receive, Scope, Send

from limen.desk.doors_kept import write_all
from limen.desk.library import Desk

_READS = frozenset({"GET", "HEAD"})
_ASKS = ("/preview", "/merge/shown")
"""Ends of addresses that only ask, with more than fits in an address."""


class Noting:
    """An application whose reading requests write nothing.

    What they worked out waits in memory; it is written once the answer to a request
    that changes something has been sent.
    """

    def __init__(self, app: ASGIApp, desk: Desk) -> None:
        """Note for a desk what its application works out."""
        self.app = app
        self.desk = desk

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer; then write what was noted, if anything was changed."""
        await self.app(scope, receive, send)
        changes = scope["type"] == "http" and scope["method"] not in _READS
        if changes and not scope["path"].endswith(_ASKS):
            await run_in_threadpool(write_all, self.desk)
