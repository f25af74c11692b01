"""The parts of pages: whole, named, and with nothing that the policy forbids."""

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from jinja2 import ChoiceLoader, FileSystemLoader, UndefinedError

from limen.web.assets import Assets, Bundle
from limen.web.dressing import environment
from limen.web.look import Look

WEB = Path(__file__).parents[2] / "web"
TEMPLATES = Path(__file__).parents[2] / "src" / "limen" / "web" / "templates"
ASSETS = Assets({"main": Bundle("/static/m.js", (), ("/static/m.css",))}, None)
VOID = {"meta", "link", "input", "br", "img", "hr"}
POINTS = ("for", "aria-describedby", "aria-labelledby", "aria-controls")


class Seen(HTMLParser):
    """Tags as they open and close, with their attributes."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {key: value or "" for key, value in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag, self.getpos()

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {key: value or "" for key, value in attrs}))


def page(look: Look | None = None) -> str:
    made = environment(ASSETS)
    loader = made.loader
    assert loader is not None
    made.loader = ChoiceLoader([loader, FileSystemLoader(WEB)])
    return made.get_template("specimen.html").render(
        look=look or Look(), language="en", drawings={"plan": "<svg></svg>"}
    )


@pytest.fixture(scope="module")
def seen() -> Seen:
    parser = Seen()
    parser.feed(page())
    return parser


def test_every_tag_is_closed_where_it_was_opened(seen: Seen) -> None:
    assert seen.open == []


def test_no_part_has_what_the_policy_forbids(seen: Seen) -> None:
    for tag, attributes in seen.tags:
        assert tag != "style"
        assert tag != "script" or attributes["src"].startswith("/static/")
        assert not any(key == "style" or key.startswith("on") for key in attributes)


def test_nothing_is_fetched_from_elsewhere(seen: Seen) -> None:
    for _, attributes in seen.tags:
        for key in ("src", "href", "action"):
            assert attributes.get(key, "/")[0] in "/#?"


def test_every_id_is_there_once_and_all_that_is_pointed_at_exists(seen: Seen) -> None:
    ids = [attributes["id"] for _, attributes in seen.tags if "id" in attributes]
    assert len(ids) == len(set(ids))
    for _, attributes in seen.tags:
        for key in POINTS:
            assert set(attributes.get(key, "").split()) <= set(ids), attributes


def test_every_field_has_a_name_for_those_who_hear_it(seen: Seen) -> None:
    named = {a.get("for") for tag, a in seen.tags if tag == "label"}
    for tag, attributes in seen.tags:
        if tag in {"input", "textarea", "select"} and attributes.get("type") != "radio":
            assert attributes.get("id") in named or attributes.get("aria-label")


def test_the_light_that_was_chosen_stands_on_the_page() -> None:
    assert "data-theme" not in page()[:200]
    assert '<html lang="en" data-theme="slate"' in page(Look("slate"))


def test_a_page_begins_with_its_doctype() -> None:
    assert page().lstrip().startswith("<!doctype html>")


def test_what_comes_from_a_file_is_never_markup() -> None:
    made = environment(ASSETS)
    text = '{% import "parts.html" as p %}{{ p.finding("1", "fails", n, n, n) }}'
    said = made.from_string(text).render(n="<script>x</script>", language="en")
    assert "<script>" not in said
    assert said.count("&lt;script&gt;") == 3


def test_a_name_that_a_page_forgot_is_an_error() -> None:
    with pytest.raises(UndefinedError):
        environment(ASSETS).from_string("{{ forgotten }}").render()


@pytest.mark.parametrize("path", sorted(TEMPLATES.glob("*.html")), ids=lambda p: p.name)
def test_no_template_styles_or_scripts_in_place(path: Path) -> None:
    text = path.read_text("utf-8")
    fetched_or_data = r'(?! type="(?:module" src|application/json" id))'
    assert not re.search(rf"<style|\sstyle=|\son[a-z]+=|<script{fetched_or_data}", text)
