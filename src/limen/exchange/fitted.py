"""What readings show, as the JSON of the contract, schema 1.

Lengths are metres, angles radians; distances *out* are from the leaf face on the
unit's side, distances *along* from the middle of the opening, positive to the right
seen from outside.  The studies stand in it as `limen check --json` writes them.
"""

import json
from dataclasses import asdict
from datetime import date
from importlib.resources import files

from limen.exchange.contract import Json, Say, doorway_contract, heads
from limen.findings import Message, Study
from limen.findings.fitted import (
    DoorwayFitted,
    Doubtful,
    Pose6,
    ReadBack,
    RowFound,
    Turning,
    UnitFitted,
)
from limen.quantity import Show
from limen.words import said_assumed, say


def fitted_contract(
    fitted: DoorwayFitted,
    *,
    site: str,
    taken: date | None = None,
    language: str | None = None,
    system: Show = Show.METRIC,
) -> Json:
    """What readings show, as plain values.

    Args:
        fitted: a doorway as its readings show it.
        site: the site's name.
        taken: the day on which it was read.
        language: of the sentences; the reader's if None.
        system: units inside the sentences; the numbers stay SI.

    Returns:
        What `fitted_schema` describes.
    """

    def sentence(message: Message) -> str:
        return say(message, language=language, system=system)

    def study(one: Study) -> Json:
        return doorway_contract(one, language=language, system=system)

    return {
        **heads([fitted.before], site),
        "taken": taken.isoformat() if taken else None,
        "doorway": fitted.doorway,
        "units": [_unit(one, sentence) for one in fitted.units],
        "turn": [_turning(one, sentence) for one in fitted.turnings],
        "also": [sentence(one) for one in fitted.also],
        "changes": [asdict(one) for one in fitted.changes],
        "before": study(fitted.before),
        "after": study(fitted.after) if fitted.after else None,
    }


def fitted_schema() -> dict[str, object]:
    """The schema that every `fitted_contract` keeps to (JSON Schema, 2020-12)."""
    file = files("limen.exchange").joinpath("fitted.schema.json")
    return json.loads(file.read_text("utf-8"))


def _unit(one: UnitFitted, sentence: Say) -> Json:
    return {
        "fitting": one.fitting,
        "side": one.side,
        "outcome": one.outcome,
        "because": sentence(one.because),
        "pose": _pose(one.pose) if one.pose else None,
        "agreement": one.agreement,
        "rows": [_row(row) for row in one.rows],
        "readings": [_read_back(each) for each in one.readings],
        "lacking": [sentence(each.message) for each in one.lacking],
        "settled_by": [each.key for each in one.lacking],
        "ways": [
            {"said": sentence(way.said), "tilt": way.tilt, "roll": way.roll}
            | {"yaw": way.yaw, "numbers": [list(each) for each in way.numbers]}
            for way in one.ways
        ],
        "assumed": [sentence(said_assumed(each)) for each in one.assumed],
    }


def _pose(pose: Pose6) -> Json:
    figures = (
        ("tilt", pose.tilt),
        ("roll", pose.roll),
        ("yaw", pose.yaw),
        ("along", pose.along),
        ("from_leaf", pose.from_leaf),
        ("height", pose.height),
        ("fan_share", pose.fan_share),
    )
    return {name: _doubtful(figure) for name, figure in figures}


def _doubtful(figure: Doubtful | None) -> Json | None:
    return {"value": figure.value, "u": figure.doubt} if figure else None


def _row(row: RowFound) -> Json:
    return {
        "row": row.row,
        "distance": _doubtful(row.distance),
        "left": _place(row.left),
        "right": _place(row.right),
    }


def _place(place: tuple[float, float]) -> Json:
    return {"along": place[0], "out": place[1]}


def _read_back(one: ReadBack) -> Json:
    return {
        "number": one.number,
        "kind": one.kind,
        "row": one.row,
        "spot": one.spot,
        "along": one.along,
        "out": one.out,
        "within": _place(one.within),
        "off": _place(one.off),
        "struck": one.struck,
        "named": one.named,
    }


def _turning(one: Turning, sentence: Say) -> Json:
    plain = asdict(one)
    return {**plain, "said": sentence(one.said)}
