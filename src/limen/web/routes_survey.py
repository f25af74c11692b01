"""The survey: asked on one page, judged while it is answered, kept as a doorway."""

from typing import Annotated, Any

from fastapi import APIRouter, Path, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from limen.desk.library import open_site
from limen.desk.shelves import DEFAULT
from limen.desk.survey import Survey
from limen.desk.surveying import (
    KeptDoor,
    NotTakenError,
    begun,
    first_verdict,
    judged,
    keep,
    settled,
)
from limen.web.answers import Rows, faulty
from limen.web.pages import desk_of, fill, look_at, page
from limen.web.survey_form import FIELDS, UNKNOWNS, Filled, answers_of, filled
from limen.web.survey_shown import (
    faults_said,
    progress,
    questions_of,
    tally_of,
    verdict_of,
)

SiteId = Annotated[str, Path(max_length=60)]
_TAKES_FORM: dict[str, Any] = {
    "requestBody": {
        "content": {
            "application/x-www-form-urlencoded": {
                "schema": {
                    "type": "object",
                    "properties": {
                        key: {"type": "string", "maxLength": 200}
                        for key in (*FIELDS, *UNKNOWNS, "units", "act")
                    },
                }
            }
        }
    }
}


def survey_routes() -> APIRouter:
    """The survey of a new site, and of one doorway more."""
    routes = APIRouter()
    get, post = routes.get, routes.post
    get("/survey", response_class=HTMLResponse)(asked)
    get("/sites/{site_id}/survey", response_class=HTMLResponse)(asked_there)
    post("/survey", openapi_extra=_TAKES_FORM, response_model=None)(answered)
    post("/sites/{site_id}/survey", openapi_extra=_TAKES_FORM, response_model=None)(
        answered_there
    )
    return routes


def asked(request: Request) -> Response:
    """The questions, nothing answered yet."""
    return _page(request, None, Filled({"rulebook": DEFAULT}, look_at(request).units))


def asked_there(request: Request, site_id: SiteId) -> Response:
    """The questions for one doorway more of a site."""
    return _page(request, site_id, Filled(units=look_at(request).units))


async def answered(request: Request) -> Response:
    """Answers: what they say, or the site they are kept as."""
    return await _answered(request, None)


async def answered_there(request: Request, site_id: SiteId) -> Response:
    """Answers for one doorway more: what they say, or the doorway they become."""
    return await _answered(request, site_id)


async def _answered(request: Request, site_id: str | None) -> Response:
    async with request.form(max_files=0, max_fields=80) as sent:
        form = filled(sent, look_at(request).units)
    doing = _kept if form.act == "keep" else _looked
    return await run_in_threadpool(doing, request, site_id, form)


# Looking -----------------------------------------------------------------------


def _looked(request: Request, site_id: str | None, form: Filled) -> Response:
    if _by_form(request):
        return _page(request, site_id, form)
    survey = begun(desk_of(request), answers_of(form), site_id)
    return JSONResponse(_said(request, survey, form))


def _said(request: Request, survey: Survey, form: Filled) -> dict[str, Any]:
    """All that changes in the page when an answer is given."""
    found, look = judged(survey), look_at(request)
    first = first_verdict(desk_of(request), survey, found)
    shown = questions_of(survey, form, found)
    counts = tally_of(first)
    return {
        "verdict_html": fill(
            request, "survey_verdict.html", verdict_of(first, found, look)
        ),
        "tally_html": fill(request, "survey_tally.html", {"counts": counts}),
        "edition_html": fill(request, "survey_edition.html", shown),
        "progress": progress(found),
        "answered": found.answered,
        "of": found.of,
        "applies": sorted(shown["applies"]),
        "missing": list(found.missing),
        "faults": dict(found.faults),
    }


def _page(
    request: Request,
    site_id: str | None,
    form: Filled,
    refused: dict[str, str] | None = None,
) -> Response:
    desk = desk_of(request)
    survey = begun(desk, answers_of(form), site_id)
    survey = survey if refused is None else settled(survey)
    found, look = judged(survey), look_at(request)
    first = first_verdict(desk, survey, found)
    shown = questions_of(survey, form, found)
    shown["faults"] = shown["faults"] | (refused or {})
    stored = open_site(desk, site_id).stored if site_id else None
    context = {
        **shown,
        **verdict_of(first, found, look),
        "counts": tally_of(first),
        "site": stored,
        "address": f"/sites/{site_id}/survey" if site_id else "/survey",
        "refused": refused is not None,
        "others": faults_said(refused or {}),
    }
    status = 422 if refused is not None else 200
    return page(request, "survey.html", context, status=status)


# Keeping -----------------------------------------------------------------------


def _kept(request: Request, site_id: str | None, form: Filled) -> Response:
    desk = desk_of(request)
    survey = begun(desk, answers_of(form), site_id)
    try:
        kept = keep(desk, survey, site_id)
    except NotTakenError as refused:
        return _refused(request, site_id, form, refused.faults)
    to = f"/sites/{kept.stored.id}/doorways/{kept.doorway}"
    if _by_form(request):
        return Response(status_code=303, headers={"Location": to})
    return JSONResponse(_told(kept, to), 201, {"Location": to})


def _told(kept: KeptDoor, address: str) -> dict[str, Any]:
    return {
        "site": kept.stored.id,
        "doorway": kept.doorway,
        "short": kept.short,
        "address": address,
    }


def _refused(
    request: Request, site_id: str | None, form: Filled, faults: dict[str, str]
) -> Response:
    if _by_form(request):
        return _page(request, site_id, form, faults)
    rows: Rows = [
        (None, f"{key}: {why}" if key else why) for key, why in faults.items()
    ]
    survey = settled(begun(desk_of(request), answers_of(form), site_id))
    said = _said(request, survey, form)
    return JSONResponse({**said, **faulty(rows), "by_question": faults}, 422)


def _by_form(request: Request) -> bool:
    """Whether a browser sent the form by itself and wants a page."""
    return "text/html" in request.headers.get("Accept", "")
