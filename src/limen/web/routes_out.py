"""Out of the page: reports and templates, made while one waits or goes on."""

from functools import partial
from typing import Annotated, Literal, cast

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from limen.desk.exporting import Exported, What, paper_file
from limen.desk.jobs import Job, Jobs, NoSuchJobError
from limen.desk.library import open_site
from limen.findings import Message
from limen.web.answers import refused
from limen.web.out_shown import job_shape, out_of
from limen.web.pages import by_htmx, desk_of, for_people, look_at, page
from limen.words import say

Id = Annotated[str, "the id of a site"]
Door = Annotated[str, Query(max_length=80)]


def out_routes() -> APIRouter:
    """The routes of what leaves the desk as a file."""
    routes = APIRouter()
    get = routes.get
    get("/sites/{site_id}/out", response_class=HTMLResponse)(shown)
    routes.post("/sites/{site_id}/out", status_code=202)(begun)
    get("/jobs/{job_id}")(looked)
    get("/jobs/{job_id}/file", responses=_PDF)(fetched)
    routes.delete("/jobs/{job_id}")(given_up)
    return routes


_PDF: dict[int | str, dict[str, object]] = {200: {"content": {"application/pdf": {}}}}


def jobs_of(request: Request) -> Jobs:
    """The work that this server does beside its answers."""
    return cast("Jobs", request.app.state.jobs)


def shown(
    request: Request, site_id: Id, doorway: Door = "", finding: Door = ""
) -> Response:
    """Everything that can be taken along of a site, or of one doorway."""
    opened = open_site(desk_of(request), site_id)
    look = look_at(request)
    shown = out_of(desk_of(request), opened, doorway, finding, look.system)
    return page(request, "out.html", shown)


def begun(
    request: Request,
    site_id: Id,
    what: Annotated[What, Form()],
    doorway: Annotated[str, Form(max_length=80)] = "",
    paper: Annotated[Literal["", "a4", "letter"], Form()] = "",
) -> Response:
    """Begin to make a report or the drilling templates; where to look stands in it."""
    desk = desk_of(request)
    opened = open_site(desk, site_id)
    if doorway:
        opened.doorway(doorway)
    units = look_at(request).units
    work = partial(
        paper_file,
        desk,
        site_id,
        what,
        doorway or None,
        paper=paper or None,
        units="feet" if units == "feet" else "metric",
    )
    job = jobs_of(request).begin(site_id, lambda told: work(told=told))
    return _told(request, job, 202)


def looked(request: Request, job_id: str) -> Response:
    """How far a piece of work is."""
    try:
        return _told(request, jobs_of(request).look(job_id))
    except NoSuchJobError:
        return _none(request)


def fetched(request: Request, job_id: str) -> Response:
    """The file that was made."""
    try:
        job = jobs_of(request).look(job_id)
    except NoSuchJobError:
        return _none(request)
    if job.made is None:
        return refused(request, 409, [say(Message("desk_out.job.not_yet"))])
    return as_file(job.made)


def given_up(request: Request, job_id: str) -> Response:
    """End a piece of work that nobody waits for any more."""
    try:
        return _told(request, jobs_of(request).give_up(job_id))
    except NoSuchJobError:
        return _none(request)


def as_file(made: Exported, *, shown: bool = False) -> Response:
    """A file to be saved, or to be shown by whatever shows its kind."""
    how = "inline" if shown else "attachment"
    headers = {"Content-Disposition": f'{how}; filename="{made.name}"'}
    return Response(made.data, media_type=made.kind, headers=headers)


def _told(request: Request, job: Job, status: int = 200) -> Response:
    headers = {"Location": f"/jobs/{job.id}"}
    if by_htmx(request):
        return page(request, "out_job.html", {"job": job}, headers=headers)
    body = job_shape(job)
    if for_people(request):
        return page(request, "out_job_page.html", {"job": job}, headers=headers)
    return JSONResponse(body, status, headers)


def _none(request: Request) -> Response:
    return refused(request, 404, [say(Message("desk_out.job.none"))])
