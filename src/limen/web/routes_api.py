"""For programs: the same objects that the command line writes, at their addresses."""

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Query, Request
from fastapi.responses import JSONResponse, Response

from limen.desk import library_lines as lines
from limen.desk.drawing import Units
from limen.desk.exporting import drawing_file, findings, paper_file
from limen.desk.library import open_site
from limen.desk.library_sites import file_name
from limen.desk.reporting import Paper
from limen.desk.schemas import What as Described
from limen.desk.schemas import schema
from limen.desk.shelves import rules
from limen.draw import View
from limen.exchange import Tally
from limen.findings import Finding, Study
from limen.web.doorway_drawn import to_draw
from limen.web.doorway_lines import found
from limen.web.due_beside import with_due
from limen.web.pages import desk_of
from limen.web.routes_out import as_file

Id = Annotated[str, "the id of a site"]
InUnits = Annotated[Units, Query(description="In which sentences say lengths.")]
How = Annotated[
    Literal["shown", "file"], Query(description="As a file it is saved under a name.")
]
OnPaper = Annotated[Paper | None, Query(description="The rulebook's own if none.")]
OnlyDoor = Annotated[
    str | None, Query(max_length=80, description="Only this doorway of the site.")
]
Which = Annotated[
    str | None,
    Query(max_length=200, description="question~fitting~case; the first to mend."),
]
Wide = Annotated[float, Query(ge=200, le=8000, description="In pixels.")]

FINDINGS = "Findings"
"""The schema of findings, by its name in the description of this interface."""
_JSON: dict[int | str, dict[str, Any]] = {
    200: {
        "content": {
            "application/json": {"schema": {"$ref": f"#/components/schemas/{FINDINGS}"}}
        }
    }
}
_SVG: dict[int | str, dict[str, Any]] = {200: {"content": {"image/svg+xml": {}}}}
_PDF: dict[int | str, dict[str, Any]] = {200: {"content": {"application/pdf": {}}}}


def api_routes() -> APIRouter:
    """The routes that only programs ask, and links that save a file."""
    routes = APIRouter()
    get = routes.get
    get("/sites/{site_id}/findings", responses=_JSON)(of_site)
    get("/sites/{site_id}/doorways")(doorways)
    one = "/sites/{site_id}/doorways/{door}"
    get(f"{one}/findings", responses=_JSON)(of_doorway)
    get(f"{one}/drawing.svg", responses=_SVG, response_class=Response)(drawn)
    get("/sites/{site_id}/report.pdf", responses=_PDF, response_class=Response)(report)
    get("/sites/{site_id}/template.pdf", responses=_PDF, response_class=Response)(
        template
    )
    get("/schemas/{what}")(described)
    get("/rulebooks")(rulebooks)
    return routes


def of_site(
    request: Request, site_id: Id, units: InUnits = "metric", how: How = "shown"
) -> Response:
    """The findings of every doorway, as `limen check --json` prints them."""
    return _findings(request, site_id, None, units, how)


def of_doorway(
    request: Request,
    site_id: Id,
    door: str,
    units: InUnits = "metric",
    how: How = "shown",
) -> Response:
    """The findings of one doorway, as `limen check --doorway --json` prints them."""
    return _findings(request, site_id, door, units, how)


def doorways(request: Request, site_id: Id, study: bool = False) -> Response:  # noqa: FBT001, FBT002 - a query
    """The doorways of a site and what is to be done at each."""
    look = lines.tallied if study else lines.glanced
    line = look(desk_of(request), site_id)
    body = [
        {
            "id": door.id,
            "name": door.name,
            "tally": _counts(door.tally),
            "refused": door.refused or None,
        }
        for door in line.doors
    ]
    return JSONResponse(body)


def drawn(
    request: Request,
    site_id: Id,
    door: str,
    view: View = "plan",
    finding: Which = None,
    units: InUnits = "metric",
    width: Wide = 1400,
    how: How = "file",
) -> Response:
    """A drawing on white, with one finding drawn in: plan, front or section."""

    def chosen(study: Study) -> Finding | None:
        return to_draw(study, found(study, finding))

    made = drawing_file(
        desk_of(request),
        site_id,
        door,
        view,
        chosen=chosen,
        units=units,
        width_px=width,
    )
    return as_file(made, shown=how == "shown")


def report(
    request: Request,
    site_id: Id,
    doorway: OnlyDoor = None,
    paper: OnPaper = None,
    units: InUnits = "metric",
) -> Response:
    """The report, made while one waits; `POST …/out` makes it meanwhile."""
    return _paper(request, site_id, "report", doorway, paper, units)


def template(
    request: Request,
    site_id: Id,
    doorway: OnlyDoor = None,
    paper: OnPaper = None,
    units: InUnits = "metric",
) -> Response:
    """The drilling templates in true size."""
    return _paper(request, site_id, "template", doorway, paper, units)


def described(what: Described) -> Response:
    """The JSON Schema of a site file, a sensor sheet or the findings."""
    return JSONResponse(schema(what), media_type="application/schema+json")


def rulebooks() -> Response:
    """Every edition of every rulebook that can judge a doorway."""
    body = [
        {
            "id": book.id,
            "edition": book.edition,
            "title": book.title,
            "digest": book.digest,
            "rules": sorted({rule.question for rule in book.rules}),
        }
        for book in rules()
    ]
    return JSONResponse(body)


def _findings(
    request: Request, site_id: str, door: str | None, units: Units, how: str
) -> Response:
    desk = desk_of(request)
    body = findings(desk, site_id, door, units=units)
    if how == "shown":
        return JSONResponse(with_due(desk, site_id, body))
    answer = JSONResponse(body)
    if how == "file":
        name = file_name(open_site(desk, site_id).stored.name)
        parts = "-".join((name, *([door] if door else ()), "findings"))
        answer.headers["Content-Disposition"] = f'attachment; filename="{parts}.json"'
    return answer


def _paper(
    request: Request,
    site_id: str,
    what: Literal["report", "template"],
    doorway: str | None,
    paper: Paper | None,
    units: Units,
) -> Response:
    desk = desk_of(request)
    return as_file(paper_file(desk, site_id, what, doorway, paper=paper, units=units))


def _counts(tally: Tally | None) -> dict[str, int] | None:
    if tally is None:
        return None
    return {
        "mend": tally.mend,
        "measure": tally.measure,
        "office": tally.office,
        "advised": tally.advised,
    }
