"""Records of visits: sealed at the desk, taken in from a phone, given out."""

from typing import Annotated, Any

from fastapi import APIRouter, Body, Path, Request
from fastapi.responses import JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from limen.desk.library import open_site
from limen.desk.record_keeping import (
    paper_file,
    seal_visit,
    sealed_file,
    take_sealed,
)
from limen.desk.refusal import Refusal
from limen.desk.visits import NoSuchVisitError, folded
from limen.findings import Message
from limen.web.answers import refused
from limen.web.pages import desk_of, for_people, look_at, page
from limen.web.records_shown import records_shown
from limen.web.routes_out import as_file
from limen.words import say

Id = Annotated[str, Path(max_length=80)]
Visit = Annotated[
    str,
    Path(pattern=r"^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$"),
]
Digest = Annotated[str, Path(pattern=r"^[0-9a-f]{64}$")]
MOST_PASSPHRASE = 1000

_FORM: dict[str, Any] = {
    "requestBody": {
        "required": True,
        "content": {
            "application/x-www-form-urlencoded": {
                "schema": {
                    "type": "object",
                    "properties": {"passphrase": {"type": "string"}},
                }
            }
        },
    }
}
_PDF: dict[int | str, dict[str, object]] = {200: {"content": {"application/pdf": {}}}}


def record_routes() -> APIRouter:
    """The routes of records."""
    routes = APIRouter(prefix="/sites/{site_id}")
    at = "/doorways/{door}/visits/{visit}/record"
    routes.post(at, openapi_extra=_FORM)(seal)
    routes.put(at)(take_in)
    routes.get("/records")(listed)
    routes.get("/records/{digest}.json")(as_json)
    routes.get("/records/{digest}.pdf", responses=_PDF)(as_paper)
    return routes


async def seal(request: Request, site_id: Id, door: Id, visit: Visit) -> Response:
    """Seal a visit at the desk; a visit that is sealed stays so."""
    async with request.form(max_files=0, max_fields=4, max_part_size=4_000) as form:
        typed = form.get("passphrase")
    secret = typed[:MOST_PASSPHRASE] if isinstance(typed, str) else ""
    return await run_in_threadpool(_seal, request, (site_id, door, visit), secret)


def _seal(request: Request, at: tuple[str, str, str], secret: str) -> Response:
    site_id, door, visit = at
    desk, to = (
        desk_of(request),
        f"/sites/{site_id}/doorways/{door}/visits/{visit}#record",
    )

    def ask(_what: Message) -> str:
        if not secret:
            raise Refusal([say(Message("record.page.no_passphrase"))])
        return secret

    try:
        if folded(desk, site_id, visit).doorway != door:
            return _no_visit(request)
        kept = seal_visit(desk, site_id, visit, ask, system=look_at(request).system)
    except NoSuchVisitError:
        return _no_visit(request)
    except Refusal as refusal:
        if not for_people(request):
            raise
        context = {"lines": refusal.lines, "back": to}
        return page(request, "record_refused.html", context, status=422)
    if not for_people(request):
        return JSONResponse({"digest": kept.digest, "number": kept.number}, 200)
    return Response(status_code=303, headers={"Location": to})


def take_in(
    request: Request,
    site_id: Id,
    door: Id,
    visit: Visit,
    text: Annotated[str, Body(embed=True, max_length=2_000_000)],
) -> Response:
    """Keep what a phone sealed at the door."""
    desk = desk_of(request)
    try:
        sealed = text.encode("utf-8", "replace")
        kept = take_sealed(desk, site_id, door, visit, sealed)
    except NoSuchVisitError:
        return _no_visit(request)
    return JSONResponse({"digest": kept.digest, "number": kept.number})


def listed(request: Request, site_id: Id) -> Response:
    """The records of a site, the last first."""
    desk = desk_of(request)
    open_site(desk, site_id)
    return JSONResponse(records_shown(desk, site_id, None))


def as_json(request: Request, site_id: Id, digest: Digest) -> Response:
    """A record's sealed text, byte for byte."""
    made = sealed_file(desk_of(request), site_id, digest)
    return as_file(made) if made else _no_record(request)


def as_paper(request: Request, site_id: Id, digest: Digest) -> Response:
    """A record's paper, byte for byte."""
    made = paper_file(desk_of(request), site_id, digest)
    return as_file(made) if made else _no_record(request)


def _no_visit(request: Request) -> Response:
    return refused(request, 404, [say(Message("visits.no_visit"))])


def _no_record(request: Request) -> Response:
    return refused(request, 404, [say(Message("record.page.none_such"))])
