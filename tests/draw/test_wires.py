"""The drawing of a terminal plan: told apart in print, traced by number."""

import re
from itertools import combinations, pairwise
from typing import Any
from xml.etree.ElementTree import Element, fromstring

import pytest

from builders.wiring import an_input, fitting, output, plan, wired
from limen.draw.boxes import Rect
from limen.draw.lettering import width_of
from limen.draw.wires import WirePicture, draw_wires
from limen.draw.wires_strokes import DASHES, INKS, wire
from limen.model.doorway import Doorway
from limen.model.wiring import Wire
from limen.quantity import Show

SVG = "{http://www.w3.org/2000/svg}"
WIDTHS = (800.0, 900.0, 344.0)
UNITS: tuple[tuple[str, Any], ...] = (("outside", "outside"), ("inside", "inside"))


def _to(signal: str, to: str, **more: object) -> Wire:
    return Wire.model_validate({"output": signal, "to": to, **more})


def small() -> Doorway:
    """Two units on three inputs, one of them not tested."""
    outputs = [
        output("opening", kind="relay", normal_state="open"),
        output(
            "presence", kind="semiconductor", normal_state="closed", test_input=True
        ),
    ]
    inputs = [
        an_input("opening outside", "opening", kinds=["relay"], rests="open"),
        an_input("opening inside", "opening", kinds=["relay"], rests="open"),
        an_input(
            "closing protection",
            "closing protection",
            kinds=["relay", "semiconductor"],
            rests="closed",
        ),
    ]
    units = [
        fitting(
            name,
            outputs,
            [
                _to("opening", f"opening {name}"),
                _to("presence", "closing protection", test_enabled=name == "outside"),
            ],
            side=side,
        )
        for name, side in UNITS
    ]
    return wired(units, inputs)


def large() -> Doorway:
    """Six units, some wired, some not, with names as long as manuals have them."""
    outputs = [output("opening"), output("presence", kind="relay"), output("presence")]
    long = "terminal 14 of the door controller, second board, W" + 40 * "m"
    inputs = [
        an_input(f"{long} {at}", "closing protection" if at % 2 else "opening")
        for at in range(5)
    ]
    units = [
        fitting(
            f"unit-of-the-long-name-{at}",
            outputs,
            [_to("presence", f"{long} {at}"), _to("opening", "not used")]
            if at % 2
            else [],
        )
        for at in range(6)
    ]
    return wired(units, inputs, {"escape_route": True})


def drawn(door: Doorway, width: float, **more: Any) -> Element:
    return fromstring(draw_wires(WirePicture(door, plan(door), **more), width))  # noqa: S314 - our own text


def words(root: Element) -> list[tuple[str, Rect]]:
    """Every piece of text with the room that it takes at most."""
    found: list[tuple[str, Rect]] = []
    for one in root.iter(f"{SVG}text"):
        size, said = float(one.get("font-size", 0)), one.text or ""
        wide, x = width_of(said, size), float(one.get("x", 0))
        left = x - wide / 2 if one.get("text-anchor") == "middle" else x
        base = float(one.get("y", 0))
        box = Rect(left, base - 0.75 * size, left + wide, base + 0.2 * size)
        found.append((said, box))
    return found


def titled(root: Element, tag: str) -> str:
    found = root.find(f"{SVG}{tag}")
    assert found is not None
    return found.text or ""


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("door", [small(), large()], ids=["small", "large"])
def test_no_word_lies_over_another_or_off_the_sheet(
    door: Doorway, width: float
) -> None:
    root = drawn(door, width)
    placed = words(root)
    high = float(root.get("height", 0))
    sheet = Rect(0.0, 0.0, width, high)
    assert [said for said, box in placed if not box.within(sheet)] == []
    over = [
        (one, other)
        for (one, a), (other, b) in combinations(placed, 2)
        if a.grown(-0.5).meets(b.grown(-0.5))
    ]
    assert over == []


