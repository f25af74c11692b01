"""Whatever is typed or uploaded stays text: refused with a reason, or shown as is."""

import re
from collections.abc import Iterator
from html.parser import HTMLParser

import pytest
from starlette.testclient import TestClient

from limen.store.starter import starter_text
from limen.web.security import POLICY

SCRIPT = "<script>alert(1)</script>"
ATTRIBUTE = "' onload=alert(1) x='"
HTML = {"Accept": "text/html"}
HTMX = {"HX-Request": "true", "Accept": "text/html"}
_TEXT = re.compile(r'(?<== )"(?P<inside>[^"\n]*)"')


class Scripts(HTMLParser):
    """What a page would run that does not come from our own files."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found += [f"{tag} {name}" for name, _ in attrs if name.startswith("on")]
        source = dict(attrs).get("src") or ""
        if tag == "script" and not source.startswith("/static/"):
            self.found.append(f"{tag} {attrs}")


def _harmless(page: str) -> None:
    scripts = Scripts()
    scripts.feed(page)
    assert scripts.found == []


def _places() -> Iterator[tuple[int, int]]:
    for found in _TEXT.finditer(starter_text()):
        yield found.span("inside")


def _with(text: str, at: tuple[int, int], put: str) -> str:
    return text[: at[0]] + put + text[at[1] :]


@pytest.mark.parametrize(
    "put", [SCRIPT, pytest.param(ATTRIBUTE, marks=pytest.mark.slow)]
)
def test_a_script_in_any_field_is_refused_or_shown_as_text(
    client: TestClient, put: str
) -> None:
    taken: list[tuple[int, int]] = []
    for at in _places():
        text = _with(starter_text(), at, put)
        reply = client.post("/sites", content=text, headers=HTML)
        assert reply.status_code in (303, 422)
        _harmless(reply.text)
        if reply.status_code == 303:
            taken.append(at)
    assert taken  # names and notes may say anything
    whole = starter_text()
    for at in reversed(taken):
        whole = _with(whole, at, put)
    where = client.post("/sites", content=whole, headers=HTML).headers["location"]
    door = client.get(f"{where}/doorways").json()[0]["id"]
    for path in (
        "/",
        where,
        f"{where}/out?doorway={door}",
        f"{where}/doorways/{door}",
        f"{where}/doorways/{door}/drawing.svg",
    ):
        page = client.get(path, headers=HTML)
        assert page.status_code == 200
        assert page.headers["Content-Security-Policy"] == POLICY
        _harmless(page.text)


@pytest.mark.parametrize(
    "path",
    [
        f"/?q={SCRIPT}",
        f"/?show={SCRIPT}",
        f"/sites/{SCRIPT}",
        f"/jobs/{SCRIPT}",
        f"/sites/x/doorways/{SCRIPT}",
        f"/sites/x/out?finding={SCRIPT}",
        f"/schemas/{SCRIPT}",
    ],
)
def test_a_script_in_an_address_is_shown_as_text(client: TestClient, path: str) -> None:
    reply = client.get(path, headers=HTML)
    assert reply.status_code in (200, 404, 405, 422)
    _harmless(reply.text)


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("door.svg", f'<svg xmlns="http://www.w3.org/2000/svg">{SCRIPT}</svg>'),
        ("door.html", f"<!doctype html><title>x</title>{SCRIPT}"),
        ("../../../etc/passwd", "root:x:0:0"),
        ("..\\..\\door.toml", "[["),
        ("\x00.toml", "\x00\x01\x02"),
        ("door.toml", "\ufeff" + SCRIPT),
        (SCRIPT, "name ="),
    ],
)
def test_a_file_that_is_none_is_refused_with_a_reason_and_stays_in_the_form(
    client: TestClient, name: str, content: str
) -> None:
    before = client.get("/sites").json()
    files = {"file": (name, content.encode(), "text/plain")}
    reply = client.post("/sites", files=files, headers=HTMX)
    assert reply.status_code == 422
    assert "faults" in reply.text
    _harmless(reply.text)
    assert client.get("/sites").json() == before


@pytest.mark.parametrize(
    "path",
    [
        "/sites/../../etc/passwd",
        "/sites/..%2f..%2fetc%2fpasswd/site.toml",
        "/jobs/..%2f..%2fetc%2fpasswd/file",
        "/static/..%2f..%2fpyproject.toml",
        "/static/assets/..%5c..%5capp.py",
        "/schemas/..%2fsite",
    ],
)
def test_a_name_with_dots_leads_nowhere(client: TestClient, path: str) -> None:
    reply = client.get(path)
    assert reply.status_code in (404, 422)
    assert "root:" not in reply.text
    assert "[project]" not in reply.text


def test_a_name_of_a_site_never_names_a_folder(client: TestClient) -> None:
    kept = client.post("/sites", content=starter_text()).json()["id"]
    client.post(f"/sites/{kept}/rename", data={"name": '../../"; x=y/\\é'})
    for path in ("site.toml", "template.pdf", "findings?how=file"):
        named = client.get(f"/sites/{kept}/{path}").headers["Content-Disposition"]
        assert re.fullmatch(r'attachment; filename="[a-z0-9.-]+"', named)
        assert ".." not in named


def test_a_page_that_would_run_something_is_found() -> None:
    with pytest.raises(AssertionError):
        _harmless(f"<p>{SCRIPT}</p>")
    with pytest.raises(AssertionError):
        _harmless("<p title='' onload=alert(1) x=''>")


def test_every_address_says_the_same_policy(client: TestClient) -> None:
    """The policy of every route, as the description of the interface lists them."""
    fills = {"site_id": "x", "door": "x", "number": "1", "way": "undo", "what": "site"}
    asked = 0
    for path, ways in client.get("/openapi.json").json()["paths"].items():
        address = re.sub(r"\{(\w+)\}", lambda m: fills.get(m[1], "x"), path)
        for way in ways:
            reply = client.request(way.upper(), address)
            asked += 1
            assert reply.headers["Content-Security-Policy"] == POLICY, (way, path)
            assert reply.headers["X-Content-Type-Options"] == "nosniff"
            assert reply.status_code < 500
    assert asked > 20
