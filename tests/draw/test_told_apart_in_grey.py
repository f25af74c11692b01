"""The pictures of Set, without their colours: each meaning keeps a mark of its own."""

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from builders.chains import beside, door, on_channels
from builders.doorways import a_site
from limen.draw.channels import draw_channels
from limen.draw.choices import Choice, Picture, draw_choices
from limen.draw.choices_scale import Axis
from limen.draw.parts import Part
from limen.draw.taping import Mark, Taping, from_above
from limen.draw.themes import PAPER, STYLES
from limen.draw.wires_strokes import DASHES, INKS, mark, wire
from limen.findings import Verdict
from limen.tune.channels_plan import channel_plan
from limen.web.flows_picture import Hour, drawn

WEB = Path(__file__).parents[2] / "web" / "src"
SVG = "{http://www.w3.org/2000/svg}"
HUE = re.compile(r"#[0-9A-Fa-f]{6}|var\(--[a-z-]+\)")


def bare(stroke: str) -> str:
    """A stroke without its colour."""
    return HUE.sub("ink", stroke)


def root_of(picture: str) -> ET.Element:
    return ET.fromstring(picture)  # noqa: S314 - our own


# What each picture tells apart ----------------------------------------------------


def choices() -> Mapping[str, str]:
    """Chosen, to choose, set now: a full disc, a ring, a broken ring."""
    axis = Axis("late openings", "less", 0.01, lambda one: f"{one:g}")
    every = (
        Choice("A", (0.1, 0.2), 0.5, "", "A", "?choice=A", chosen=True),
        Choice("B", (0.4, 0.6), 0.5, "", "B", "?choice=B"),
        Choice("now", (0.8, 0.9), 0.5, "", "now"),
    )
    picture = Picture("Choices", "In words.", every, (axis, axis), "unknown", "en")
    root = root_of(draw_choices(picture, 680))
    discs = [
        one
        for one in root.iter(f"{SVG}circle")
        if one.get("class") != "choice-hit" and float(one.get("r", 0)) > 5
    ]
    names = ("chosen", "to choose", "now")
    # Full or empty is told by how light the disc is beside its rim.
    return {
        name: f"{one.get('fill') == one.get('stroke')} {one.get('stroke-dasharray')}"
        for name, one in zip(names, discs, strict=True)
    }


def before_and_after() -> Mapping[str, str]:
    """Where a row lands, where it must land, the path of the leaf."""
    parts = {"row": Part.ROW, "target": Part.TARGET, "leaf path": Part.LEAF_PATH}
    return {name: str(replace(STYLES[part], stroke="")) for name, part in parts.items()}


def what_to_tape() -> Mapping[str, str]:
    """What is taped of the lens, of a row, and what is not to scale."""
    marks = (Mark("1", "row line", -0.5, 1, "left"),)
    taping = Taping(
        inside=False,
        half=0.9,
        meet=True,
        lens=0.1,
        rows=((-1.2, 1.2),),
        marks=marks,
        says="in words",
    )
    root = root_of(from_above(taping))
    groups = {one.get("data-mark"): one for one in root.iter(f"{SVG}g")}
    badges = {name: next(one.iter(f"{SVG}rect")) for name, one in groups.items()}
    styles = (WEB / "readings" / "readings.css").read_text("utf-8")
    wrong = re.search(r"\.taping-mark\.wrong rect\[stroke\] \{([^}]*)\}", styles)
    assert wrong
    rims = {"C": "lens", "1": "reading"}
    found = {rims[str(name)]: str(one.get("rx")) for name, one in badges.items()}
    return {**found, "wrong": bare(wrong[1])}


def hours_of_a_day() -> Mapping[str, str]:
    """Walk through, open it and pass, perhaps: full, hatched, a broken rim."""
    picture = drawn((Hour(9, 40.0, 10.0, 20.0),), 720.0)
    styles = (WEB / "flows" / "flows.css").read_text("utf-8")
    found: dict[str, str] = {}
    for one in re.findall(r"<rect class=\"hours-[a-z]+\"[^>]*>", picture):
        kind = re.search(r"hours-[a-z]+", one)
        assert kind
        rule = re.search(rf"\.{kind[0]} \{{([^}}]*)\}}", styles)
        assert rule
        found[kind[0]] = bare(rule[1]) + str("url(" in one)
    return found


def channels_by_pattern() -> Mapping[str, str]:
    """Eight channels; the number stands on each as well."""
    root = root_of(draw_channels(channel_plan(a_site(door("a"))), 360.0))
    patterns = root.iter(f"{SVG}pattern")
    return {str(one.get("id")): bare("".join(map(_text, one))) for one in patterns}


def pairs_on_channels() -> Mapping[str, str]:
    """Meets, may meet, meets on one channel: a line, a broken one, one with a cross."""
    doors = (door("a", beside("b", "2100 mm")), door("b"))
    plan = channel_plan(a_site(*(on_channels(one, (1, 2)) for one in doors)))
    pair = plan.pairs[0]
    kinds = {
        "meets": replace(pair, how="meets", shares=False),
        "may": replace(pair, how="may", shares=False),
        "shared": replace(pair, how="meets", shares=True),
        "may be shared": replace(pair, how="may", shares=True),
    }
    return {
        name: _lines(draw_channels(replace(plan, pairs=(one,)), 360.0))
        for name, one in kinds.items()
    }


def terminal_plan() -> Mapping[str, str]:
    """Every signal has a line of its own; every verdict a mark."""
    assert set(DASHES) == set(INKS)
    return {signal: bare("".join(wire([(0, 0), (9, 0)], signal))) for signal in INKS}


def marks_on_wires() -> Mapping[str, str]:
    """Fails, holds, not shown, not asked."""
    return {str(one): bare("".join(mark((0, 0), one))) for one in Verdict}


def _text(one: ET.Element) -> str:
    return ET.tostring(one, "unicode")


def _lines(picture: str) -> str:
    """The lines between units, and what stands on them."""
    root = root_of(picture)
    return bare("".join(_text(one) for one in root.findall(f"{SVG}path")))


PICTURES: Mapping[str, Callable[[], Mapping[str, str]]] = {
    "front of choices": choices,
    "before and after": before_and_after,
    "what to tape, on the page and on paper": what_to_tape,
    "hours of a day": hours_of_a_day,
    "channels of a site": channels_by_pattern,
    "pairs of units on a site": pairs_on_channels,
    "terminal plan, on the page and on paper": terminal_plan,
    "verdicts on the terminal plan": marks_on_wires,
}
"""Every picture of choosing, taping, counting, sharing out and wiring."""


@pytest.mark.parametrize("name", PICTURES)
def test_every_new_picture_is_told_apart_in_grey(name: str) -> None:
    """No two meanings of a picture are alike once their colours are gone."""
    kinds = PICTURES[name]()
    assert len(kinds) > 2
    for one, other in combinations(kinds, 2):
        assert kinds[one] != kinds[other], (one, other)


def test_what_is_told_by_colour_alone_would_be_found() -> None:
    """The check can fail: lines that differ by ink only are alike to it."""
    inks = [PAPER[ink] for ink in INKS.values()]
    assert len({bare(f'<path stroke="{ink}"/>') for ink in inks}) == 1 < len(inks)
