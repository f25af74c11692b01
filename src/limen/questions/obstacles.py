"""Things set down near the door: whether they take away what it was built with."""

from collections.abc import Iterator
from math import isfinite

from limen.findings import (
    Finding,
    Lack,
    Message,
    Polygon,
    Remedy,
    Role,
    Verdict,
)
from limen.findings.message import length
from limen.geometry.boxes import Box
from limen.model.doorway import Hand, Thing
from limen.physics.hidden import enters
from limen.physics.light import spot_radius
from limen.physics.plan import sign
from limen.physics.reach import Placed
from limen.quantity import Outcome
from limen.questions.asking import Asked, Verdictful, graded, lack, too_weak
from limen.questions.room import ROOM, is_shallow, opening_sides, space_at


def obstacles(asked: Asked) -> tuple[Finding, ...]:
    """Does anything set down near the door take away what it was built with?

    Each thing named in the file: whether it stands in the path of an opening
    leaf's trailing edge closer than its clearance, in the leaf path, or in the
    rows of a presence unit, where a thing that moves would open the door or
    hold it open.

    Args:
        asked: limits ``shallow_depth``, ``clearance_shallow``,
            ``clearance_deep`` (m).

    Returns:
        One finding for each thing; one in all where nothing is named.

    Source:
        The distances of `side_screen`, kept in daily use.
    """
    found = tuple(_thing(asked, thing) for thing in asked.doorway.thing)
    if found:
        return found
    return (asked.answer(Verdict.NOT_ASKED, Message("obstacles.none")),)


def _thing(asked: Asked, thing: Thing) -> Finding:
    figures = (Polygon(Role.THING, thing_box(asked, thing).corners()),)
    for key, clear in _troubles(asked, thing, thing_box(asked, thing)):
        said = {"thing": thing.name, "distance": length(clear)}
        return asked.answer(
            Verdict.FAILS,
            Message(f"obstacles.{key}", said),
            case=thing.name,
            remedy=Remedy(Message(f"remedy.obstacles.{key}", said)),
            figures=figures,
        )
    lacks = _thing_lacks(asked, thing)
    if lacks:
        because = Message("obstacles.not_known", {"thing": thing.name})
        return asked.answer(
            Verdict.NOT_SHOWN,
            because,
            case=thing.name,
            lacking=lacks,
            figures=figures,
        )
    told = _thing_graded(asked, thing)
    return asked.answer(
        told.verdict,
        Message("obstacles.clear", {"thing": thing.name}),
        case=thing.name,
        lacking=told.lacking,
        assumed=asked.settled.all_assumed() if thing.moves else (),
        to_confirm=told.to_confirm,
        figures=figures,
    )


def _thing_lacks(asked: Asked, thing: Thing) -> tuple[Lack, ...]:
    """What keeps a thing that seems clear from being shown to be."""
    widest = _widest_box(asked, thing)
    near = next(iter(_troubles(asked, thing, widest)), None)
    where, said = f"thing[{thing.name}].", {"thing": thing.name}
    unsure = ("along", "out", "width", "depth") if near else ()
    lacks = tuple(lack("lack.thing", where + key, said) for key in unsure)
    if not thing.moves:
        return lacks
    unknown = any(
        isinstance(unit, Placed) and unit.divergence is None
        for facts in asked.settled.units
        for unit in facts.choices
    )
    spread = (lack("lack.divergence", "sheet.presence.spot_divergence"),)
    return (*lacks, *asked.settled.all_lacks(), *(spread if unknown else ()))


def _thing_graded(asked: Asked, thing: Thing) -> Verdictful:
    """What may be said of a thing that is clear, by the grades of its figures."""
    where = f"thing[{thing.name}]."
    figures = [
        (where + "along", thing.along),
        (where + "out", thing.out),
        (where + "width", thing.width),
        (where + "depth", thing.depth),
        *asked.settled.figures,
    ]
    if thing.moves:
        figures += [(where + "height", thing.height), *asked.settled.all_figures()]
    grades = (*asked.limits_graded(*ROOM), *(figure.grade for _, figure in figures))
    weak = (*asked.weak_limits(*ROOM), *too_weak(figures))
    return graded(Outcome.HOLDS, grades, weak)


def thing_box(asked: Asked, thing: Thing) -> Box:
    """Where a thing stands, in the doorway's frame."""
    face = asked.settled.plan.side(thing.side).face
    x, y = thing.along.value, sign(thing.side) * (face + thing.out.value)
    half_w, half_d = thing.width.value / 2, thing.depth.value / 2
    return Box(x - half_w, x + half_w, y - half_d, y + half_d)


def _widest_box(asked: Asked, thing: Thing) -> Box:
    """The same as far as its figures, and the door's own, may be off."""
    doubt = asked.settled.ground.doubt
    return thing_box(asked, thing).grown(
        thing.along.u + thing.width.u / 2 + 4 * doubt.along,
        thing.out.u + thing.depth.u / 2 + doubt.across,
    )


def _troubles(asked: Asked, thing: Thing, box: Box) -> Iterator[tuple[str, float]]:
    plan = asked.settled.plan
    near = box.near if thing.side == "outside" else -box.far
    beside = near - plan.side(thing.side).face
    wide = asked.rule.limit("shallow_depth").value
    leaf = plan.half * (2.0 if plan.hand else 1.0)
    if _overlap(box, plan.leaf_path):
        yield "in_path", 0.0
    for side in opening_sides(asked):
        placed = (
            box if side == "right" else box._replace(left=-box.right, right=-box.left)
        )
        if _overlap(
            placed, plan.leaf_path._replace(left=plan.half, right=plan.half + leaf)
        ):
            yield "in_path", 0.0
        start = plan.half + leaf
        behind = placed.right > start and placed.left < start + _asked_behind(
            asked, side
        )
        if behind and beside < wide:
            yield "behind_leaf", max(placed.left - start, 0.0)
    if thing.moves and _in_rows(asked, box, thing.height.high):
        yield "moves_in_rows", 0.0


def _asked_behind(asked: Asked, side: Hand) -> float:
    """The room asked for behind a leaf (m): less where it is known to be shallow."""
    space = space_at(asked, side)
    shallow, _ = is_shallow(asked, space.depth if space else None)
    return asked.rule.limit("clearance_shallow" if shallow else "clearance_deep").value


def _overlap(one: Box, two: Box) -> bool:
    return (
        one.left < two.right
        and two.left < one.right
        and one.near < two.far
        and two.near < one.far
    )


def _in_rows(asked: Asked, box: Box, height: float) -> bool:
    """Whether the light of any row, read in any way, may pass through the box."""
    units = (unit for facts in asked.settled.units for unit in facts.choices)
    return any(
        _through(unit, box, height) for unit in units if isinstance(unit, Placed)
    )


def _through(unit: Placed, box: Box, height: float) -> bool:
    beams = unit.beams()
    slopes = unit.slopes(beams)
    light = spot_radius(slopes, unit.lens[2], unit.divergence or 0.0)
    off = unit.bounds(beams, (0.0, unit.lens[2]))
    room = off.common + off.residual + light[:, None]
    return any(
        isfinite(
            enters(beams.lens, slopes[i : i + 1], box.grown(*room[i].tolist()), height)[
                0
            ]
        )
        for i in range(len(slopes))
    )
