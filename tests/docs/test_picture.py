"""The picture on the first page is limen's own, of the demo as it is."""

import re
from importlib.resources import files
from pathlib import Path

from health.tree import ROOT
from limen.desk.checking import check
from limen.desk.drawing import draw

PICTURE = ROOT / "docs" / "pictures" / "plan-with-witness.svg"


def _told(svg: Path) -> str:
    found = re.search(r"<desc[^>]*>(.*?)</desc>", svg.read_text(encoding="utf-8"))
    assert found is not None
    return found[1]


def test_the_picture_tells_what_the_demo_draws_today(tmp_path: Path) -> None:
    """If not: run the demo and copy as-found/main-plan.svg over the picture."""
    demo = str(files("limen").joinpath("demo", "alder-quay-as-found.toml"))
    (drawn,) = draw(check(demo, "main"), tmp_path, views=["plan"])
    assert _told(PICTURE) == _told(drawn)
