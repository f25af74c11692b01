"""The picture to choose on: nothing hides, doubt is never put among the better."""

import re
from dataclasses import replace
from itertools import combinations, pairwise
from math import hypot
from xml.etree.ElementTree import Element, fromstring

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.draw.boxes import Rect
from limen.draw.choices import Choice, Picture, draw_choices, shares
from limen.draw.choices_placing import Wanted, placed
from limen.draw.choices_scale import Axis, scaled
from limen.draw.themes import PAPER

SVG = "{http://www.w3.org/2000/svg}"
NEEDLESS = Axis("needless openings a day", "less", 1.0, lambda one: f"{one:g}")
LATE = Axis("late openings", "less", 0.01, lambda one: f"{100 * one:g} %")
ROOM = Axis("room to spare", "more", 0.001, lambda one: f"{1000 * one:g} mm")
FINGER = 48.0  # px, what our style asks of everything that is pressed on a telephone


def choice(letter: str, *values: float | None, **more: object) -> Choice:
    fields = {"share": 0.5, "beside": "12 mm", "href": f"?choice={letter}", **more}
    return Choice(letter, values, says=f"choice {letter}", **fields)  # pyright: ignore[reportArgumentType]


def drawn(*choices: Choice, axes: tuple[Axis, ...] = (NEEDLESS, LATE)) -> Picture:
    return Picture("Choices", "In words.", choices, axes, "not known", "en")


def svg_of(picture: Picture, width: float = 680) -> Element:
    return fromstring(draw_choices(picture, width))  # noqa: S314 - our own text


def links(root: Element) -> dict[str, Element]:
    return {str(one.get("data-choice")): one for one in root.iter(f"{SVG}a")}


def disc(link: Element) -> Element:
    (found,) = [
        one for one in link.iter(f"{SVG}circle") if one.get("class") == "choice-disc"
    ]
    return found


def middle(link: Element) -> tuple[float, float]:
    one = disc(link)
    return float(one.get("cx") or "nan"), float(one.get("cy") or "nan")


TWO = drawn(choice("A", 140.0, 0.02, chosen=True), choice("B", 60.0, 0.09))


# Scales -------------------------------------------------------------------------

known = st.floats(0.0, 5000.0, allow_nan=False)
sizes = st.floats(-0.05, 0.4, allow_nan=False)


@given(st.lists(known, min_size=1, max_size=9), st.sampled_from((NEEDLESS, ROOM)))
def test_every_known_value_lies_on_its_axis(values: list[float], axis: Axis) -> None:
    scale = scaled(axis, values, (50.0, 600.0), most=6, aside=90.0)
    for one in values:
        assert 50.0 - 1e-6 <= scale.at(one) <= 600.0 + 1e-6


@given(st.lists(sizes, min_size=2, max_size=9))
def test_greater_values_lie_further_along(values: list[float]) -> None:
    scale = scaled(ROOM, values, (50.0, 600.0), most=6, aside=90.0)
    places = [scale.at(one) for one in sorted(values)]
    assert all(a <= b for a, b in pairwise(places))


@given(st.lists(known, min_size=1, max_size=9))
def test_what_is_not_known_lies_beyond_the_worst_that_is(values: list[float]) -> None:
    less = scaled(NEEDLESS, [*values, None], (50.0, 600.0), most=6, aside=90.0)
    assert less.at(None) > max(less.at(one) for one in values)
    more = scaled(ROOM, [*values, None], (50.0, 600.0), most=6, aside=90.0)
    assert more.at(None) < min(more.at(one) for one in values)


def test_a_scale_without_unknown_values_has_no_place_for_them() -> None:
    with pytest.raises(ValueError, match="None"):
        scaled(ROOM, [0.01], (50.0, 600.0), most=6, aside=90.0).at(None)


@given(st.lists(sizes, min_size=1, max_size=9), st.integers(3, 8))
def test_what_is_written_reads_well(values: list[float], most: int) -> None:
    scale = scaled(ROOM, values, (50.0, 600.0), most=most, aside=90.0)
    step = (scale.ticks[1] - scale.ticks[0]) / ROOM.unit
    digits = f"{step:.3e}".partition("e")[0]
    assert float(digits) in (1.0, 2.0, 5.0)
    assert 2 <= len(scale.ticks) <= most + 3


def test_inches_are_divided_as_a_tape_is() -> None:
    inches = replace(ROOM, unit=0.0254, binary=True)
    scale = scaled(inches, [0.002, 0.012], (50.0, 600.0), most=6, aside=90.0)
    step = (scale.ticks[1] - scale.ticks[0]) / 0.0254
    assert step in (1 / 16, 1 / 8, 1 / 4, 1 / 2)


# Places -------------------------------------------------------------------------


@given(
    st.lists(
        st.tuples(st.floats(40, 640), st.floats(40, 340), st.floats(11, 24)),
        min_size=1,
        max_size=8,
    )
)
def test_no_disc_hides_another_nor_its_words(
    found: list[tuple[float, float, float]],
) -> None:
    wanted = [Wanted((x, y), radius, (52.0, 19.0)) for x, y, radius in found]
    places = placed(wanted, Rect(4.0, 4.0, 676.0, 376.0))
    boxes = [
        box
        for one in places
        for box in (Rect(*one.middle, *one.middle).grown(one.radius), one.words)
    ]
    for one, other in combinations(boxes, 2):
        assert not one.meets(other)


