"""All doorways: listed, filtered, counted, taken along as a table, studied."""

from functools import partial
from typing import Annotated, Any, cast

from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from limen.desk import doors
from limen.desk.doors import Answer, Asked, Group, Sort, State, Wanted
from limen.desk.doors_work import study_all
from limen.desk.jobs import Job, Jobs, NoSuchJobError
from limen.findings import Message
from limen.web.answers import refused
from limen.web.doors_shown import (
    HERE,
    Shown,
    View,
    as_values,
    due_of,
    fails_of,
    frame_of,
    list_of,
)
from limen.web.pages import by_htmx, desk_of, for_people, page
from limen.words import say

Typed = Annotated[str, Query(max_length=200)]
Name = Annotated[str, Query(max_length=200)]
Due = Annotated[
    str,
    Query(pattern=r"^(overdue|none|(after-)?[0-9]{4}-[0-9]{2})?$", max_length=13),
]
_CSV: dict[int | str, dict[str, object]] = {200: {"content": {"text/csv": {}}}}


def door_routes() -> APIRouter:
    """The routes of the list of all doorways."""
    routes = APIRouter(prefix=HERE)
    routes.get("", response_class=HTMLResponse)(listed)
    routes.get(".csv", response_class=Response, responses=_CSV)(taken_along)
    routes.post("/study", status_code=202)(begun)
    routes.get("/study")(looked)
    routes.post("/study/stop")(ended)
    return routes


def narrowed(
    q: Typed = "",
    state: State = "all",
    site: Name = "",
    place: Name = "",
    rulebook: Name = "",
    person: Name = "",
    route: Name = "",
    question: Name = "",
    answer: Answer = "fails",
    due: Due = "",
) -> Wanted:
    """Which doorways an address asks for."""
    return Wanted(
        tuple(q.casefold().split()),
        state,
        site,
        place,
        rulebook,
        person,
        route,
        question,
        answer,
        due,
    )


def asked_for(
    wanted: Annotated[Wanted, Depends(narrowed)],
    q: Typed = "",
    sort: Sort = "site",
    down: Annotated[bool, Query()] = False,  # noqa: FBT002 - a query
    start: Annotated[int, Query(ge=0, le=10**7)] = 0,
    view: View = "list",
    by: Group = "site",
) -> Shown:
    """All that an address of the list says."""
    return Shown(Asked(wanted, sort, down, start), " ".join(q.split()), view, by)


Asks = Annotated[Shown, Depends(asked_for)]


def listed(request: Request, shown: Asks) -> Response:
    """The doorways that are asked for; only the list where only that is wanted."""
    desk = desk_of(request)
    if not for_people(request):
        counts = doors.counted(desk, shown.asked.wanted)
        found = [as_values(one) for one in doors.rows(desk, shown.asked)]
        return JSONResponse({"counts": dict(counts.states), "doorways": found})
    told = frame_of(desk, shown)
    match shown.view:
        case "list":
            told |= list_of(desk, shown, told["count"])
        case "fails":
            told |= fails_of(desk, shown)
        case "due":
            told |= due_of(desk, shown)
    told["job"] = studying(request).going_on()
    return page(request, "doors_part.html" if by_htmx(request) else "doors.html", told)


def taken_along(request: Request, shown: Asks) -> Response:
    """All that are asked for as a table, the pages after this one too."""
    headers = {"Content-Disposition": 'attachment; filename="doorways.csv"'}
    data = doors.written(desk_of(request), shown.asked)
    return Response(data, media_type="text/csv; charset=utf-8", headers=headers)


# Studying --------------------------------------------------------------------------


def studying(request: Request) -> Jobs:
    """The study of all doorways, beside the answers and beside other work."""
    return cast("Jobs", request.app.state.studying)


def begun(request: Request) -> Response:
    """Begin to study all doorways that are not; one such work goes on at a time."""
    jobs = studying(request)
    job = jobs.going_on() or jobs.begin("", partial(study_all, desk_of(request)))
    return _told(request, job, 202)


def looked(request: Request) -> Response:
    """How far the study of all doorways is."""
    job = studying(request).last()
    return _none(request) if job is None else _told(request, job)


def ended(request: Request) -> Response:
    """End the study of all doorways; what is studied is kept."""
    job = studying(request).going_on()
    if job is None:
        return _none(request)
    try:
        return _told(request, studying(request).give_up(job.id))
    except NoSuchJobError:
        return _none(request)


def _told(request: Request, job: Job, status: int = 200) -> Response:
    if by_htmx(request):
        return page(request, "doors_job.html", {"job": job})
    if for_people(request):
        return Response(status_code=303, headers={"Location": HERE})
    return JSONResponse(_values(job), status)


def _values(job: Job) -> dict[str, Any]:
    return {
        "state": job.state,
        "done": job.done,
        "of": job.of,
        "doing": job.doing,
        "lines": list(job.lines),
    }


def _none(request: Request) -> Response:
    return refused(request, 404, [say(Message("desk_out.job.none"))])
