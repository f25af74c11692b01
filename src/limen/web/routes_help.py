"""One page that says what is where, and what limen does not do."""

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from limen.web.pages import page


def help_routes() -> APIRouter:
    """The route of the help page."""
    routes = APIRouter()
    routes.get("/help", response_class=HTMLResponse)(helped)
    return routes


def helped(request: Request) -> HTMLResponse:
    """How the desk is used."""
    return page(request, "help.html")
