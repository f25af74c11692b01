"""The rows of a neighbour's unit are drawn one by one."""

from builders.studies import finding
from draw.samples import sample
from limen.draw import scene
from limen.draw.parts import Part
from limen.draw.scene import Line
from limen.findings import Role, Spots, Verdict

ROWS = (0.4, 0.7)


def test_no_line_leads_from_one_row_to_the_next() -> None:
    middles = tuple((-0.9 + 0.09 * n, y) for y in ROWS for n in range(21))
    seen = finding(
        Verdict.FAILS,
        "presence.neighbours",
        figures=(Spots(Role.NEIGHBOUR, middles, 0.012),),
    )
    drawn = scene(sample(seen), "plan", finding=seen).content.shapes
    lines = [
        one for one in drawn if isinstance(one, Line) and one.part is Part.NEIGHBOUR
    ]
    assert len(lines) == len(ROWS)
    assert all(len({v for _, v in one.points}) == 1 for one in lines)
