"""Doorways that hold as planned, and their scenes."""

from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from itertools import count, islice
from math import atan2

import numpy as np

from builders.doorways import a_doorway
from limen import load_site
from limen.model.doorway import Doorway
from limen.physics.coverage.pose import Pose
from limen.physics.reach import Body, Unit
from limen.prove.casting import thrown
from limen.prove.guessing import Scene, scene_of
from limen.prove.holes import Prover, Throws
from limen.questions.asking import Asked
from limen.store.bookshelf import open_shelf
from limen.study.running import asked_of

DEMO = ("main", "vestibule", "staff", "escape")
Question = Mapping[str, Asked]


@cache
def asked(door: str, file: str = "corrected") -> Question:
    """What is put to a doorway of the demo."""
    found = load_site(str(files("limen").joinpath("demo", f"alder-quay-{file}.toml")))
    return put(found.door(door))


def put(doorway: Doorway) -> Question:
    """What the European rulebook of 2012 puts to a doorway."""
    return asked_of(doorway, open_shelf().edition("en", "2012"))


@cache
def planned(many: int) -> tuple[Question, ...]:
    """Doorways that hold as planned, in every reading: those of the demo first."""
    return tuple(islice(_planned(), many))


def _planned() -> Iterator[Question]:
    yield from (asked(door) for door in DEMO)
    for seed in count():
        question = put(a_doorway_aimed_well(seed))
        if holds_as_planned(scene_of(question)):
            yield question


def a_doorway_aimed_well(seed: int) -> Doorway:
    """A doorway with two units whose first rows land close to the leaves."""
    rng = np.random.default_rng([seed, 79])
    height, width = round(rng.uniform(2.0, 2.6), 3), round(rng.uniform(0.9, 1.8), 2)
    spots = int(rng.integers(14, 33))
    angles = (0.0, 4.0) if rng.random() < 0.5 else (0.0, 3.0, 12.0)
    fan = width + rng.uniform(0.1, 0.5)
    changes: dict[str, object] = {
        "clear_width": f"{width:.2f} m",
        "clear_height": f"{height - 0.1:.3f} m",
        "header.underside": f"{height - 0.1:.3f} m",
        "sheet.presence.tilt.step": "0.5 deg",
        "sheet.presence.spots_needed": int(rng.integers(1, 3)),
        "sheet.presence.rows": [
            {"angle": f"{a} deg", "spots": spots, "pauses_while_moving": False}
            for a in angles
        ],
        "sheet.presence.fan": {
            "form": "width",
            "at_height": f"{height:.3f} m",
            "choices": {"wide": f"{fan:.3f} m", "narrow": f"{0.7 * fan:.3f} m"},
            "measured_to": "spot centres",
            "spacing": "equal on floor",
        },
    }
    for side in ("outside", "inside"):
        lens, row = rng.uniform(0.12, 0.18), rng.uniform(0.07, 0.11)
        tilt = atan2(row - 0.02 - lens, height)
        changes |= {
            f"fitting[{side}].lens.height": f"{height:.3f} m",
            f"fitting[{side}].lens.from_leaf": f"{lens:.3f} m",
            f"fitting[{side}].settings.tilt": f"{tilt:.5f} rad",
            f"fitting[{side}].aim.across": f"{rng.integers(3, 12)} mm",
        }
    return a_doorway(changes)


def holds_as_planned(scene: Scene) -> bool:
    """Whether a body is missed nowhere in any reading of the manuals."""
    return scene.known and all(
        prover_of(scene).anywhere(cast(scene, units)) is None for units in scene.ways
    )


def prover_of(scene: Scene) -> Prover:
    """Who proves where a body is missed."""
    return Prover(scene.ground, scene.cases, [unit.fitting for unit in scene.units])


def cast(scene: Scene, units: tuple[Unit, ...]) -> Throws:
    """What units cast for each of the doorway's bodies."""
    bodies = dict.fromkeys(case.body for case in scene.cases)
    return tuple(
        {body: thrown(unit, scene.ground, body) for body in bodies} for unit in units
    )


def four(scene: Scene) -> tuple[tuple[Body, Pose], ...]:
    """The boxes that are never left out: upright left, middle, right; lying, middle."""
    bodies = {case.body.face: case.body for case in scene.cases}
    upright, lying = bodies["upright"], bodies["on its face"]
    out = scene.ground.plan.half - upright.width / 2
    line = tuple((upright, (x, 0.0, 0.0)) for x in (-out, 0.0, out))
    return (*line, (lying, (0.0, 0.0, 0.0)))
