"""Ten thousand doorways are listed as quickly as a page may be waited for."""

import gc
from datetime import date
from pathlib import Path
from statistics import median, quantiles
from time import perf_counter

import pytest
from starlette.testclient import TestClient

from builders.many_doors import filled
from limen.web.app import create_app
from web.conftest import HERE, OURS

DAY = date(2026, 11, 25)
PEOPLE = {"Accept": "text/html"}
MOST = 100
"""Times an empty request: what 150 ms are, where an empty one takes 1.5 ms.

Measured by ``bench/doors.py``; a ratio of one run holds on any machine.
"""
ASKED = (
    "/doors",
    "/doors?state=mend&sort=mend&down=1",
    "/doors?q=clinic+inner&sort=visit",
    "/doors?question=presence.threshold&answer=fails",
    "/doors?view=fails",
    "/doors?view=due&by=site",
    "/",
)


@pytest.mark.slow
def test_ten_thousand_doorways_take_no_more_than_so_many_empty_requests(
    static: Path, tmp_path: Path
) -> None:
    path = tmp_path / "library.db"
    filled(path, 1000, 10_000, 20_000, DAY).library.close()
    app = create_app(path, today=lambda: DAY, static=static)
    gc.freeze()  # as the server does before its first answer
    try:
        with TestClient(app, base_url=HERE, headers={**OURS, **PEOPLE}) as asked:
            empty = median(_waits(asked, "/static/manifest.json"))
            for address in ASKED:
                late = quantiles(_waits(asked, address), n=20)[-1]
                assert late <= MOST * empty, (address, late, empty)
    finally:
        gc.unfreeze()
        app.state.desk.library.close()


def _waits(client: TestClient, address: str) -> list[float]:
    took: list[float] = []
    for _ in range(23):
        since = perf_counter()
        assert client.get(address).status_code in (200, 404)
        took.append(perf_counter() - since)
    return took[3:]
