"""The picture on the first page is limen's own, of the demo as it is."""

import re
from importlib.resources import files
from pathlib import Path

from health.tree import ROOT
from limen.desk.checking import check
from limen.desk.drawing import draw
from limen.desk.sites import read
from limen.draw.daily import picture, shape_of
from limen.draw.daily_strokes import ON_PAPER
from limen.words.owner import said

PICTURE = ROOT / "docs" / "pictures" / "plan-with-witness.svg"
BOX = ROOT / "docs" / "pictures" / "owner-box.svg"


def _told(svg: Path) -> str:
    found = re.search(r"<desc[^>]*>(.*?)</desc>", svg.read_text(encoding="utf-8"))
    assert found is not None
    return found[1]


def test_the_picture_tells_what_the_demo_draws_today(tmp_path: Path) -> None:
    """If not: run the demo and copy as-found/main-plan.svg over the picture."""
    demo = str(files("limen").joinpath("demo", "alder-quay-as-found.toml"))
    (drawn,) = draw(check(demo, "main"), tmp_path, views=["plan"])
    assert _told(PICTURE) == _told(drawn)


def test_the_picture_of_the_owner_s_page_is_drawn_so_today() -> None:
    """If not: write what is compared here over the picture."""
    demo = str(files("limen").joinpath("demo", "alder-quay-corrected.toml"))
    shape = shape_of(read(demo).site.door("main"))
    drawn = picture("box", shape, said("picture.box", "en"), ON_PAPER)
    assert BOX.read_text("utf-8") == f"{drawn}\n"
