"""The margin map as it is drawn: patterns, contour lines, the place with least room."""

from dataclasses import replace
from itertools import combinations
from xml.etree.ElementTree import Element, fromstring

import pytest

from draw import samples
from limen.draw import Sheet, lay_out, scene
from limen.draw.bare import LEFT_OUT, bare
from limen.draw.margin_layer import Band, Levels, band_of, margin_layer
from limen.draw.turning import seen_from_inside
from limen.findings import Verdict
from limen.findings.margin_map import MarginMap, Spot

SVG = "{http://www.w3.org/2000/svg}"
LEVELS = Levels(
    (0.010, 0.020), ("10 mm", "20 mm"), "missed / reached", "missed by 9 mm"
)
REACHED = Spot(Verdict.HOLDS, 0.030)
NARROWLY = Spot(Verdict.HOLDS, 0.004, 0.006)
MISSED = Spot(Verdict.FAILS, 0.009, 0.011, (0.0, 0.0, 0.5))
OPEN = Spot(Verdict.NOT_SHOWN)
NOBODY = Spot(Verdict.NOT_ASKED)


def found(*rows: list[Spot]) -> MarginMap:
    spots = tuple(spot for row in rows for spot in row)
    return MarginMap(
        "presence.leaf_path",
        "upright",
        "upright",
        0.5,
        (-0.02, 0.02),
        (-0.5, 0.5, -0.2, 0.2),
        len(rows[0]),
        len(rows),
        spots,
        0.03,
    )


def sheet(width: float = 900.0, *, turned: bool = False) -> Sheet:
    study = samples.single()
    plan = bare(scene(study, "plan"), study)
    return lay_out(seen_from_inside(plan) if turned else plan, width)


def drawn(one: MarginMap, *, turned: bool = False) -> Element:
    layer = margin_layer(one, sheet(turned=turned), LEVELS, turned=turned)
    return fromstring(layer.svg)  # noqa: S314 - our own drawing


def classes(root: Element) -> set[str]:
    return {name for one in root.iter() for name in one.get("class", "").split()}


def test_every_band_has_a_pattern_of_its_own_that_ink_does_not_carry() -> None:
    root = drawn(found([MISSED, REACHED]))
    lines = {
        pattern.get("id"): (pattern.get("width"), pattern[0].get("d"))
        for pattern in root.iter(f"{SVG}pattern")
    }
    assert len(lines) == len(Band)
    assert all(one != other for one, other in combinations(lines.values(), 2))


@pytest.mark.parametrize(
    ("spot", "band"),
    [
        (MISSED, Band.MISSED),
        (OPEN, Band.NOT_SHOWN),
        (NARROWLY, Band.LEAST),
        (Spot(Verdict.HOLDS, 0.010), Band.SOME),
        (Spot(Verdict.HOLDS, 0.0199), Band.SOME),
        (Spot(Verdict.HOLDS, 0.020), Band.MORE),
        (Spot(Verdict.HOLDS), Band.NONE_MEASURED),
        (NOBODY, None),
    ],
)
def test_a_place_lies_in_the_band_of_the_room_that_was_shown(
    spot: Spot, band: Band | None
) -> None:
    assert band_of(spot, LEVELS) is band


def test_a_contour_runs_where_the_verdict_turns_and_says_what_it_is() -> None:
    row = [MISSED] * 4 + [REACHED] * 4
    root = drawn(found(row, [REACHED] * 8))
    assert {"contour-1", "contour-2", "contour-3"} <= classes(root)
    words = {one.text for one in root.iter(f"{SVG}text")}
    assert {"missed / reached", "10 mm", "20 mm", "missed by 9 mm"} <= words


def test_no_contour_runs_along_a_wall() -> None:
    root = drawn(found([NOBODY, REACHED], [NOBODY, REACHED]))
    assert "contour" not in classes(root)


def test_the_layer_has_the_size_of_the_sheet_it_lies_on() -> None:
    root = drawn(found([REACHED]))
    on = sheet()
    assert root.get("viewBox") == f"0 0 {on.width:g} {round(on.height, 2):g}"


@pytest.mark.parametrize("turned", [False, True])
def test_a_piece_is_found_where_it_is_drawn(turned: bool) -> None:
    one = found([MISSED, REACHED, REACHED], [REACHED] * 3)
    layer = margin_layer(one, sheet(turned=turned), LEVELS, turned=turned)
    fit, way = sheet(turned=turned).panels[0].fit, -1.0 if turned else 1.0
    x, y = one.middle(2, 1)
    u, v = fit.at((way * x, -way * y))
    assert layer.origin[0] + 2.5 * layer.step[0] == pytest.approx(u)
    assert layer.origin[1] + 1.5 * layer.step[1] == pytest.approx(v)


def test_where_nobody_can_stand_no_place_is_marked() -> None:
    assert "worst" not in classes(drawn(found([NOBODY, NOBODY])))


def test_the_ground_of_a_map_shows_no_words_and_nothing_of_a_finding() -> None:
    study = samples.single()
    seen = bare(scene(study, "plan"), study)
    assert seen.content.labels == ()
    assert seen.content.spans == ()
    assert not {shape.part for shape in seen.content.shapes} & LEFT_OUT


def test_the_ground_does_not_move_with_what_is_drawn() -> None:
    study = samples.single()
    finding = samples.no_beam(samples.body_at(0.3, 0.1, 20.0))
    one = bare(scene(study, "plan"), study)
    other = bare(scene(study, "plan", finding=finding), study)
    assert one.frame == other.frame
    whole = bare(scene(study, "plan"), study, whole=True)
    assert whole.frame.left < one.frame.left or whole.frame.right > one.frame.right


def test_only_a_plan_is_the_ground_of_a_map() -> None:
    study = samples.single()
    with pytest.raises(ValueError, match="front"):
        bare(scene(study, "front"), study)


def test_least_room_is_missed_most_then_not_shown_then_least_to_spare() -> None:
    assert found([REACHED, NARROWLY]).worst == (1, 0)
    assert found([REACHED, OPEN, NARROWLY]).worst == (1, 0)
    more = replace(MISSED, least=0.02)
    assert found([MISSED, OPEN, more]).worst == (2, 0)
