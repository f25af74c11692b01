"""What stands still in the drawing of a walk, and what moves in it as plain data."""

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from limen.desk.spacing import Plain, plain
from limen.draw import Scene, scene
from limen.draw.outline import outline_of
from limen.draw.parts import Part
from limen.draw.scene import Content, Label, Sign
from limen.draw.space import Named, leaves_of, space
from limen.findings import Finding, Message, Polygon, Role, Stroke, Study
from limen.quantity import Show
from limen.words import say

if TYPE_CHECKING:
    from limen.desk.walking import Instant, Walking

Brief = Callable[["Instant"], str | None]
"""An instant in a word or two; None where nothing is said."""

FINE = 4  # digits after the point: tenths of a millimetre, of a millisecond
OVERHEAD = 1.75  # m: no body is drawn taller
MOVING = (Part.LEAF, Part.LATE)


def still_plan(
    study: Study, finding: Finding, walk: "Walking", brief: Brief, system: Show
) -> Scene:
    """The plan of a walk without what moves: no leaves, nobody on the way.

    Args:
        study: the doorway and its units.
        finding: that shows the walk.
        walk: the walk.
        brief: an instant in a word or two.
        system: in which lengths are written.
    """
    drawn = scene(study, "plan", finding=_shown(finding, walk), system=system)
    shapes = [one for one in drawn.content.shapes if one.part not in MOVING]
    name = say(Message("drawing.walk"))  # its instants bear the names
    labels = [one for one in drawn.content.labels if one.text != name]
    for instant in walk.instants:
        said = brief(instant)
        if said is not None:
            at = instant.place[0], -instant.place[1]
            shapes.append(Sign(Part.LENS, at))
            labels.append(Label(said, at, said, "right", 1))
    content = Content(tuple(shapes), drawn.content.spans, tuple(labels))
    return replace(drawn, content=content)


def still_space(
    study: Study, finding: Finding, walk: "Walking", brief: Brief, system: Show
) -> Plain:
    """The same in space; its leaves are drawn by whoever moves them.

    Args and what is returned are as of `still_plan` and `limen.desk.spacing.plain`.
    """
    drawn = space(study, finding=_shown(finding, walk), system=system)
    name = say(Message("drawing.walk"))
    floor = drawn.floor
    floor = replace(floor, labels=tuple(x for x in floor.labels if x.text != name))
    named = [
        Named(said, (*instant.place, _height(instant)), 1)
        for instant in walk.instants
        if (said := brief(instant)) is not None
    ]
    return plain(replace(drawn, floor=floor, named=(*drawn.named, *named)))


def _height(instant: "Instant") -> float:
    """On the floor; over the head of whoever has arrived and stands there."""
    return OVERHEAD if instant.mark == "arrives" else 0.0


def _shown(finding: Finding, walk: "Walking") -> Finding:
    """The finding with this walker's own field, and nobody on the way."""
    played = walk.played
    figures = (
        *(Polygon(Role.FIELD, corners) for corners in played.fields),
        Stroke(Role.WALK, (played.start, played.stop)),
    )
    return replace(finding, figures=figures)


def course(study: Study, walk: "Walking", opens: Callable[[float], str]) -> Plain:
    """What moves, as tables of numbers; between them everything goes straight.

    Args:
        study: the doorway.
        walk: the walk.
        opens: a free width (m) in words.

    Returns:
        Times from the beginning of the walk (s), places in the doorway's frame (m):
        ``ends``, ``arrives``, ``entered``, ``told``, ``enough``; ``start``, ``stop``;
        ``body`` (width, depth); ``late``, what is not free on arrival; ``fields``;
        ``times``, ``left``, ``right``, the ends of what is free, and ``words`` for
        it; ``leaves``.
    """
    one, opened = walk.played, walk.played.opened
    outline = outline_of(study.doorway)
    free = [b - a for a, b in zip(opened.left, opened.right, strict=True)]
    return {
        "ends": _fine(walk.ends),
        "arrives": _fine(one.arrives),
        "entered": _fine(one.entered),
        "told": _fine(one.told),
        "enough": _fine(one.enough),
        "start": [_fine(each) for each in one.start],
        "stop": [_fine(each) for each in one.stop],
        "body": [_fine(each) for each in one.body],
        "late": [[[_fine(x), _fine(y)] for x, y in each] for each in one.missed],
        "fields": [[[_fine(x), _fine(y)] for x, y in each] for each in one.fields],
        "times": [_fine(each) for each in opened.times],
        "left": [_fine(each) for each in opened.left],
        "right": [_fine(each) for each in opened.right],
        "words": [opens(each) for each in free],
        "half": _fine(outline.half),
        "leaves": [
            {
                "box": [_fine(each) for each in leaf.box],
                "high": leaf.high,
                "hand": leaf.hand,
                "share": leaf.share,
            }
            for leaf in leaves_of(outline, len(study.doorway.leaves.planes) or 1)
        ],
    }


def _fine(number: float | None) -> float | None:
    return None if number is None else round(number, FINE)
