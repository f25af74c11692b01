"""The margin map as the doorway page shows it: the layer, its words, one place."""

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from itertools import groupby
from math import floor

from limen.draw import lay_out, scene
from limen.draw.bare import bare
from limen.draw.margin_layer import Band, Layer, Levels, band_of, margin_layer
from limen.draw.turning import seen_from_inside
from limen.findings import Finding, Measure, Message, Study, Verdict
from limen.findings.margin_map import MarginMap, Spot
from limen.quantity import Dimension, Show
from limen.web.doorway_drawn import LEAST_WIDTH, MOST_WIDTH, shows_whole
from limen.web.look import Look
from limen.words import say, say_length
from limen.words.places import said_case

ROOMS = {Show.METRIC: (0.010, 0.020), Show.FEET: (0.375 * 0.0254, 0.75 * 0.0254)}
FINEST = {Show.METRIC: 0.001, Show.FEET: 0.0254 / 16}
HAIR = 1e-9


@dataclass(frozen=True, slots=True)
class Shown:
    """A margin map as a page takes it.

    Attributes:
        svg: the layer over the plan.
        origin, step: of its pieces on the sheet (px).
        columns, rows: of its pieces.
        worst: column and row of the piece with least room; None if nobody can stand.
        heading: what is mapped.
        least: the place with least room, in words.
        stretches: the map in words, along the opening.
        key: band and words of each band that occurs.
        finer: what is said while a finer map is worked out.
    """

    svg: str
    origin: tuple[float, float]
    step: tuple[float, float]
    columns: int
    rows: int
    worst: tuple[int, int] | None
    heading: str
    least: str
    stretches: tuple[str, ...]
    key: tuple[tuple[str, str], ...]
    finer: str


def shown(
    found: MarginMap, study: Study, finding: Finding | None, width: int, look: Look
) -> Shown:
    """Lay a map over the plan and say it.

    Args:
        found: the map.
        study: of the doorway.
        finding: what is drawn in the plan.
        width: of the plan (px).
        look: units and side that the reader wants.
    """
    system = look.system
    levels = _levels(found, system)
    layer = _layer(found, study, finding, width, look, levels)
    return Shown(
        layer.svg,
        layer.origin,
        layer.step,
        found.columns,
        found.rows,
        found.worst,
        _heading(found, system),
        _least(found, system),
        tuple(_stretches(found, levels, system)),
        tuple(_key(found, levels, system)),
        _finer(found, system),
    )


def told(found: Shown) -> dict[str, object]:
    """A map as it is sent."""
    return asdict(found)


def place_said(found: MarginMap, column: int, row: int, system: Show) -> str:
    """One place and what is shown for it, in a sentence.

    Raises:
        IndexError: there is no such piece.
    """
    spot, (x, y) = found.at(column, row), found.middle(column, row)
    said = {
        "along": _along(found, x, system),
        "across": _across(found, y, system),
        "room": _room(spot, system),
    }
    return say(Message("desk_map.place.whole", said))


# Drawn -------------------------------------------------------------------------


def _layer(
    found: MarginMap,
    study: Study,
    finding: Finding | None,
    width: int,
    look: Look,
    levels: Levels,
) -> Layer:
    """The layer, laid out as `limen.web.doorway_drawn.drawing` lays out its ground."""
    drawn = scene(study, "plan", finding=finding, system=look.system)
    drawn = bare(drawn, study, whole=shows_whole(finding))
    if look.turned:
        drawn = seen_from_inside(drawn)
    sheet = lay_out(drawn, float(min(max(width, LEAST_WIDTH), MOST_WIDTH)))
    return margin_layer(found, sheet, levels, turned=look.turned)


def _levels(found: MarginMap, system: Show) -> Levels:
    first, second = ROOMS[system]
    words = (say_length(first, system), say_length(second, system))
    worst = found.worst
    short = _short(found.at(*worst), system) if worst else ""
    return Levels((first, second), words, say(Message("desk_map.contour.limit")), short)


# Said --------------------------------------------------------------------------


def _heading(found: MarginMap, system: Show) -> str:
    question = Message(f"question.{found.question}")
    wide, deep = (say_length(size, system) for size in found.size)
    case = said_case(found.case)
    said = say(Message("desk_map.heading", {"question": question, "case": case}))
    pieces = say(Message("desk_map.pieces", {"wide": wide, "deep": deep}))
    return f"{said}. {pieces}"


def _finer(found: MarginMap, system: Show) -> str:
    coarse = say_length(max(found.size), system)
    return say(Message("desk_map.waits_fine", {"coarse": coarse}))


def _least(found: MarginMap, system: Show) -> str:
    worst = found.worst
    if worst is None:
        return say(Message("desk_map.says.nobody"))
    place = place_said(found, *worst, system)
    return say(Message("desk_map.says.least", {"place": place}))


