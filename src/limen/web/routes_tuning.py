"""The best settings of a doorway: looked for, looked at, set."""

from typing import Annotated, Any

from fastapi import APIRouter, Form, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from limen.desk.dragging import in_full
from limen.desk.jobs import Job, NoSuchJobError
from limen.desk.library import Clash, Opened, open_site
from limen.desk.tuning_kept import Tunings, known, set_choice, tuned, tuning_file
from limen.desk.tuning_kept import contract_of as contract
from limen.draw import View
from limen.findings import Message
from limen.web.answers import if_match, refused, told, too_late
from limen.web.merging_shown import merging_panel
from limen.web.out_shown import job_shape
from limen.web.pages import by_htmx, desk_of, for_people, look_at, page, version_asked
from limen.web.routes_out import jobs_of
from limen.web.tuning_shown import shown_of
from limen.words import say

Id = Annotated[str, Path(max_length=80)]
Letter = Annotated[str, Query(max_length=8, description="The choice that is shown.")]
Waits = Annotated[bool, Query(description="Search while one waits, for a page.")]


def tuning_routes() -> APIRouter:
    """The routes of the best settings."""
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}/tuning")
    routes.get("", response_class=HTMLResponse, responses=_JSON)(shown)
    routes.post("", status_code=202)(begun)
    routes.get("/search/{job_id}", response_class=HTMLResponse)(looked)
    routes.delete("/search/{job_id}", response_class=HTMLResponse)(given_up)
    routes.post("/set", openapi_extra=_BASE)(set_as)
    return routes


TUNED = "Tuned"
"""The schema of what was found, by its name in the description of this interface."""
_JSON: dict[int | str, dict[str, Any]] = {
    200: {
        "content": {
            "application/json": {"schema": {"$ref": f"#/components/schemas/{TUNED}"}}
        }
    }
}
_BASE = if_match("The version of the site for which the choices were found.")


def tunings_of(request: Request) -> Tunings:
    """The best settings that this server has found."""
    return request.app.state.tunings


def shown(
    request: Request,
    site_id: Id,
    door: Id,
    choice: Letter = "",
    view: View = "plan",
    wait: Waits = False,  # noqa: FBT002 - a query
) -> Response:
    """What to turn at a doorway, and what each choice comes to."""
    desk = desk_of(request)
    opened = open_site(desk, site_id)
    if not for_people(request):
        found = tuned(desk, tunings_of(request), opened, door)
        return JSONResponse(contract(opened, found, look_at(request).system))
    context = _around(request, opened, door)
    if context["refused"]:
        return page(request, "tuning.html", context)
    found = known(desk, tunings_of(request), opened, door)
    if found is None and wait:
        found = tuned(desk, tunings_of(request), opened, door)
    if found is None:
        return page(request, "tuning.html", context)
    look = look_at(request)
    context |= shown_of(desk, opened, found, choice, view, look, context["address"])
    piece = by_htmx(request)
    return page(request, "tuning_result.html" if piece else "tuning.html", context)


def begun(request: Request, site_id: Id, door: Id) -> Response:
    """Begin to look for the best settings; where to look stands in it."""
    desk = desk_of(request)
    opened = open_site(desk, site_id)
    opened.doorway(door)
    tunings = tunings_of(request)
    if by_htmx(request) and known(desk, tunings, opened, door) is not None:
        return _found(site_id, door)
    system = look_at(request).system
    job = jobs_of(request).begin(
        site_id, lambda told: tuning_file(desk, tunings, site_id, door, system, told)
    )
    if by_htmx(request):
        return _work(request, site_id, door, job)
    return JSONResponse(job_shape(job), 202, {"Location": f"/jobs/{job.id}"})


def looked(request: Request, site_id: Id, door: Id, job_id: Id) -> Response:
    """How far the search is, as a piece of the page."""
    try:
        return _work(request, site_id, door, jobs_of(request).look(job_id))
    except NoSuchJobError:
        return refused(request, 404, [say(Message("desk_tune.work.none"))])


def given_up(request: Request, site_id: Id, door: Id, job_id: Id) -> Response:
    """End a search that nobody waits for any more."""
    try:
        return _work(request, site_id, door, jobs_of(request).give_up(job_id))
    except NoSuchJobError:
        return refused(request, 404, [say(Message("desk_tune.work.none"))])


def set_as(
    request: Request,
    site_id: Id,
    door: Id,
    choice: Annotated[str, Form(min_length=1, max_length=8)],
) -> Response:
    """The settings of a choice, into the site's text as one version."""
    base = version_asked(request)
    if base is None:
        return refused(request, 428, [say(Message("desk.refused.no_version"))])
    desk, to = desk_of(request), f"/sites/{site_id}/doorways/{door}"
    kept = set_choice(desk, tunings_of(request), site_id, door, choice, base)
    if isinstance(kept, Clash):
        people = for_people(request)
        return merging_panel(request, kept, to) if people else too_late(kept)
    if not for_people(request):
        return told(kept)
    return _to(to)


def _found(site_id: str, door: str) -> Response:
    """On to the page, which has it now."""
    return _to(f"/sites/{site_id}/doorways/{door}/tuning")


def _to(address: str) -> Response:
    headers = {"HX-Redirect": address, "Location": address}
    return Response(status_code=204, headers=headers)


def _work(request: Request, site_id: str, door: str, job: Job) -> Response:
    if job.state == "done":
        return _found(site_id, door)
    address = f"/sites/{site_id}/doorways/{door}"
    context = {"job": job, "address": address}
    return page(request, "tuning_work.html", context)


def _around(request: Request, opened: Opened, door: str) -> dict[str, Any]:
    """What the page shows whether or not anything was found yet."""
    there = opened.doorway(door)
    why = ""
    if not in_full(desk_of(request), opened, door):
        why = "short"
    elif not there.fitting:
        why = "no_units"
    return {
        "stored": opened.stored,
        "door": there,
        "address": f"/sites/{opened.stored.id}/doorways/{door}",
        "refused": say(Message(f"desk_tune.{why}")) if why else "",
        "tuned": None,
        "two": None,
        "job": None,
    }
