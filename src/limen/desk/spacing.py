"""The doorway in space as plain data: what a page draws in three dimensions."""

from typing import TYPE_CHECKING

from limen.draw.parts import Part
from limen.draw.scene import Area, Content, Dots, Line, Shape, Sign
from limen.draw.space import Space, space
from limen.draw.themes import STYLES
from limen.quantity import Show

if TYPE_CHECKING:
    from collections.abc import Iterable

    from limen.findings import Finding, Study

Plain = dict[str, object]
"""Text, numbers, lists and tables of them: what JSON can hold."""

FINE = 5  # digits after the metre's point: hundredths of a millimetre


def in_space(
    study: "Study", finding: "Finding | None", system: Show = Show.METRIC
) -> Plain:
    """A doorway in space, with what a finding shows.

    Args:
        study: its doorway and units; a glimpse does.
        finding: what is drawn of it.
        system: in which lengths are written.

    Returns:
        See `plain`.
    """
    return plain(space(study, finding=finding, system=system))


def plain(drawn: Space) -> Plain:
    """A doorway in space as tables, lists, numbers and words.

    Returns:
        ``title``, ``says``, ``note``; ``frame`` (left, right, inside, outside),
        ``half``, ``high`` (m); ``floor`` and ``solids``, ``wires``, ``posts``,
        ``leaves``, ``named``; and by part its ``styles``: names of inks,
        widths (px), dashes, how dense it is filled, its pattern.
    """
    floor = [_shape(shape) for shape in drawn.floor.shapes]
    solids = [
        {
            "part": one.part,
            "corners": _flat(one.corners),
            "low": one.low,
            "high": one.high,
        }
        for one in drawn.solids
    ]
    wires = [{"part": one.part, "points": _flat(one.points)} for one in drawn.wires]
    posts = [{"part": one.part, "at": _fine(one.at)} for one in drawn.posts]
    leaves = [
        {"box": _fine(one.box), "high": one.high, "hand": one.hand, "share": one.share}
        for one in drawn.leaves
    ]
    parts = {Part(str(one["part"])) for one in (*floor, *solids, *wires, *posts)}
    return {
        "title": drawn.title,
        "says": drawn.description,
        "note": drawn.note,
        "frame": _fine(drawn.frame),
        "half": drawn.half,
        "high": drawn.high,
        "floor": floor,
        "solids": solids,
        "wires": wires,
        "posts": posts,
        "leaves": leaves,
        "named": [*_names(drawn), *_labels(drawn.floor)],
        "styles": {part.value: _style(part) for part in sorted(parts | {Part.LEAF})},
    }


def _shape(shape: Shape) -> Plain:
    match shape:
        case Area():
            return {"part": shape.part, "kind": "area", "at": _flat(shape.corners)}
        case Line():
            return {"part": shape.part, "kind": "line", "at": _flat(shape.points)}
        case Dots():
            return {
                "part": shape.part,
                "kind": "dots",
                "at": _flat(shape.middles),
                "radius": shape.radius,
            }
        case Sign():
            return {"part": shape.part, "kind": "sign", "at": _flat([shape.at])}


def _labels(floor: Content) -> "list[Plain]":
    """The words of the floor; those only for a narrow sheet are not said."""
    return [
        {
            "text": one.text,
            "at": [*_fine(one.at), 0.0],
            "importance": one.importance,
            "quiet": one.quiet,
        }
        for one in floor.labels
        if one.text
    ]


def _names(drawn: Space) -> "list[Plain]":
    return [
        {
            "text": one.text,
            "at": _fine(one.at),
            "importance": one.importance,
            "quiet": one.quiet,
        }
        for one in drawn.named
    ]


def _style(part: Part) -> Plain:
    style = STYLES[part]
    return {
        "stroke": style.stroke,
        "wide": style.wide,
        "dash": list(style.dash),
        "fill": style.fill,
        "veil": style.veil,
        "pattern": style.pattern,
    }


def _flat(points: "Iterable[tuple[float, ...]]") -> "list[list[float]]":
    return [_fine(point) for point in points]


def _fine(numbers: "Iterable[float]") -> "list[float]":
    return [round(number, FINE) for number in numbers]