def _stretches(found: MarginMap, levels: Levels, system: Show) -> Iterator[str]:
    """The worst across each stretch of the opening, stretch by stretch."""
    wide = found.size[0]
    worst = [_worst_across(found, column) for column in range(found.columns)]
    bands = [band_of(spot, levels) for spot in worst]
    at = 0
    for band, group in groupby(bands):
        run = len(list(group))
        if band is not None:
            here = min(worst[at : at + run], key=_standing)
            start = found.zone[0] + at * wide + found.half
            said = {
                "from": _from_left(start, system),
                "to": _from_left(start + run * wide, system),
                "room": _room(here, system),
            }
            yield say(Message("desk_map.says.stretch", said))
        at += run


def _worst_across(found: MarginMap, column: int) -> Spot:
    return min((found.at(column, row) for row in range(found.rows)), key=_standing)


def _standing(spot: Spot) -> tuple[int, float]:
    room = spot.least or 0.0
    order = (Verdict.FAILS, Verdict.NOT_SHOWN, Verdict.HOLDS, Verdict.NOT_ASKED)
    away = -room if spot.verdict is Verdict.FAILS else room
    return order.index(spot.verdict), away


def _key(found: MarginMap, levels: Levels, system: Show) -> Iterator[tuple[str, str]]:
    """What each pattern that occurs means."""
    there = {band_of(spot, levels) for spot in found.spots}
    first, second = (say_length(room, system) for room in levels.rooms)
    for band in Band:
        if band in there:
            key = f"desk_map.key.{band.value.replace('not-shown', 'not_shown')}"
            said = {"first": first, "second": second}
            yield band.value, say(Message(key, said))


def _along(found: MarginMap, x: float, system: Show) -> str:
    if abs(x) < FINEST[system] / 2:
        return say(Message("desk_map.place.middle"))
    hand, room = ("right" if x > 0 else "left"), found.half - abs(x)
    where = "from_post" if room >= 0 else "beyond_post"
    far = say_length(abs(room), system)
    return say(Message(f"desk_map.place.{where}.{hand}", {"far": far}))


def _from_left(far: float, system: Show) -> str:
    """A place along the opening, from the left post (m)."""
    where = "from_post" if far >= 0 else "beyond_post"
    said = {"far": say_length(abs(far), system)}
    return say(Message(f"desk_map.place.{where}.left", said))


def _across(found: MarginMap, y: float, system: Show) -> str:
    inside, outside = found.faces
    if inside <= y <= outside:
        return say(Message("desk_map.place.in_leaf"))
    side, far = ("outside", y - outside) if y > outside else ("inside", inside - y)
    said = {"far": say_length(far, system)}
    return say(Message(f"desk_map.place.from_leaf.{side}", said))


def _room(spot: Spot, system: Show) -> str:
    match spot.verdict:
        case Verdict.NOT_ASKED:
            return say(Message("desk_map.room.not_asked"))
        case Verdict.NOT_SHOWN:
            return say(Message("desk_map.room.not_shown"))
        case Verdict.HOLDS:
            return say(
                Message(f"desk_map.room.{_reached(spot, system)}", _far(spot, system))
            )
        case Verdict.FAILS:
            return _missed(spot, system)


def _missed(spot: Spot, system: Show) -> str:
    key = "missed" if spot.least is None else "missed_by"
    if spot.least is not None and spot.most is not None:
        key = "missed_most"
    said = say(Message(f"desk_map.room.{key}", _far(spot, system)))
    if spot.yaw is None or abs(spot.yaw) < HAIR:
        return said
    turn = Measure(spot.yaw, Dimension.ANGLE)
    return say(Message("desk_map.room.missed_turned", {"room": said, "turn": turn}))


def _short(spot: Spot, system: Show) -> str:
    match spot.verdict:
        case Verdict.HOLDS:
            key = _reached(spot, system)
        case Verdict.FAILS:
            key = "missed" if spot.least is None else "missed_by"
        case Verdict.NOT_SHOWN:
            key = "not_shown"
        case Verdict.NOT_ASKED:
            return ""
    return say(Message(f"desk_map.short.{key}", _far(spot, system)))


def _reached(spot: Spot, system: Show) -> str:
    if spot.least is None:
        return "reached"
    return "reached_by" if _down(spot.least, system) > 0 else "reached_nothing"


def _far(spot: Spot, system: Show) -> dict[str, str]:
    """The figures in words, the nearer end rounded down, the further up."""
    said: dict[str, str] = {}
    if spot.least is not None:
        said["far"] = say_length(_down(spot.least, system), system)
    if spot.most is not None:
        said["most"] = say_length(_up(spot.most, system), system)
    return said


def _down(metres: float, system: Show) -> float:
    finest = FINEST[system]
    return floor(metres / finest + HAIR) * finest


def _up(metres: float, system: Show) -> float:
    return _down(metres + FINEST[system] - HAIR, system)
