"""A placed unit and a plain plan, made by hand."""

from math import radians

import numpy as np

from limen.geometry.boxes import Box
from limen.physics.beams import Attitude
from limen.physics.fans import FanReading
from limen.physics.plan import Plan, SidePlan
from limen.physics.reach import Placed
from limen.physics.tolerance import Errors

LEVEL = Attitude(0.0, 0.0, 0.0, turned=False)


def a_plan(
    half: float = 1.0, *, face: float = 0.02, sway: float = 0.0, header: float = 0.12
) -> Plan:
    side = SidePlan(face, face + sway, header)
    return Plan(
        half,
        side,
        side,
        2.1,
        Box(-half, half, -face - sway, face + sway),
        (Box(-half - 3, -half, -face, face), Box(half, half + 3, -face, face)),
        None,
    )


def a_unit(**changes: object) -> Placed:
    """One row of 21 spots, 2 m wide on the floor under a lens at 2.2 m."""
    fan = np.arctan(np.linspace(-1.0, 1.0, 21) / 2.2)
    fields: dict[str, object] = {
        "fitting": "out",
        "side": "outside",
        "lens": (0.0, 0.14, 2.2),
        "attitude": Attitude(radians(-1.5), 0.0, 0.0, turned=False),
        "row_angles": (0.0,),
        "fan": FanReading("spot centres", "equal on floor", (fan,)),
        "rows_on": (0,),
        "needed": 1,
        "low": 0.0,
        "errors": Errors(),
        "divergence": None,
        **changes,
    }
    return Placed(**fields)  # pyright: ignore[reportArgumentType]
