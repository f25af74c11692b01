"""What every route needs: the desk, a page from a template, who is asking how."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, cast

from fastapi import Request
from fastapi.responses import HTMLResponse

from limen.desk.library import Desk
from limen.web.look import Look, look_of
from limen.words import reading, say_count

if TYPE_CHECKING:
    from jinja2 import Environment


def desk_of(request: Request) -> Desk:
    """The desk that the server was opened on."""
    return cast("Desk", request.app.state.desk)


def look_at(request: Request) -> Look:
    """How this reader wants pages."""
    return look_of(request.cookies)


Context = Mapping[str, Any]
"""What a template is filled with."""


def fill(request: Request, template: str, context: Context) -> str:
    """A template filled in, whole page or piece, as text."""
    pages = cast("Environment", request.app.state.pages)
    look = look_at(request)
    common = {"look": look, "language": reading(), "say_many": say_count}
    return pages.get_template(template).render({**common, **context})


def page(
    request: Request,
    template: str,
    context: Context | None = None,
    *,
    status: int = 200,
    headers: dict[str, str] | None = None,
) -> HTMLResponse:
    """A template filled in, as an answer."""
    return HTMLResponse(fill(request, template, context or {}), status, headers)


def by_htmx(request: Request) -> bool:
    """Whether a piece of a page is wanted, to be put in its place."""
    return request.headers.get("HX-Request") == "true"


def for_people(request: Request) -> bool:
    """Whether a person reads the answer, not a program."""
    return by_htmx(request) or "text/html" in request.headers.get("Accept", "")


def version_asked(request: Request) -> int | None:
    """The version that a change was made from, as ``If-Match`` names it."""
    stated = request.headers.get("If-Match", "").strip().removeprefix("W/").strip('"')
    return int(stated) if stated.isascii() and stated.isdigit() else None


def version_told(version: int) -> dict[str, str]:
    """The header that names a version."""
    return {"ETag": f'"{version}"'}
