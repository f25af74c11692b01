"""A service manager looks at what is due for a person, and takes the calendar along."""

import pytest
import vobject

from browsing import Desk, OpenPage, Theme, axe
from limen.store.starter import starter_text

COMMISSIONED = "commissioned = 2020-06-01"


@pytest.mark.parametrize(
    ("width", "theme"),
    [(360, "slate"), pytest.param(1440, "paper", marks=pytest.mark.slow)],
)
def test_what_is_due_for_a_person_is_found_and_taken_along(
    desk: Desk, open_page: OpenPage, width: int, theme: Theme
) -> None:
    for name, person in (("Clinic", "R. Okafor"), ("School", "L. Brandt")):
        kept = f'kept = {{ checked = 2020-07-01, by = "{person}" }}'
        text = starter_text().replace("My site", name)
        desk.add(text.replace(COMMISSIONED, f"{COMMISSIONED}\n{kept}"))
    page = open_page(desk.url, width=width, theme=theme)
    page.get_by_role("link", name="What is due").click()
    page.get_by_role("heading", name="What is due").wait_for()
    found = axe(page)
    page.get_by_label("Who answers for it").select_option("R. Okafor")
    page.wait_for_url("**person=R.*Okafor**")
    assert page.get_by_role("link", name="Clinic", exact=True).is_visible()
    assert page.get_by_role("link", name="School", exact=True).count() == 0
    with page.expect_download() as taken:
        page.get_by_role("link", name="Calendar file").click()
    events = vobject.readOne(taken.value.path().read_text("utf-8")).vevent_list
    assert ["Clinic" in one.summary.value for one in events] == [True]
    found += axe(page)
    page.get_by_role("link", name="Plan a visit Main entrance, Clinic").click()
    page.wait_for_url("**/doorways/main/life#plan")
    assert not found, "\n".join(found)
