"""What is drawn is true to scale, and lies where it lies at the door."""

import re
from math import cos, hypot, radians, sin

import pytest

from draw import samples
from limen.draw import lay_out, scene, svg
from limen.draw.parts import Part
from limen.draw.scene import Area, Dots, Line, Point, Scene
from limen.draw.sheet import Stroke

SVG = "{http://www.w3.org/2000/svg}"
HUNDREDTH = 0.011  # px: coordinates are written with two decimals


def circles(text: str) -> list[tuple[float, float]]:
    root = samples.parsed(text)
    found = root.iter(f"{SVG}circle")
    return [(float(c.attrib["cx"]), float(c.attrib["cy"])) for c in found]


def bar_of(drawn: str) -> float:
    """px a metre, from the scale bar and the words beside it."""
    root = samples.parsed(drawn)
    texts = ["".join(t.itertext()) for t in root.iter(f"{SVG}text")]
    assert "500 mm" in texts
    levels = [
        [float(n) for n in re.findall(r"-?[\d.]+", p.attrib["d"])]
        for p in root.iter(f"{SVG}path")
        if p.attrib.get("stroke-width") == "1.2"
    ]
    (level,) = [n for n in levels if len(n) == 4 and n[1] == n[3]]
    return (level[2] - level[0]) / 0.5


def test_spots_in_the_svg_are_as_far_apart_as_on_the_floor() -> None:
    drawn = svg(scene(samples.sample(), "plan"))
    scale, places = bar_of(drawn), circles(drawn)
    row = samples.AS_FOUND[0].rows[0].spots.middles
    width = row[-1][0] - row[0][0]
    pairs = {
        round(b[0] - a[0], 1)
        for a in places
        for b in places
        if abs(a[1] - b[1]) < HUNDREDTH
    }
    assert any(abs(pair / scale - width) < 1e-3 for pair in pairs)


@pytest.mark.parametrize("view", ["plan", "front", "section"])
@pytest.mark.parametrize("width", [360, 800, 1400])
def test_both_axes_share_one_scale_and_the_bar_tells_it(view: str, width: int) -> None:
    study, finding = samples.sample(), samples.no_beam()
    sheet = lay_out(scene(study, view, finding=finding), width)  # pyright: ignore[reportArgumentType]
    bars = [stroke for stroke in sheet.strokes if stroke.rule == "scale"]
    for panel, bar in zip(sheet.panels, bars, strict=True):
        fit = panel.fit
        across = fit.at((0.3, 0.2))[0] - fit.at((-0.2, 0.2))[0]
        up = fit.at((0.0, 0.0))[1] - fit.at((0.0, 0.5))[1]
        assert across == pytest.approx(up)
        assert across == pytest.approx(length_of(bar))


def length_of(stroke: Stroke) -> float:
    line = stroke.line
    return hypot(line.bx - line.ax, line.by - line.ay)


def test_the_body_is_drawn_with_its_size_and_turned_as_it_stands() -> None:
    pose = samples.body_at(0.46, -0.012, 30.0)
    made = scene(samples.sample(), "plan", finding=samples.no_beam(pose))
    (body,) = [s for s in made.content.shapes if s.part is Part.BODY_FAILS]
    assert isinstance(body, Area)
    a, b, c, _ = body.corners
    assert hypot(b[0] - a[0], b[1] - a[1]) == pytest.approx(0.3)
    assert hypot(c[0] - b[0], c[1] - b[1]) == pytest.approx(0.2)
    along = ((b[0] - a[0]) / 0.3, (b[1] - a[1]) / 0.3)
    assert along == pytest.approx((cos(radians(30)), -sin(radians(30))))
    middle = (sum(u for u, _ in body.corners) / 4, sum(v for _, v in body.corners) / 4)
    assert middle == pytest.approx((0.46, 0.012))


def test_every_spot_lies_where_the_study_says() -> None:
    made = scene(samples.sample(), "plan")
    drawn = {
        (u, -v)
        for shape in made.content.shapes
        if isinstance(shape, Dots) and shape.part is Part.SPOT
        for u, v in shape.middles
    }
    told = {m for u in samples.AS_FOUND for r in u.rows for m in r.spots.middles}
    assert drawn == told


def test_the_light_has_its_true_radius() -> None:
    made = scene(samples.sample(), "plan")
    lights = [s for s in made.content.shapes if s.part is Part.LIGHT]
    radii = {s.radius for s in lights if isinstance(s, Dots)}
    assert radii == {samples.AS_FOUND[0].rows[0].spots.radius}


def test_outside_is_down_in_the_plan_and_left_in_the_section() -> None:
    study = samples.sample()
    plan = housings(scene(study, "plan"))
    assert plan[Part.HOUSING_OUTSIDE][1] < 0 < plan[Part.HOUSING_INSIDE][1]
    section = housings(scene(study, "section"))
    assert section[Part.HOUSING_OUTSIDE][0] < 0 < section[Part.HOUSING_INSIDE][0]


def housings(made: Scene) -> dict[Part, Point]:
    return {
        s.part: s.corners[0]
        for s in made.content.shapes
        if isinstance(s, Area) and s.part in (Part.HOUSING_OUTSIDE, Part.HOUSING_INSIDE)
    }


def test_right_seen_from_outside_is_on_the_right_in_plan_and_front() -> None:
    pose = samples.body_at(0.5, 0.0, 0.0)
    for view in ("plan", "front"):
        made = scene(samples.sample(), view, finding=samples.no_beam(pose))  # pyright: ignore[reportArgumentType]
        (body,) = [s for s in made.content.shapes if s.part is Part.BODY_FAILS]
        assert isinstance(body, Area)
        assert min(u for u, _ in body.corners) > 0


def test_a_target_line_lies_at_its_distance_from_the_leaf_face() -> None:
    made = scene(samples.sample(), "plan", finding=samples.no_beam())
    (line,) = [s for s in made.content.shapes if s.part is Part.TARGET]
    assert isinstance(line, Line)
    assert {v for _, v in line.points} == {samples.HALF_LEAF + 0.064}


def test_the_gap_between_the_inner_rows_is_their_distance_on_the_floor() -> None:
    made = scene(samples.sample(), "section")
    (gap,) = [s for s in made.content.spans if s.text.startswith("gap")]
    assert gap.value == pytest.approx(0.085 + 0.125 + 2 * samples.HALF_LEAF)
    assert abs(gap.end[0] - gap.start[0]) == pytest.approx(gap.value)
    assert gap.text == "gap 250 mm"


def test_a_beam_is_drawn_weaker_below_the_lowest_detectable_height() -> None:
    made = scene(samples.with_sheet("100 mm"), "section")
    weak = [s for s in made.content.shapes if s.part is Part.BEAM_LOW]
    assert weak
    for line in weak:
        assert isinstance(line, Line)
        assert max(v for _, v in line.points) == pytest.approx(0.1)


def test_leaves_stand_at_the_gap_at_which_a_body_is_missed() -> None:
    pose = samples.body_at(0.0, 0.0, 0.0)
    finding = samples.no_beam(pose, witness=samples.witness_of(pose, gap=0.5))
    made = scene(samples.sample(), "plan", finding=finding)
    leaves = [s for s in made.content.shapes if s.part is Part.LEAF]
    edges = sorted(u for s in leaves if isinstance(s, Area) for u, _ in s.corners)
    assert min(u for u in edges if u > 0) == pytest.approx(0.25)
    assert max(u for u in edges if u < 0) == pytest.approx(-0.25)
