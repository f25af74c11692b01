"""No drawing is a mirror image of the door.

The places are worked out for a door whose outside lies to the south, in metres to
the east, to the north and up.  Someone outside looks north and has east on the
right.  What an eye has on its right follows from where it looks and what it has
above, by the cross product of a right-handed world; the doorway's own frame, which
is left-handed, is not used.
"""

import re
from math import atan2, degrees
from typing import NamedTuple

import numpy as np
import pytest

from draw import samples
from draw.samples import Laid
from draw.test_scale import bar_of
from limen.draw import View, scene, svg
from limen.draw.themes import PAPER
from limen.findings import Study

EAST, NORTH, UP = np.eye(3)
SVG = "{http://www.w3.org/2000/svg}"
TENTH = 0.1  # px


class Eye(NamedTuple):
    """Where the eye of a drawing looks, and what it has above."""

    looks: np.ndarray
    above: np.ndarray

    def on_page(self, way: np.ndarray) -> np.ndarray:
        """How far to the right and how far down something lies, m."""
        right = np.cross(self.looks, self.above)
        return np.array([way @ right, -(way @ self.above)])


EYES: dict[View, Eye] = {
    "plan": Eye(-UP, NORTH),
    "front": Eye(NORTH, UP),
    "section": Eye(-EAST, UP),
}

# The opening is 1000 mm wide, the leaf 40 mm thick.  The body's middle stands 200 mm
# from the right post and 100 mm outside the leaf's middle; the open leaf has gone
# to the left; a stand is 600 mm to the right and 450 mm out from the leaf face.
BODY = np.array([0.5 - 0.2, -0.1, 0.35])
LEAF = np.array([-1.0, 0.0, 1.1])
STAND = np.array([0.6, -0.02 - 0.45, 0.6])
OUTSIDE_UNIT = np.array([0.0, -0.02 - 0.16, 2.25])
INSIDE_UNIT = np.array([0.0, 0.02 + 0.16, 2.25])


def doorway() -> Study:
    size = {"width": "300 mm", "depth": "200 mm", "height": "1200 mm"}
    stand = {"name": "stand", "side": "outside", "along": "600 mm", "out": "450 mm"}
    return samples.sample(
        units=(
            samples.unit(Laid("outside", (0.07, 0.22), wide=0.9)),
            samples.unit(Laid("inside", (0.07, 0.22), wide=0.9)),
        ),
        clear_width="1000 mm",
        leaves={"kind": "single", "hand": "left", "thickness": "40 mm"},
        thing=({**stand, **size},),
    )


def drawn(view: View, turned: float = 0.0, width: int = 590) -> str:
    pose = samples.body_at(0.3, 0.1, turned)
    witness = samples.witness_of(pose, half=0.5)
    finding = samples.no_beam(pose, witness=witness, remedy=None)
    return svg(scene(doorway(), view, finding=finding), width_px=width)


def outlines(text: str, **ink: str) -> list[np.ndarray]:
    """The corners of the closed shapes that are drawn in this ink, px."""
    wanted = {name.replace("_", "-"): value for name, value in ink.items()}
    return [
        np.array([float(n) for n in re.findall(r"-?[\d.]+", d)]).reshape(-1, 2)
        for path in samples.parsed(text).iter(f"{SVG}path")
        if (d := path.attrib["d"]).endswith("Z")
        and all(path.attrib.get(name) == value for name, value in wanted.items())
    ]


def middle(text: str, **ink: str) -> np.ndarray:
    (corners,) = outlines(text, **ink)
    return (corners.min(axis=0) + corners.max(axis=0)) / 2


BODY_INK = {"stroke": PAPER["fails"], "fill": PAPER["fails"]}
HOUSINGS = {"stroke": PAPER["ink"]}
INKS: dict[str, dict[str, str]] = {
    "body": BODY_INK,
    "leaf": {"stroke": PAPER["paper"], "fill": PAPER["line"]},
    "leaf seen": {"stroke": PAPER["line"], "fill": PAPER["line"]},
    "stand": {"stroke": PAPER["ink"], "fill": PAPER["wall"]},
    "outside unit": {"stroke": PAPER["ink"], "fill": PAPER["paper"]},
    "inside unit": {"stroke": PAPER["ink"], "fill": PAPER["ink"]},
}


