"""Each meaning has its own mark or pattern, whatever becomes of its colour."""

from dataclasses import replace
from itertools import combinations

import pytest

from draw import samples
from limen.draw import scene, svg
from limen.draw.bodies import part_of
from limen.draw.parts import Part
from limen.draw.plan_figures import FLOOR_PARTS, floor_part
from limen.draw.themes import PAPER, STYLES, THEMES
from limen.findings import Role, Verdict

# Our palette (Okabe and Ito, "Color Universal Design", 2008), as our style has it.
PALETTE = {
    "approach": "#E69F00",
    "presence": "#0072B2",
    "line": "#4A5560",
    "fails": "#D55E00",
    "holds": "#009E73",
    "not shown": "#CC79A7",
    "passing": "#56B4E9",
}
AREAS = (
    Part.APPROACH,
    Part.FIELD,
    Part.PRESENCE,
    Part.LEAF,
    Part.BODY_FAILS,
    Part.THING,
)
LINES = (
    Part.LEAF_PATH,
    Part.ROW,
    Part.WALK,
    Part.LATE,
    Part.PASSER,
    Part.DEAD,
    Part.HEADER,
)


def test_every_part_has_a_style() -> None:
    assert set(STYLES) == set(Part)


def test_every_role_of_a_figure_is_drawn() -> None:
    assert set(FLOOR_PARTS) == set(Role)


def test_paper_has_the_colours_of_our_style() -> None:
    assert {name: PAPER[name] for name in PALETTE} == PALETTE


def test_every_theme_has_every_ink() -> None:
    used = {s.stroke for s in STYLES.values()} | {s.fill for s in STYLES.values()}
    for theme in THEMES.values():
        assert used - {None} <= set(theme)


@pytest.mark.parametrize("kind", [AREAS, LINES])
def test_parts_differ_without_their_colour(kind: tuple[Part, ...]) -> None:
    for one, other in combinations(kind, 2):
        plain = [replace(STYLES[part], stroke="", fill=None) for part in (one, other)]
        filled = [STYLES[part].fill is None for part in (one, other)]
        assert plain[0] != plain[1] or filled[0] != filled[1], (one, other)


def test_presence_is_dots_approach_hatching_and_the_leaf_solid() -> None:
    assert STYLES[Part.PRESENCE].pattern == "dots"
    assert STYLES[Part.APPROACH].pattern == "hatch"
    assert STYLES[Part.LEAF].fill == "line"
    assert STYLES[Part.LEAF].veil == 1.0
    assert STYLES[Part.LEAF_PATH].dash
    assert STYLES[Part.PASSER].dash


def test_only_a_failure_bears_a_cross() -> None:
    signs = {verdict: part_of(verdict)[1] for verdict in Verdict}
    crossed = [v for v, sign in signs.items() if sign is Part.SIGN_FAILS]
    assert crossed == [Verdict.FAILS]
    assert signs[Verdict.HOLDS] is Part.SIGN_HOLDS
    assert signs[Verdict.NOT_SHOWN] is Part.SIGN_NOT_SHOWN


def test_a_witness_that_shows_no_failure_has_a_question_mark_and_no_cross() -> None:
    doubt = samples.no_beam(verdict=Verdict.NOT_SHOWN)
    drawn = svg(scene(samples.sample(), "plan", finding=doubt))
    assert ">?</text>" in drawn
    failed = svg(scene(samples.sample(), "plan", finding=samples.no_beam()))
    assert ">?</text>" not in failed


def test_zones_and_walks_are_drawn_by_what_is_asked() -> None:
    assert floor_part(Role.ZONE, "approach.minimum_zone") is Part.APPROACH
    assert floor_part(Role.ZONE, "presence.leaf_path") is Part.PRESENCE
    assert floor_part(Role.WITNESS, "approach.opens_in_time") is Part.WALK
    assert floor_part(Role.WITNESS, "approach.passers_by") is Part.PASSER


def test_a_walk_is_drawn_in_its_field_and_crossed_where_the_door_is_late() -> None:
    made = scene(samples.sample(), "plan", finding=samples.late())
    parts = [shape.part for shape in made.content.shapes]
    for part in (Part.FIELD, Part.WALK, Part.LATE, Part.SIGN_FAILS):
        assert parts.count(part) == 1, part
    words = {label.text for label in made.content.labels}
    assert {"field", "walk", "late"} <= words


def test_in_one_ink_nothing_keeps_a_hue() -> None:
    drawn = svg(
        scene(samples.sample(), "plan", finding=samples.no_beam()), theme="plain"
    )
    hues = {word for word in drawn.split('"') if word.startswith("#")}
    assert hues
    assert all(len({hue[1:3], hue[3:5], hue[5:7]}) == 1 for hue in hues)


def test_the_rows_of_a_dead_unit_are_hollow() -> None:
    finding = samples.no_beam(case="upright, in dead")
    made = scene(samples.sample(), "plan", finding=finding)
    dead = [s for s in made.content.shapes if s.part is Part.DEAD]
    spots = [s for s in made.content.shapes if s.part is Part.SPOT]
    assert len(dead) == 4
    assert len(spots) == 2
