"""Small doorways with few ways to set them, and the grid over all of those ways.

The grid knows nothing of the search: every combination is a whole study, and room is
proved by the search for poses alone, each combination for itself.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import degrees, floor

from limen.findings import Change, Finding, Study, Verdict
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.sheet import FanUnknown
from limen.physics.coverage import solve
from limen.quantity import Dimension, parse
from limen.questions.asking import Asked
from limen.questions.coverage import PRECISION
from limen.questions.presence import path_cases, threshold_cases
from limen.questions.settled import settle
from limen.rules import Rule, Rulebook
from limen.rules.rule import Weight
from limen.study import study
from limen.study.applying import apply
from limen.study.running import facts_of
from limen.tune.rows_proved import ROOM_CELLS
from study.failing import a_failing_doorway

PROVED = {"presence.threshold": threshold_cases, "presence.leaf_path": path_cases}
LIGHT, PLACE = "presence.self_view", "mounting.position"
LEAST, STEP = -4.0, 0.5
"""deg: the coarse scale that every unit gets here."""
AMPLE = 10
"""Steps of room beyond which nobody asks: 30 mm."""


@dataclass(frozen=True, slots=True)
class Tried:
    """One combination of the grid: its changes, steps moved, and its study."""

    changes: tuple[Change, ...]
    travel: float
    study: Study


def small(seed: int, steps: int) -> Doorway:
    """A seeded doorway as found, its tilt scales coarse, without radars.

    Args:
        seed: which one.
        steps: of its tilt scales.
    """
    door = a_failing_doorway(seed)
    return door.model_copy(
        update={"fitting": tuple(_small(one, steps) for one in door.fitting)}
    )


def _small(fitting: Fitting, steps: int) -> Fitting:
    unit = fitting.unit
    assert unit is not None
    assert unit.presence is not None
    turn = unit.presence.tilt.model_copy(
        update={
            "least": _angle(LEAST),
            "most": _angle(LEAST + (steps - 1) * STEP),
            "step": _angle(STEP),
        }
    )
    presence = unit.presence.model_copy(update={"tilt": turn, "channels": None})
    plain = fitting.settings.model_copy(
        update={"roll": None, "yaw": None, "rows_on": None}
    )
    return fitting.model_copy(
        update={
            "unit": unit.model_copy(update={"presence": presence, "motion": None}),
            "settings": plain,
            "read": type(fitting.read)(),
        }
    )


def _angle(deg: float):  # noqa: ANN202 - a quantity
    return parse(f"{deg} deg", Dimension.ANGLE)


def presence_only(book: Rulebook) -> Rulebook:
    """The rules of presence and mounting alone: a study of these is quicker."""
    kept = tuple(
        rule
        for rule in book.rules
        if rule.question.startswith(("presence.", "mounting.", "site.obstacles"))
    )
    return replace(book, rules=kept)


def options(fitting: Fitting) -> list[tuple[tuple[Change, ...], float]]:
    """Every tilt of the scale with every fan, and as it is set."""
    presence = fitting.unit.presence if fitting.unit else None
    assert presence is not None
    assert not isinstance(presence.fan, FanUnknown)
    now, fans = fitting.settings.fan, sorted(presence.fan.choices)
    tilt = fitting.settings.tilt
    assert tilt is not None
    scale = presence.tilt
    assert scale.step is not None
    count = round((scale.most.value - scale.least.value) / scale.step.value)
    found: list[tuple[tuple[Change, ...], float]] = []
    for fan in fans:
        wide = (Change(fitting.id, "settings.fan", fan),) if fan != now else ()
        found.append((wide, float(len(wide))))
        for number in range(count + 1):
            value = scale.least.value + number * scale.step.value
            moved = abs(value - tilt.value) / scale.step.value
            if moved > 1e-6:
                text = f"{degrees(value):.6g} deg"
                turned = Change(fitting.id, "settings.tilt", text)
                found.append(((*wide, turned), len(wide) + moved))
    return found


def grid(door: Doorway, book: Rulebook) -> Iterator[Tried]:
    """Every combination, each in a whole study."""
    for picked in product(*(options(one) for one in door.fitting)):
        changes = tuple(change for part, _ in picked for change in part)
        travel = sum(steps for _, steps in picked)
        yield Tried(changes, travel, study(apply(door, changes), book))


def best_of(door: Doorway, book: Rulebook) -> tuple[tuple[object, ...], int]:
    """The key of the best combination of the grid, and how many there are.

    First all of presence holds; then fewest fail or are open; then most room, in
    steps of what a study can tell; then fewest changes; then least travel.
    """
    every = [*grid(door, book)]
    allowed = [one for one in every if _allowed(one)]
    counts = min(_counts(one) for one in allowed)
    same = [one for one in allowed if _counts(one) == counts]
    keys = (
        (*counts, -room(one.study, book), len(one.changes), round(one.travel, 6))
        for one in same
    )
    return min(keys), len(every)


def key_of(
    door: Doorway, book: Rulebook, changes: Sequence[Change]
) -> tuple[object, ...]:
    """The same key of one combination."""
    travel = 0.0
    units = {one.id: one for one in door.fitting}
    for change in changes:
        if change.setting == "settings.tilt":
            unit = units[change.fitting]
            was, to = unit.settings.tilt, parse(change.value, Dimension.ANGLE)
            assert was is not None
            assert unit.unit is not None
            assert unit.unit.presence is not None
            step = unit.unit.presence.tilt.step
            assert step is not None
            travel += abs(to.value - was.value) / step.value
        else:
            travel += 1.0
    found = study(apply(door, changes), book)
    one = Tried(tuple(changes), travel, found)
    assert _allowed(one)
    level = -room(found, book)
    return (*_counts(one), level, len(changes), round(travel, 6))


def _counts(one: Tried) -> tuple[int, ...]:
    asked = [f for f in one.study.findings if f.question in (LIGHT, PLACE)]
    counts = [
        sum(f.weight is weight and f.verdict is verdict for f in asked)
        for weight in (Weight.MUST, Weight.SHOULD)
        for verdict in (Verdict.FAILS, Verdict.NOT_SHOWN)
    ]
    return (0 if _holds(one.study) else 1, *counts)


def _allowed(one: Tried) -> bool:
    """Rows are moved only where presence holds then, and the scale reaches."""
    moved = {c.fitting for c in one.changes if c.setting == "settings.tilt"}
    reached = all(
        f.margin is not None and f.margin.value >= 0
        for f in one.study.findings
        if f.question == PLACE and f.fitting in moved
    )
    return not one.changes or (reached and _holds(one.study))


def _holds(found: Study) -> bool:
    return all(f.verdict is Verdict.HOLDS for f in proofs(found))


def proofs(found: Study) -> list[Finding]:
    """The proofs of presence that must hold."""
    return [
        f
        for f in found.findings
        if f.question in PROVED
        and f.weight is not Weight.ADVICE
        and f.case != "near closed"
    ]


def room(found: Study, book: Rulebook) -> int:
    """Room of proofs and light together, in whole steps; 0 where nothing holds."""
    lights = [
        f.margin.least
        for f in found.findings
        if f.question == LIGHT and f.margin is not None
    ]
    level = min([AMPLE, *(floor(one / PRECISION + 1e-9) for one in lights)])
    level = max(level, 0)
    while level and not _proved(found.doorway, book, level):
        level -= 1
    return level


def _proved(door: Doorway, book: Rulebook, level: int) -> bool:
    settled = settle(door)
    for name, cases_of in PROVED.items():
        rule = book.rule_for(name, facts_of(door))
        if not isinstance(rule, Rule):
            continue
        for case in cases_of(Asked(door, settled, rule)):
            for units in settled.ways():
                counted = case.units(units)
                asked = settled.ground.problem(counted, case.place, case.body)
                proof = solve(asked, grow=-level * PRECISION, max_cells=ROOM_CELLS)
                if proof.verdict != "holds":
                    return False
    return True
