"""Every page can be read by everybody, in both lights, on a phone and on a desk."""

from itertools import product

import pytest

from browsing import THEMES, Desk, OpenPage, Theme, axe

PAGES = (
    "/",
    "/?q=nothing+of+this+name",
    "/help",
    "/survey",
    "/sheets",
    "/sheets/two-row",
    "/sheets/new",
    "/nowhere",
    "{site}",
    "{site}/facts",
    "{site}/out",
    "{site}/history",
    "{site}/survey",
    "{site}/doorways/main",
    "{site}/doorways/main?view=room",
    "{site}/doorways/main?finding=approach.opens_in_time~inside~reduced",
    "{site}/doorways/main/facts",
    "{site}/doorways/main/wiring",
    "{site}/doorways/main/compare",
    "{site}/doorways/main/flows?setting=outside.reach&to=60+%25",
    "{site}/doorways/main/flows?setting=outside.reach&to=blue",
    "{site}/doorways/staff/flows",
    "{site}/out?doorway=main",
)


@pytest.fixture(scope="module")
def site(desk: Desk) -> str:
    """Where the invented building is kept."""
    return f"/sites/{desk.demo()}"


@pytest.mark.parametrize(
    ("width", "theme"),
    [
        pytest.param(width, theme, marks=[pytest.mark.slow] if n else [])
        for n, (width, theme) in enumerate(product((360, 1440), THEMES))
    ],
)
def test_no_page_shuts_anybody_out(
    desk: Desk, open_page: OpenPage, site: str, width: int, theme: Theme
) -> None:
    """Judged by axe-core: WCAG 2.2 A and AA, and its best practice."""
    page = open_page(desk.url + "/help", width=width, theme=theme, expected={404})
    found: list[str] = []
    for path in PAGES:
        page.goto(desk.url + path.format(site=site))
        found += [f"{path}: {one}" for one in axe(page)]
    assert not found, "\n".join(found)


def test_a_page_that_shuts_somebody_out_is_found(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(desk.url + "/")
    page.evaluate("document.querySelector('label[for=q], h1').textContent = ''")
    page.evaluate("document.documentElement.removeAttribute('lang')")
    assert any(one.startswith("html-has-lang") for one in axe(page))
