"""The first page is useful soon on a slow line: little is fetched for it."""

from browsing import Desk, OpenPage, told

LINE = 1_600_000 / 8  # bytes a second of a weak mobile connection
SOON = 3.0  # s on it, half of which are left for round trips and the machine


def test_a_doorway_page_is_fetched_in_half_the_time_it_may_take(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(f"{desk.url}/sites/{desk.demo()}/doorways/main")
    page.locator("input[data-knob]").first.wait_for()
    sizes = page.evaluate(
        """() => [...performance.getEntriesByType("navigation"),
          ...performance.getEntriesByType("resource")]
          .filter((one) => one.initiatorType !== "fetch")
          .map((one) => [one.name, one.transferSize])"""
    )
    bytes_ = sum(size for _, size in sizes)
    assert sum(size > 0 for _, size in sizes) > 3
    told(f"first load: {bytes_ / 1000:.0f} kB, {bytes_ / LINE:.2f} s at 1.6 Mbit/s")
    assert bytes_ / LINE < SOON / 2, sizes
