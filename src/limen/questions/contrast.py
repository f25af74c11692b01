"""Bodies that return what the floor did."""

from collections.abc import Iterable, Mapping
from itertools import product

from limen.findings import Finding, Lack, Margin, Message, Remedy, Verdict
from limen.model.fitting import Fitting
from limen.model.sheet import Presence
from limen.physics.light import blind_reflectance, contrast
from limen.quantity import Dimension, Outcome, Quantity
from limen.questions.asking import Asked, graded, lack, once, said_limit, too_weak
from limen.questions.settled import Named

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
    figures = _figures(fitting.id, floor, least, lens)
    faces = {face: asked.rule.limit(face) for face in FACES}
    spans = [
        _contrasts(face, floor, lens, z) for face in faces.values() for z in heights
    ]
    worst = min(low for low, _ in spans) - least.high
    best = min(high for _, high in spans) - least.low
    outcome = _three(worst, best)
    grades = (*asked.limits_graded(*FACES), *(figure.grade for _, figure in figures))
    told = graded(outcome, grades, (*too_weak(figures), *asked.weak_limits(*FACES)))
    closer = _closer(asked, figures, faces) if outcome is Outcome.NOT_SHOWN else ()
    blind = blind_reflectance(floor.value, lens.value, heights[0])
    said = {"percent": f"{blind * 100:.0f} %", "floor": f"{floor.value * 100:.0f} %"}
    return asked.answer(
        told.verdict,
        Message(f"contrast.{told.verdict.key}", said),
        fitting=fitting.id,
        margin=Margin((worst + best) / 2, (best - worst) / 2, Dimension.RATIO),
        remedy=_remedy(fitting.id, said) if told.verdict is Verdict.FAILS else None,
        lacking=(*told.lacking, *closer),
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


def _figures(
    fitting: str, floor: Quantity, least: Quantity, lens: Quantity
) -> tuple[Named, ...]:
    """What of the doorway the contrast rests on, by the keys that settle it."""
    return (
        ("floor.reflectance", floor),
        ("sheet.presence.contrast_least", least),
        (f"fitting[{fitting}].lens.height", lens),
    )


def _three(worst: float, best: float) -> Outcome:
    if worst >= 0:
        return Outcome.HOLDS
    return Outcome.FAILS if best < 0 else Outcome.NOT_SHOWN


def _closer(
    asked: Asked, figures: Iterable[Named], faces: Mapping[str, Quantity]
) -> tuple[Lack, ...]:
    """The figures whose ± leaves it open: of the doorway, and of the rule."""
    here = (Lack(Message("lack.closer"), key) for key, q in figures if q.u > 0)
    named = (name for name, face in faces.items() if face.u > 0)
    return once((*here, *(_closer_face(asked, name) for name in named)))


def _closer_face(asked: Asked, name: str) -> Lack:
    said = {"what": said_limit(name)}
    return lack("lack.closer_limit", asked.figure(name), said)


def _remedy(fitting: str, said: Mapping[str, str]) -> Remedy:
    values = {"fitting": fitting, "percent": said["percent"]}
    return Remedy(Message("remedy.contrast", dict(values)))


def _contrasts(
    face: Quantity, floor: Quantity, lens: Quantity, z: float
) -> tuple[float, float]:
    """Least and greatest contrast over what the figures may be; the least may be 0."""
    ends = list(
        product((face.low, face.high), (floor.low, floor.high), (lens.low, lens.high))
    )
    signed = [body / ground * (h / (h - z)) ** 2 - 1 for body, ground, h in ends]
    sizes = [contrast(body, ground, h, z) for body, ground, h in ends]
    vanishes = min(signed) <= 0 <= max(signed)
    return 0.0 if vanishes else min(sizes), max(sizes)
