"""Bodies that return what the floor did."""

from itertools import product

from limen.findings import Finding, Lack, Margin, Message, Verdict
from limen.model.fitting import Fitting
from limen.model.sheet import Presence
from limen.physics.light import blind_reflectance, contrast
from limen.quantity import Dimension, Outcome, Quantity
from limen.questions.asking import Asked, graded, lack

RESTING = (("body_height", 0.7), ("body_length", 0.3), ("body_depth", 0.2))
"""Heights of the body on its three rest faces, where the rule has no figure (m)."""
FACES = ("body_dark_reflectance", "body_bright_reflectance")


def told_from_the_floor(asked: Asked) -> tuple[Finding, ...]:
    """Can a unit that compares brightness tell the test body from this floor?

    Such a unit is blind to a level surface at height z that returns what the
    floor returned: reflectance = floor ((h - z)/h)^2.  The relative change of
    the return must reach the sheet's least contrast for the dark and for the
    bright face of the body on each of its rest faces.

    Args:
        asked: limits ``body_dark_reflectance``, ``body_bright_reflectance``.

    Returns:
        One finding for each presence unit.  Margin: contrast to spare.

    Source:
        Lambert's law and the inverse square, a spot smaller than the body
        (shared derivation in docs/method/coverage.md).  Left out: a spot partly
        covered, a slanting face, gloss.
    """
    found: list[Finding] = []
    for facts in asked.settled.units:
        sheet = facts.fitting.unit
        if sheet is not None and sheet.presence is not None:
            found.append(_unit(asked, facts.fitting, sheet.presence))
    return tuple(found)


def _unit(asked: Asked, fitting: Fitting, presence: Presence) -> Finding:
    name = fitting.id
    match presence.decides_by:
        case "distance":
            because = Message("contrast.by_distance")
            return asked.answer(Verdict.NOT_ASKED, because, fitting=name)
        case None:
            missing = lack("lack.decides_by", "sheet.presence.decides_by")
            because = Message("contrast.unknown")
            return asked.answer(
                Verdict.NOT_SHOWN, because, fitting=name, lacking=(missing,)
            )
        case "brightness":
            return _brightness(asked, fitting, presence)


def _brightness(asked: Asked, fitting: Fitting, presence: Presence) -> Finding:
    floor, least = asked.doorway.floor.reflectance, presence.contrast_least
    if floor is None or least is None or fitting.lens is None:
        because = Message("contrast.unknown")
        return asked.answer(
            Verdict.NOT_SHOWN,
            because,
            fitting=fitting.id,
            lacking=_lacks(asked, fitting, least),
        )
    lens = fitting.lens.height
    heights = tuple(
        asked.rule.limit(name).value if asked.rule.has(name) else value
        for name, value in RESTING
    )
    worst = min(
        _least_contrast(asked.rule.limit(face), floor, lens, z)
        for face in FACES
        for z in heights
    )
    room = worst - least.high
    outcome = Outcome.HOLDS if room >= 0 else Outcome.FAILS
    figures = (floor.grade, least.grade, fitting.lens.height.grade)
    grades = (*asked.limits_graded(*FACES), *figures)
    told = graded(outcome, grades, f"values: {asked.rule.id}")
    blind = blind_reflectance(floor.value, lens.value, heights[0])
    said = {"percent": f"{blind * 100:.0f} %", "floor": f"{floor.value * 100:.0f} %"}
    return asked.answer(
        told.verdict,
        Message(f"contrast.{told.verdict.key}", said),
        fitting=fitting.id,
        margin=Margin(room, 0.0, Dimension.RATIO),
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )


def _lacks(asked: Asked, fitting: Fitting, least: Quantity | None) -> tuple[Lack, ...]:
    """Everything that the contrast needs and nobody stated."""
    name = fitting.id
    wanted = (
        (
            asked.doorway.floor.reflectance,
            lack("lack.floor_reflectance", "floor.reflectance"),
        ),
        (least, lack("lack.contrast_least", "sheet.presence.contrast_least")),
        (fitting.lens, lack("lack.lens", f"fitting[{name}].lens", {"fitting": name})),
    )
    return tuple(missing for given, missing in wanted if given is None)


def _least_contrast(face: Quantity, floor: Quantity, lens: Quantity, z: float) -> float:
    """The least contrast over what the figures may be; 0 if it can vanish."""
    ends = list(
        product((face.low, face.high), (floor.low, floor.high), (lens.low, lens.high))
    )
    signed = [body / ground * (h / (h - z)) ** 2 - 1 for body, ground, h in ends]
    if min(signed) <= 0 <= max(signed):
        return 0.0
    return min(contrast(body, ground, h, z) for body, ground, h in ends)
