"""Studies of made-up doorways: what a drawing gets to see, rows and all."""

from dataclasses import dataclass, replace
from math import atan, radians, tan
from xml.etree.ElementTree import Element, fromstring

from builders.studies import OTHER, doorway, finding, study
from limen.findings import (
    BeamLine,
    Finding,
    Polygon,
    Pose,
    Remedy,
    Role,
    RowOnFloor,
    Spots,
    Stroke,
    Study,
    Target,
    UnitDrawn,
    Verdict,
    Witness,
)
from limen.model.fitting import Fitting
from limen.model.sheet import Sheet

HALF_LEAF = 0.02


@dataclass(frozen=True)
class Laid:
    """One unit as a sample has it: where its rows land, from the leaf face."""

    side: str
    rows: tuple[float, ...]
    along: float = 0.0
    high: float = 2.25
    out: float = 0.16
    wide: float = 1.9
    spots: int = 24


def unit(laid: Laid, name: str | None = None) -> UnitDrawn:
    """Rows parallel to the leaf; the inside turned by half a turn."""
    out = 1.0 if laid.side == "outside" else -1.0
    lens = (laid.along, out * (HALF_LEAF + laid.out), laid.high)
    rows = tuple(_row(laid, out, n, far) for n, far in enumerate(laid.rows, 1))
    beams = tuple(
        BeamLine(row.row, lens, (*row.spots.middles[index], 0.0))
        for row in rows
        for index in ((0, laid.spots // 2, -1) if row.row == 1 else (laid.spots // 2,))
    )
    return UnitDrawn(name or laid.side[:-4], laid.side, lens, rows, beams)


def _row(laid: Laid, out: float, number: int, far: float) -> RowOnFloor:
    step = laid.wide / (laid.spots - 1)
    xs = [laid.along - laid.wide / 2 + n * step for n in range(laid.spots)]
    y = out * (HALF_LEAF + far)
    middles = tuple((x, y) for x in (xs if out > 0 else xs[::-1]))
    radius = laid.high * tan(radians(0.35))
    return RowOnFloor(number, Spots(Role.LIGHT, middles, radius), far)


AS_FOUND = (
    unit(Laid("outside", (0.085, 0.24))),
    unit(Laid("inside", (0.125, 0.28))),
)


def body_at(x: float, y: float, degrees: float, face: str = "upright") -> Pose:
    """The reference body, resting on one of its faces."""
    sizes = {
        "upright": (0.3, 0.2, 0.7),
        "on its face": (0.7, 0.3, 0.2),
        "on its edge": (0.7, 0.2, 0.3),
    }
    return Pose(Role.WITNESS, x, y, radians(degrees), *sizes[face], face)


def witness_of(
    pose: Pose, half: float = 1.0, kind: str = "pose", gap: float | None = None
) -> Witness:
    """A witness with the distances printed for it."""
    printed = {
        "centre_from_left_post": half + pose.x,
        "centre_from_right_post": half - pose.x,
        "centre_from_leaf_middle": pose.y,
        "turned": pose.yaw,
    }
    return Witness(kind, pose, printed, {}, gap)  # pyright: ignore[reportArgumentType]


def target_inside(was: float = 0.125) -> Remedy:
    """Bring the inside unit's first row nearer."""
    turn = atan((was - 0.064) / 2.2)
    return Remedy(OTHER, (), (Target("in", 1, 0.064, 0.058, 0.070, was, -turn),))


def no_beam(pose: Pose | None = None, **more: object) -> Finding:
    """A body that is reached by no beam, and what to do."""
    pose = pose or body_at(0.46, -0.012, 8.0)
    fields: dict[str, object] = {
        "verdict": Verdict.FAILS,
        "fitting": "in",
        "witness": witness_of(pose),
        "remedy": target_inside(),
        **more,
    }
    return finding(**fields)  # pyright: ignore[reportArgumentType]


def late() -> Finding:
    """A walk on which the door is late, with the radar's field."""
    arc = [(-0.2, 0.2), (-1.1, 0.9), (-1.35, 1.7), (-1.1, 2.5), (-0.5, 2.95)]
    ring = (*arc, *((-x, y) for x, y in reversed(arc)))
    return finding(
        Verdict.FAILS,
        "approach.opens_in_time",
        witness=Witness("walk"),
        figures=(
            Polygon(Role.FIELD, ring),
            Stroke(Role.WALK, ((2.1, 2.6), (0.3, 0.1))),
            Stroke(Role.LATE, ((0.42, 0.12), (0.6, 0.12))),
        ),
    )


def passing() -> Finding:
    """People who only pass, through the approach zone."""
    ring = ((-0.2, 0.2), (-1.2, 1.2), (-1.0, 2.4), (1.0, 2.4), (1.2, 1.2), (0.2, 0.2))
    return finding(
        Verdict.FAILS,
        "approach.passers_by",
        figures=(
            Polygon(Role.ZONE, ring),
            Stroke(Role.WITNESS, ((-2.4, 1.6), (2.4, 1.6))),
        ),
    )


def neighbours() -> Finding:
    """The row of another doorway's unit across a vestibule."""
    middles = tuple((-0.9 + 0.09 * n, 0.42) for n in range(21))
    return finding(
        Verdict.NOT_SHOWN,
        "presence.neighbours",
        figures=(Spots(Role.NEIGHBOUR, middles, 0.012),),
    )


def sample(
    *findings: Finding, units: tuple[UnitDrawn, ...] = AS_FOUND, **changes: object
) -> Study:
    """A doorway of 2 m with an outside and an inside unit."""
    return study(*findings, doorway=doorway(**changes), units=units)


def single() -> Study:
    """A single leaf that opens to the left, a stand behind it."""
    units = (
        unit(Laid("outside", (0.07, 0.22), along=0.1, wide=0.9, spots=14)),
        unit(Laid("inside", (0.075, 0.20), along=-0.1, wide=0.9, spots=14)),
    )
    return sample(
        units=units,
        clear_width="1000 mm",
        leaves={"kind": "single", "hand": "left", "thickness": "40 mm"},
        side_space=(
            {
                "side": "left",
                "gap": "30 mm",
                "clearance": "140 mm",
                "depth": "260 mm",
                "behind": "leaflet stand",
            },
        ),
        thing=(
            {
                "name": "plant",
                "side": "inside",
                "along": "900 mm",
                "out": "450 mm",
                "width": "350 mm",
                "depth": "350 mm",
                "height": "1200 mm",
            },
        ),
    )


def things() -> tuple[dict[str, str], ...]:
    """A plant inside and a stand outside."""
    size = {"width": "350 mm", "depth": "300 mm", "height": "1200 mm"}
    return (
        {"name": "plant", "side": "inside", "along": "900 mm", "out": "450 mm", **size},
        {"name": "stand", "side": "outside", "along": "-1 m", "out": "600 mm", **size},
    )


def with_sheet(lowest: str) -> Study:
    """The doorway with sheets that tell a lowest detectable height."""
    sheet = {
        "name": "made up",
        "presence": {
            "rows": ({"angle": "0 deg", "spots": 24},),
            "fan": {"form": "unknown"},
            "tilt": {"least": "-5 deg", "most": "5 deg"},
            "lowest_height": lowest,
        },
    }
    unit_sheet = Sheet.model_validate(sheet)
    fitting = tuple(
        Fitting.model_validate(
            {"id": side[:-4], "sheet": "made-up", "side": side, "unit": unit_sheet}
        )
        for side in ("outside", "inside")
    )
    plain = sample()
    door = plain.doorway.model_copy(update={"fitting": fitting})
    return replace(plain, doorway=door)


def parsed(text: str) -> Element:
    """A drawing of our own as XML."""
    return fromstring(text)  # noqa: S314
