"""The server: routes, pages and guards put together."""

from collections.abc import Awaitable, Callable
from datetime import date
from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.responses import Response

from limen.desk.clock import today as today_here
from limen.desk.jobs import Jobs
from limen.desk.library import FileFaults, NoSuchSiteError, NotKeptError, open_desk
from limen.desk.plans import NoSuchPlanError
from limen.desk.refusal import Refusal
from limen.desk.taking_in_library import Lists
from limen.desk.tuning_kept import Tunings
from limen.findings import Message
from limen.web.answers import refused
from limen.web.assets import STATIC, build_of, serve_assets
from limen.web.described import describe
from limen.web.dressing import environment
from limen.web.look import Spoken
from limen.web.noting import Noting
from limen.web.records_shown import know_records
from limen.web.routes_api import api_routes
from limen.web.routes_card import card_routes
from limen.web.routes_card_back import card_back_routes
from limen.web.routes_change import change_routes
from limen.web.routes_channels import channel_routes
from limen.web.routes_doors import door_routes
from limen.web.routes_doorway import doorway_routes
from limen.web.routes_due import due_routes
from limen.web.routes_facts import fact_routes
from limen.web.routes_flows import flow_routes
from limen.web.routes_help import help_routes
from limen.web.routes_history import history_routes
from limen.web.routes_life import life_routes
from limen.web.routes_map import map_routes
from limen.web.routes_merging import merging_routes
from limen.web.routes_origins import origin_routes
from limen.web.routes_out import out_routes
from limen.web.routes_owner import owner_routes
from limen.web.routes_plans import plan_routes
from limen.web.routes_readings import reading_routes
from limen.web.routes_records import record_routes
from limen.web.routes_reports import report_routes
from limen.web.routes_scene import scene_routes
from limen.web.routes_sheets import sheet_routes
from limen.web.routes_site_facts import site_fact_routes
from limen.web.routes_sites import site_routes
from limen.web.routes_survey import survey_routes
from limen.web.routes_take_in import take_in_routes
from limen.web.routes_trace import trace_routes
from limen.web.routes_tuning import tuning_routes
from limen.web.routes_variants import variant_routes
from limen.web.routes_verify import verify_routes
from limen.web.routes_visits import visit_routes
from limen.web.routes_ways import way_routes
from limen.web.routes_wiring import wiring_routes
from limen.web.security import Guarded
from limen.words import say

Handler = Callable[[Request, Exception], Awaitable[Response]]


def create_app(
    library_path: Path | None = None,
    *,
    today: Callable[[], date] = today_here,
    static: Path = STATIC,
) -> FastAPI:
    """The planning desk as an application, on one library.

    Args:
        library_path: the database file; that of the user's data folder if not given.
        today: what day it is.
        static: the folder of the bundled scripts and styles.

    Raises:
        Refusal: the library cannot be opened.
        AssetsMissingError: nothing was bundled.
    """
    app = FastAPI(
        title="limen",
        docs_url=None,  # its pages would load scripts from elsewhere
        redoc_url=None,
        responses={code: {"description": why} for code, why in _STATUSES.items()},
    )
    app.state.desk = open_desk(library_path, today=today)
    pages = environment(serve_assets(app, static))
    app.state.pages = pages
    know_records(pages, app.state.desk)
    app.state.static, app.state.build = static, build_of(static)
    app.include_router(site_routes())
    for made in (
        card_back_routes,
        fact_routes,
        site_fact_routes,
        due_routes,
        history_routes,
        merging_routes,
        origin_routes,
    ):
        app.include_router(made())
    for made in (door_routes, plan_routes, owner_routes, report_routes):
        app.include_router(made())
    app.include_router(variant_routes())
    app.include_router(card_routes())
    app.include_router(change_routes())
    app.include_router(channel_routes())
    app.include_router(reading_routes())
    app.include_router(record_routes())
    app.include_router(tuning_routes())
    app.include_router(trace_routes())
    app.include_router(way_routes())
    for made in (visit_routes, life_routes, flow_routes):
        app.include_router(made())
    app.include_router(doorway_routes(app.state.desk, pages))
    app.include_router(scene_routes(app.state.desk))
    app.include_router(wiring_routes())
    app.include_router(verify_routes())
    app.include_router(help_routes())
    app.include_router(map_routes(app.state.desk))
    app.include_router(survey_routes())
    app.state.lists = Lists()
    app.include_router(take_in_routes())
    app.include_router(sheet_routes())
    app.state.jobs, app.state.studying = Jobs(), Jobs()
    app.state.tunings = Tunings()
    app.include_router(out_routes())
    app.include_router(api_routes())
    describe(app)
    for kind, handler in _HANDLERS.items():
        app.add_exception_handler(kind, handler)
    app.add_middleware(Noting, desk=app.state.desk)
    app.add_middleware(GZipMiddleware, minimum_size=1000, compresslevel=4)
    app.add_middleware(Guarded)
    app.add_middleware(Spoken)
    return app


async def _no_site(request: Request, _error: Exception) -> Response:
    return refused(request, 404, [say(Message("desk.refused.no_site"))])


async def _no_plan(request: Request, _error: Exception) -> Response:
    return refused(request, 404, [say(Message("plan.refused.no_plan"))])


async def _not_kept(request: Request, error: Exception) -> Response:
    why = error.why if isinstance(error, NotKeptError) else "refused"
    answer = refused(
        request, BUSY if why == "busy" else FULL, [say(Message(f"desk_out.disk.{why}"))]
    )
    if why == "busy":
        answer.headers["Retry-After"] = "1"
    return answer


async def _refusal(request: Request, error: Exception) -> Response:
    lines = error.lines if isinstance(error, Refusal) else (str(error),)
    return refused(request, 422, lines)


async def _faults(request: Request, error: Exception) -> Response:
    faults = error if isinstance(error, FileFaults) else None
    return refused(request, 422, (), faults)


async def _http(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 500
    key = "no_page" if status == _NOT_FOUND else "not_so"
    answer = refused(request, status, [say(Message(f"desk.refused.{key}"))])
    if isinstance(error, HTTPException):
        answer.headers.update(error.headers or {})
    return answer


async def _malformed(request: Request, error: Exception) -> Response:
    if not isinstance(error, RequestValidationError):
        raise error
    lines = [
        f"{'.'.join(map(str, one['loc']))}: {one['msg']}" for one in error.errors()
    ]
    return refused(request, 422, lines)


_NOT_FOUND = 404
BUSY, FULL = 503, 507
_HANDLERS: dict[type[Exception], Handler] = {
    NoSuchSiteError: _no_site,
    NoSuchPlanError: _no_plan,
    NotKeptError: _not_kept,
    Refusal: _refusal,
    FileFaults: _faults,
    HTTPException: _http,
    RequestValidationError: _malformed,
}
_STATUSES: dict[int | str, str] = {
    204: "Done; where to go on stands in the header HX-Redirect.",
    303: "Done; go on there.",
    400: "The body cannot be read.",
    403: "Not sent by a page of this server.",
    404: "There is no such site or doorway.",
    405: "This address does not answer such a request.",
    409: "There is nothing to be undone or brought back.",
    412: "Saved by somebody else since; both texts are given.",
    413: "More than 2 MB.",
    421: "Another name than this server's was asked for.",
    422: "What was sent is not accepted, and why; nothing was changed.",
    428: "The version that was changed is not named.",
    503: "Another program holds the file of the sites; nothing was changed.",
    507: "The disk is full or may not be written to; nothing was changed.",
}
