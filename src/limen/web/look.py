"""How a reader wants the pages: language, colours, units, seen from which side."""

from collections.abc import Mapping
from dataclasses import dataclass

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import cookie_parser
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from limen.quantity import Show
from limen.words import best, languages, read_as

THEMES = ("device", "paper", "slate")
SIDES = ("outside", "inside")
UNITS: Mapping[str, Show] = {"metric": Show.METRIC, "feet": Show.FEET}


@dataclass(frozen=True, slots=True)
class Look:
    """A reader's choices, as their browser keeps them.

    Attributes:
        theme: ``paper`` (light), ``slate`` (dark), or what the device says.
        units: ``metric`` or ``feet``.
        side: which side is at the lower edge of a plan: ``outside`` or ``inside``.
    """

    theme: str = "device"
    units: str = "metric"
    side: str = "outside"

    @property
    def system(self) -> Show:
        """In which units lengths are written."""
        return UNITS[self.units]

    @property
    def turned(self) -> bool:
        """Whether plans are turned, for someone who stands inside."""
        return self.side == "inside"


def look_of(cookies: Mapping[str, str]) -> Look:
    """Read the choices from a request's cookies.

    A cookie may hold anything; one that names no choice counts as none.
    """
    theme, units, side = (
        cookies.get(f"limen_{name}", "") for name in ("theme", "units", "side")
    )
    return Look(
        theme=theme if theme in THEMES else "device",
        units=units if units in UNITS else "metric",
        side=side if side in SIDES else "outside",
    )


def language_of(headers: Headers) -> str:
    """The language that a reader chose; else the one their browser asks for."""
    chosen = cookie_parser(headers.get("cookie", "")).get("limen_language", "")
    return chosen if chosen in languages() else best(headers.get("accept-language", ""))


class Spoken:
    """An application whose every sentence is said in the language of who asks."""

    def __init__(self, app: ASGIApp) -> None:
        """Let an application speak its readers' languages."""
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request in its reader's language, and say which that is."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        language = language_of(Headers(scope=scope))

        async def told(message: Message) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).setdefault("Content-Language", language)
            await send(message)

        with read_as(language):
            await self.app(scope, receive, told)