def test_a_disc_stands_where_it_belongs_while_there_is_room() -> None:
    wanted = [Wanted((x, 100.0), 20.0, (50.0, 19.0)) for x in (100.0, 300.0, 500.0)]
    for one in placed(wanted, Rect(0.0, 0.0, 680.0, 380.0)):
        assert one.middle == one.at
        assert not one.led


def test_a_line_leads_from_a_disc_that_had_to_give_way() -> None:
    wanted = [Wanted((100.0, 100.0), 20.0, (50.0, 19.0))] * 2
    first, second = placed(wanted, Rect(0.0, 0.0, 680.0, 380.0))
    assert not first.led
    assert second.led
    far = hypot(second.middle[0] - 100.0, second.middle[1] - 100.0)
    assert far > 2 * 20.0


# Drawn --------------------------------------------------------------------------


def test_fewer_needless_openings_lie_further_left_and_fewer_late_ones_lower() -> None:
    found = links(svg_of(TWO))
    (ax, ay), (bx, by) = middle(found["A"]), middle(found["B"])
    assert bx < ax
    assert ay > by


def test_each_choice_is_a_link_that_says_all_of_itself() -> None:
    for letter, link in links(svg_of(TWO)).items():
        assert link.get("href") == f"?choice={letter}"
        assert link.get("aria-label") == f"choice {letter}"


@pytest.mark.parametrize("width", [340, 680])
def test_a_choice_is_large_enough_for_a_finger(width: int) -> None:
    for link in links(svg_of(TWO, width)).values():
        radii = [float(one.get("r") or 0) for one in link.iter(f"{SVG}circle")]
        assert 2 * max(radii) >= FINGER


def test_what_is_chosen_is_told_without_a_hue() -> None:
    found = links(svg_of(TWO))
    assert found["A"].get("aria-current") == "true"
    assert found["B"].get("aria-current") is None
    assert disc(found["A"]).get("fill") == PAPER["ink"]
    assert disc(found["B"]).get("fill") == PAPER["paper"]


def test_what_is_set_now_cannot_be_chosen_and_is_dashed() -> None:
    now = choice("now", 150.0, 0.15, href="", fails=True)
    root = svg_of(drawn(*TWO.choices, now))
    assert set(links(root)) == {"A", "B"}
    (group,) = [one for one in root.iter(f"{SVG}g") if one.get("role") == "img"]
    assert group.get("aria-label") == "choice now"
    (ring,) = group.iter(f"{SVG}circle")
    assert ring.get("stroke-dasharray")
    crosses = list(group.iter(f"{SVG}path"))
    assert [one.get("stroke") for one in crosses] == [PAPER["fails"]]


def test_a_disc_of_twice_the_room_has_twice_the_area() -> None:
    pair = (choice("A", 140.0, 0.02, share=1.0), choice("B", 60.0, 0.09, share=0.5))
    found = links(svg_of(drawn(*pair)))
    large, small = (float(disc(found[one]).get("r") or 0) for one in "AB")
    assert (large / small) ** 2 == pytest.approx(2.0, rel=0.01)


def test_room_that_is_lacking_makes_no_disc_larger() -> None:
    assert shares([0.012, 0.006, -0.02, None]) == (1.0, 0.5, 0.0, None)
    assert shares([-0.01, -0.02]) == (0.0, 0.0)


def test_one_measure_alone_makes_a_strip() -> None:
    pair = (choice("A", 0.012, beside=""), choice("B", 0.004, beside=""))
    root = svg_of(drawn(*pair, axes=(ROOM,)))
    assert float(root.get("height") or 0) < 150
    found = links(root)
    assert middle(found["B"])[0] < middle(found["A"])[0]


def test_no_ink_is_outside_the_palette_so_that_both_lights_have_it() -> None:
    now = choice("now", None, 0.15, href="", fails=True)
    text = draw_choices(drawn(*TWO.choices, now), 680)
    inks = set(re.findall(r"#[0-9A-Fa-f]{6}", text))
    assert inks <= set(PAPER.values())


@given(
    st.lists(
        st.tuples(st.none() | st.floats(0, 400), st.none() | st.floats(0, 0.5)),
        min_size=1,
        max_size=9,
    ),
    st.sampled_from((340.0, 680.0)),
)
def test_every_choice_is_drawn_on_the_sheet(
    values: list[tuple[float | None, float | None]], width: float
) -> None:
    known = [(0.0, 0.0), *values]
    choices = [choice(chr(65 + n), *one) for n, one in enumerate(known)]
    root = svg_of(drawn(*choices), width)
    high = float(root.get("height") or 0)
    found = links(root)
    assert len(found) == len(known)
    for link in found.values():
        x, y = middle(link)
        assert 0 <= x <= width
        assert 0 <= y <= high
