"""Studies made by hand: what outputs get to see, without an engine behind it."""

from collections.abc import Mapping
from datetime import date

from limen.findings import (
    Assumed,
    Change,
    Finding,
    Lack,
    Margin,
    Measure,
    Message,
    Pose,
    Remedy,
    Role,
    Study,
    Target,
    Verdict,
    Witness,
)
from limen.model.doorway import Doorway
from limen.quantity import Dimension, Grade
from limen.rules import Authority, Weight

DOORWAY: Mapping[str, object] = {
    "id": "main",
    "name": "Main entrance",
    "clear_width": "2000 mm",
    "clear_height": "2200 mm",
    "leaves": {"kind": "bi-parting", "thickness": "40 mm"},
    "header": {"outside": "100 mm", "inside": "100 mm"},
    "reveal": {"outside": "100 mm", "inside": "100 mm"},
}

CLAUSE = Authority("en", "2012", "EN 16005:2012", "4.6.2.2", Grade.SEEN, "read")
TO_BE_CONFIRMED = Authority("en", "2012", "EN 16005:2012", "tbc", Grade.MEMORY)

# Sentences that stand in the catalogue whatever else comes and goes.
SAID = Message("study.caution")
OTHER = Message("finding.geometry_only")


def doorway(**changes: object) -> Doorway:
    """A plain doorway."""
    return Doorway.model_validate({**DOORWAY, **changes})


def finding(
    verdict: Verdict = Verdict.HOLDS,
    question: str = "presence.leaf_path",
    weight: Weight = Weight.MUST,
    **more: object,
) -> Finding:
    """A finding; whatever matters to a test is given."""
    fields: dict[str, object] = {"because": SAID, "authority": (CLAUSE,), **more}
    return Finding(question=question, verdict=verdict, weight=weight, **fields)  # pyright: ignore[reportArgumentType]


def study(*findings: Finding, **more: object) -> Study:
    """A study of the plain doorway with these findings."""
    fields: dict[str, object] = {
        "doorway": doorway(),
        "rulebook": "en",
        "edition": "2012",
        "digest": "0" * 64,
        "on": date(2026, 11, 25),
        "version": "0.1.0",
        **more,
    }
    return Study(findings=findings, **fields)  # pyright: ignore[reportArgumentType]


POSE = Pose(Role.WITNESS, 0.54, 0.0, 0.5236, 0.3, 0.2, 0.7, "upright")
REMEDY = Remedy(
    OTHER,
    (Change("in", "settings.tilt", "1.5 deg"),),
    (Target("in", 1, 0.064, 0.058, 0.070, 0.124, -0.026),),
)


def failing(**more: object) -> Finding:
    """A must that fails at a place, with its remedy."""
    fields: dict[str, object] = {
        "case": "upright",
        "fitting": "in",
        "margin": Margin(-0.014, 0.0005, Dimension.LENGTH),
        "needed": SAID,
        "found": OTHER,
        "remedy": REMEDY,
        "witness": Witness("pose", POSE, {"from left post": 0.54}, {"in.tilt": 0.01}),
        "assumed": (assumed(),),
        **more,
    }
    return finding(Verdict.FAILS, **fields)  # pyright: ignore[reportArgumentType]


def not_shown(*keys: str, **more: object) -> Finding:
    """A finding that lacks what these keys would settle."""
    lacking = tuple(Lack(OTHER, key) for key in keys)
    return finding(Verdict.NOT_SHOWN, **{"lacking": lacking, **more})  # pyright: ignore[reportArgumentType]


def assumed() -> Assumed:
    """A value that nobody stated."""
    value = Measure(0.003, Dimension.LENGTH)
    return Assumed("floor.evenness", value, Grade.PRACTICE, OTHER)
