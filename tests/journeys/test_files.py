"""Files go in and come out the same; what takes long shows how far it is."""

from pathlib import Path

from playwright.sync_api import Page

from browsing import Desk, OpenPage, demo_text
from limen.store.starter import starter_text

LINES = starter_text().replace('name = "', 'name = "Größe, ', 1)


def _downloaded(page: Page, link: str) -> tuple[str, bytes]:
    with page.expect_download() as coming:
        page.locator(link).first.click()
    return coming.value.suggested_filename, Path(coming.value.path()).read_bytes()


def test_a_file_that_is_dropped_comes_out_byte_for_byte(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(desk.url + "/")
    dropped = page.evaluate_handle(
        "text => { const all = new DataTransfer();"
        " all.items.add(new File([text], 'door.toml', {type: 'application/toml'}));"
        " return all; }",
        LINES,
    )
    page.dispatch_event("#adding", "drop", {"dataTransfer": dropped})
    page.locator("#adding button.do").click()
    page.wait_for_url("**/sites/*")
    name, data = _downloaded(page, "a[href$='/site.toml']")
    assert data == LINES.encode()
    assert name.startswith("gro")
    assert name.endswith(".toml")


def test_a_file_that_is_chosen_is_refused_with_its_line_and_stays(
    desk: Desk, open_page: OpenPage
) -> None:
    wrong = LINES.replace('clear_width = "', 'clear_width = "banana ', 1)
    page = open_page(desk.url + "/", expected={422})
    page.set_input_files(
        "#add-file",
        {"name": "door.toml", "mimeType": "text/plain", "buffer": wrong.encode()},
    )
    page.locator("#adding button.do").click()
    told = page.locator("#adding .faults").inner_text()
    assert "clear_width" in told
    assert "banana" in told
    assert page.locator("#add-text").input_value() == wrong


def test_a_report_is_made_while_its_progress_is_shown(
    desk: Desk, open_page: OpenPage
) -> None:
    site = desk.demo()
    page = open_page(f"{desk.url}/sites/{site}/out", width=360, theme="slate")
    form = page.locator("form", has=page.locator("input[value=report]"))
    form.locator("button.do").click()
    form.locator("progress").wait_for()
    assert "Alder" not in form.inner_text()  # it names doorways, not the building
    form.locator("a[download]").wait_for(timeout=90_000)
    name, data = _downloaded(page, ".out-job a[download]")
    assert name == "alder-quay-library-report-2026-11-25.pdf"
    assert data.startswith(b"%PDF-")
    assert desk.text(site).encode() == demo_text()


def test_work_can_be_given_up(desk: Desk, open_page: OpenPage) -> None:
    page = open_page(f"{desk.url}/sites/{desk.demo('corrected')}/out")
    form = page.locator("form", has=page.locator("input[value=report]"))
    form.locator("button.do").click()
    form.locator(".out-job button").click()
    form.locator(".out-job .notice[data-kind=warning]").wait_for()
    assert form.locator("a[download]").count() == 0
    assert form.locator("button.do").is_enabled()


def test_a_drawing_shows_what_one_was_looking_at(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(f"{desk.url}/sites/{desk.demo()}/doorways/main")
    line = page.locator("a[data-finding*='leaf_path']").first
    with page.expect_response("**/preview"):
        line.click()
    page.wait_for_url("**finding=presence.leaf_path**")
    page.locator("a[data-out]").click()
    page.wait_for_url("**/out?**finding=presence.leaf_path**")
    name, data = _downloaded(page, "a[href*='view=plan'][href*='finding=']")
    assert name == "alder-quay-library-main-plan.svg"
    assert data.startswith(b"<svg")