@pytest.mark.parametrize(
    ("view", "what", "place"),
    [
        pytest.param("plan", "leaf", LEAF, id="plan, leaf"),
        pytest.param("plan", "stand", STAND, id="plan, stand"),
        pytest.param("plan", "outside unit", OUTSIDE_UNIT, id="plan, outside unit"),
        pytest.param("plan", "inside unit", INSIDE_UNIT, id="plan, inside unit"),
        pytest.param("front", "leaf seen", LEAF, id="front, leaf"),
        pytest.param("front", "outside unit", OUTSIDE_UNIT, id="front, unit"),
        pytest.param("section", "leaf seen", LEAF, id="section, leaf"),
        pytest.param("section", "outside unit", OUTSIDE_UNIT, id="section, outside"),
        pytest.param("section", "inside unit", INSIDE_UNIT, id="section, inside"),
    ],
)
def test_all_lies_from_the_body_as_who_looks_has_it(
    view: View, what: str, place: np.ndarray
) -> None:
    text = drawn(view)
    found = middle(text, **INKS[what]) - middle(text, **BODY_INK)
    expected = bar_of(text) * EYES[view].on_page(place - BODY)
    assert found == pytest.approx(expected, abs=TENTH)


def test_who_stands_outside_and_reads_the_plan_has_left_on_the_left() -> None:
    text = drawn("plan")
    body, stand = (middle(text, **INKS[name]) for name in ("body", "stand"))
    leaf = middle(text, **INKS["leaf"])
    assert leaf[0] < body[0] < stand[0]  # from left to right
    assert leaf[1] < body[1] < stand[1]  # nearer and nearer to the reader


@pytest.mark.parametrize("width", [360, 1400])
def test_outside_is_written_at_the_lower_edge_and_inside_is_tinted(width: int) -> None:
    text = drawn("plan", width=width)
    root = samples.parsed(text)
    heights = {
        "".join(words.itertext()): float(words[0].attrib["y"])
        for words in root.iter(f"{SVG}text")
        if len(words)
    }
    (tint,) = [r for r in root.iter(f"{SVG}rect") if r.get("fill") == PAPER["inside"]]
    lower_edge = float(tint.attrib["y"]) + float(tint.attrib["height"])
    leaf = middle(text, **INKS["leaf"])
    assert heights["inside"] < leaf[1] < heights["outside"]
    assert lower_edge == pytest.approx(leaf[1], abs=TENTH)


@pytest.mark.parametrize("turned", [20.0, 70.0, 110.0])
def test_a_positive_turn_is_clockwise_seen_from_above(turned: float) -> None:
    """The text says so too: "turned {turn} clockwise, seen from above"."""
    (corners,) = outlines(drawn("plan", turned), **BODY_INK)
    sides = np.roll(corners, -1, axis=0) - corners
    i, j = max(sides, key=lambda side: float(np.hypot(*side)))
    # on a page whose y runs down, a clock's hands go from +x to +y
    assert degrees(atan2(j, i)) % 180 == pytest.approx(turned, abs=0.1)


def test_the_section_says_to_which_post_its_eye_looks() -> None:
    assert "looks to the left-hand post, named from outside" in " ".join(
        "".join(words.itertext())
        for words in samples.parsed(drawn("section", width=1400)).iter(f"{SVG}text")
    )


def test_of_a_leaf_that_opens_behind_the_eye_the_section_shows_the_path_only() -> None:
    leaves = {"kind": "single", "hand": "right", "thickness": "40 mm"}
    finding = samples.no_beam()
    text = svg(scene(samples.sample(leaves=leaves), "section", finding=finding))
    assert outlines(text, **INKS["leaf seen"]) == []
    assert outlines(text, **INKS["leaf"]) == []
