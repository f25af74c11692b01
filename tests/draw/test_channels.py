"""The picture of channels: every unit on the sheet, wide and narrow."""

from xml.etree import ElementTree as ET

import pytest

from builders.doorways import a_doorway, a_site
from limen.draw.channels import draw_channels
from limen.tune.channels_plan import channel_plan

WALL = 12
SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("width", [360.0, 860.0])
def test_nothing_leaves_the_sheet_and_no_two_units_overlap(width: float) -> None:
    doors = []
    for number in range(WALL):
        more: dict[str, object] = {"id": f"d{number}"}
        if number + 1 < WALL:
            told = {"doorway": f"d{number + 1}", "along": "2100 mm"}
            more["beside"] = [told]
        doors.append(a_doorway(more))
    plan = channel_plan(a_site(*doors))
    drawn = ET.fromstring(draw_channels(plan, width))  # noqa: S314  # our own
    height = float(drawn.get("height", "0"))
    boxes = [
        tuple(float(one.get(key, "0")) for key in ("x", "y", "width", "height"))
        for one in drawn.findall(f"{SVG}rect")
        if one.get("stroke")
    ]
    assert len(boxes) == len(plan.units)
    for x, y, wide, tall in boxes:
        assert 0 <= x <= x + wide <= width
        assert 0 <= y <= y + tall <= height
    assert len({(x, y) for x, y, *_ in boxes}) == len(boxes)