@pytest.mark.parametrize("width", WIDTHS)
def test_each_wire_is_traced_by_its_number(width: float) -> None:
    door = small()
    said = [text for text, _ in words(drawn(door, width))]
    ends = 1 if width < 600 else 2
    for one in plan(door).wires:
        assert said.count(str(one.number)) == ends


@pytest.mark.parametrize("width", WIDTHS)
def test_what_fails_is_marked_at_its_wire_by_mark_and_word(width: float) -> None:
    placed = dict(words(drawn(small(), width)))
    row = placed["fails"].top
    (number,) = (
        said
        for said, box in words(drawn(small(), width))
        if said.isdigit() and abs(box.top - row) < 3 and box.left < placed["fails"].left
    )
    broken = [one.number for one in plan(small()).wires if one.verdict == "fails"]
    assert [int(number)] == broken


def test_every_signal_has_a_line_of_its_own_without_its_ink() -> None:
    def bare(signal: Any) -> str:
        strokes = "".join(wire([(0, 0), (9, 0)], signal))
        return re.sub(r'stroke="#[0-9A-F]+"', "", strokes)

    assert len({bare(signal) for signal in INKS}) == len(INKS)
    assert set(DASHES) == set(INKS)


def test_a_proposal_is_thinner_and_its_number_has_another_rim() -> None:
    door = small()
    bare = [one.model_copy(update={"wires": ()}) for one in door.fitting]
    text = draw_wires(
        WirePicture(
            door.model_copy(update={"fitting": tuple(bare)}),
            plan(door.model_copy(update={"fitting": tuple(bare)})),
        ),
        800.0,
    )
    assert text.count(">proposed<") == len(plan(door).wires)
    assert 'stroke-dasharray="3 3"' in text
    assert 'stroke-dasharray="3 3"' not in draw_wires(
        WirePicture(door, plan(door)), 800.0
    )


def test_the_same_stands_in_words_with_both_ends_of_every_wire() -> None:
    door = small()
    told = titled(drawn(door, 800.0), "desc")
    for one in plan(door).wires:
        assert one.terminal is not None
        name = door.operator.inputs[one.terminal].name
        said = f"{one.number}. {one.fitting} unit, {one.signal} output"
        assert f"{said}, to input “{name}”." in told
    assert told.count("As described: fails.") == 1


def test_upright_pieces_of_wires_keep_apart() -> None:
    door = large()
    text = draw_wires(WirePicture(door, plan(door)), 800.0)
    lanes = {
        float(match)
        for path in re.findall(r'd="(M[^"]+)" fill="none" stroke="#FBFAF6"', text)
        for match in re.findall(r"L([\d.]+) [\d.]+L\1 ", path)
    }
    order = sorted(lanes)
    assert len(order) > 3
    gaps = [b - a for a, b in pairwise(order)]
    assert min(gaps) >= 6.0


def test_lengths_are_said_in_the_readers_units() -> None:
    door = small()
    units = [
        one.model_copy(update={"cable": door.fitting[0].cable}) for one in door.fitting
    ]
    made = door.model_copy(update={"fitting": tuple(units)})
    if units[0].cable is None:
        pytest.fail("the reference doorway states no cable")
    said = [text for text, _ in words(drawn(made, 800.0, system=Show.FEET))]
    assert [one for one in said if "lead" in one and "ft" in one]
    assert not [one for one in said if " mm" in one]


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize(
    "name", ["<script>&\"']]>", "a\u0007b", "\u202eabc", "{input}"]
)
def test_a_name_is_drawn_as_a_name_whatever_is_in_it(name: str, width: float) -> None:
    door = small()
    inputs = [*door.operator.inputs, an_input(name, "opening")]
    made = wired(door.fitting, inputs)
    said = "".join(text for text, _ in words(drawn(made, width)))
    assert not set(said) & set("\u0007\u202e")
    if width > 600:
        assert "<script>" in said or "script" not in name


@pytest.mark.parametrize("width", WIDTHS)
def test_it_is_drawn_alike_each_time(width: float) -> None:
    door = large()
    picture = WirePicture(door, plan(door))
    assert draw_wires(picture, width) == draw_wires(picture, width)
