"""Seeded doorways with one or more of the faults that settings can mend, or not."""

from math import atan2, radians
from typing import Any

import numpy as np

SIDES = ("outside", "inside")
Table = dict[str, Any]


def as_found(seed: int) -> Table:
    """A doorway whose rows, fans, channels or distances are as found somewhere.

    Returns:
        What differs there from the reference doorway, by key path.
    """
    rng = np.random.default_rng([seed, 77])
    height = round(float(rng.uniform(2.0, 3.0)), 3)
    width = round(float(rng.uniform(1.0, 2.4)), 2)
    changes: Table = {
        "clear_width": f"{width:.2f} m",
        "clear_height": f"{height - 0.1:.3f} m",
        "header.underside": f"{height - 0.1:.3f} m",
        "leaves.sway": f"{rng.integers(0, 5)} mm",
        "sheet.presence.tilt.step": f"{rng.choice([0.25, 0.5, 0.75, 1.0]):.2f} deg",
        "sheet.presence.spots_needed": int(rng.integers(1, 3)),
        "sheet.presence.rows": _rows(rng),
        "sheet.presence.fan": _fan(rng, height, width),
        **_rooms(rng),
    }
    far = rng.permutation([True, bool(rng.integers(2))])
    for side, out in zip(SIDES, far, strict=True):
        changes |= _unit(rng, f"fitting[{side}].", height, far_out=bool(out))
    if rng.random() < 0.3:
        changes["fitting[inside].settings.channel"] = 1
    return changes


def _rows(rng: np.random.Generator) -> tuple[Table, ...]:
    spots = int(rng.integers(20, 41))
    angles = (0.0, 4.0) if rng.random() < 0.7 else (0.0, 2.5, 9.0)
    return tuple(
        {"angle": f"{angle} deg", "spots": spots, "pauses_while_moving": False}
        for angle in angles
    )


def _fan(rng: np.random.Generator, height: float, width: float) -> Table:
    wide = width + rng.uniform(0.0, 0.6)
    fan: Table = {
        "form": "width",
        "at_height": f"{height:.3f} m",
        "choices": {"wide": f"{wide:.3f} m", "narrow": f"{0.6 * width:.3f} m"},
        "measured_to": "spot centres",
    }
    return fan | ({"spacing": "equal on floor"} if rng.random() < 0.7 else {})


def _rooms(rng: np.random.Generator) -> Table:
    if rng.random() < 0.5:
        return {}
    return {
        "side_space[left].clearance": f"{rng.integers(100, 700)} mm",
        "side_space[right].gap": f"{rng.integers(2, 30)} mm",
        "side_space[left].to_post": f"{rng.integers(10, 40)} mm",
        "side_space[right].depth": f"{rng.integers(60, 200)} mm",
    }


def _unit(rng: np.random.Generator, at: str, height: float, *, far_out: bool) -> Table:
    lens = rng.uniform(0.12, 0.18)
    row = rng.uniform(0.11, 0.26) if far_out else rng.uniform(0.06, 0.09)
    tilt = atan2(row - 0.02 - lens, height)
    changes: Table = {
        at + "lens.height": f"{height:.3f} m",
        at + "lens.from_leaf": f"{lens:.3f} m",
        at + "settings.tilt": f"{tilt:.5f} rad",
        at + "settings.fan": str(rng.choice(["wide", "wide", "narrow"])),
        at + "aim.across": f"{rng.integers(2, 5)} mm",
    }
    if rng.random() < 0.2:
        changes[at + "settings.rows_on"] = (2,)
    if rng.random() < 0.2:
        changes[at + "settings.roll"] = f"{radians(rng.uniform(-6, 6)):.4f} rad"
    if rng.random() < 0.2:
        changes[at + "settings.yaw"] = f"{radians(rng.uniform(-5, 5)):.4f} rad"
    if rng.random() < 0.25:
        changes[at + "read.first_row"] = f"{(row - 0.02) * 1000:.0f} mm"
    return changes
