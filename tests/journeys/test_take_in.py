"""A thousand doors, or four, from another program's list: no script is needed."""

from playwright.sync_api import expect

from browsing import Desk, OpenPage, axe

LIST = """\
Doors of the port;;;;;;;
Kunde;Adresse;Tür-Nr.;Typ;Breite [mm];Höhe;Letzte Prüfung;Fluchtweg
Hafenhaus;Am Kai 1;T 1;2-flügelig;1800;2,10 m;01.03.2025;ja
Hafenhaus;Am Kai 1;T 2;1-flg links;breit;2,10 m;31.02.2025;nein
Hafenhaus;Am Kai 1;T 1;2-flügelig;1800;2,10 m;;ja
Zollamt;Am Kai 9;T 1;2-flügelig;1500;2,20 m;01.04.2025;vielleicht
"""


def test_a_list_is_sent_looked_at_taken_in_and_put_away_again(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(f"{desk.url}/", width=360, javascript=False)
    page.get_by_role("link", name="Take doors in from a list").click()
    data = LIST.encode("cp1252")
    file = {"name": "doors.csv", "mimeType": "text/csv", "buffer": data}
    page.set_input_files("[name=file]", file)  # pyright: ignore[reportArgumentType]  # plain
    page.get_by_role("button", name="Look at the list").click()
    expect(page.get_by_text("Assumed: the file is saved as cp1252.")).to_be_visible()
    expect(page.locator(".take-in-counts")).to_contain_text("1 taken, 3 refused")
    expect(page.locator(".take-in-refused > li")).to_have_count(3)
    page.get_by_label("vielleicht means").select_option("not known")
    page.get_by_role("button", name="Try it out").click()
    expect(page.locator(".take-in-counts")).to_contain_text("2 taken, 2 refused")
    page.get_by_role("button", name="Take 2 doorways in").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Taken in")
    expect(page.get_by_role("link", name="Zollamt")).to_be_visible()
    page.get_by_role("button", name="Put all of it away again").click()
    expect(page.get_by_role("status")).to_contain_text("put away again")


def test_the_page_of_a_list_has_no_barrier(desk: Desk, open_page: OpenPage) -> None:
    page = open_page(f"{desk.url}/take-in", width=360)
    assert axe(page) == []
    data = LIST.encode("cp1252")
    file = {"name": "doors.csv", "mimeType": "text/csv", "buffer": data}
    page.set_input_files("[name=file]", file)  # pyright: ignore[reportArgumentType]  # plain
    page.get_by_role("button", name="Look at the list").click()
    page.wait_for_selector(".take-in-counts")
    for details in page.locator("details:not([open]) > summary").all():
        details.click() if details.is_visible() else None
    assert axe(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
