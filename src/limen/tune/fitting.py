"""Where the units of a doorway really hang, and what to turn.

The tape decides, not the scale: every fitted unit is put where its readings have it,
with what the fit leaves open as what aiming leaves open, and the doorway is studied
anew.  What to turn is read from the remedies of that study.
"""

from collections.abc import Iterator, Sequence
from datetime import date
from math import ceil, floor

from limen.findings import Change, Finding, Message, Remedy, Study, Target, Verdict
from limen.findings.fitted import DoorwayFitted, Turning, UnitFitted, UnitsFitted
from limen.findings.message import length, turn
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.readings import Readings, UnitRead
from limen.model.site import Site
from limen.physics.reach import Placed, row_distance
from limen.questions.settled import Settled, settle
from limen.rules import Rulebook, Weight
from limen.study import study
from limen.tune.fitting_given import given
from limen.tune.fitting_told import told
from limen.tune.fitting_unit import shown_by
from limen.tune.fitting_written import changes_of, hung_as

ASKED = "presence."
TILTED = ("settings.tilt", "read.first_row")
HAIR = 1e-9

Fitted = tuple[UnitFitted, tuple[Change, ...]]


def fit_units(doorway: Doorway, readings: Readings) -> UnitsFitted:
    """What the readings of each unit show, and what of it is written; no study asked.

    Args:
        doorway: as described, sheets hung on its fittings.
        readings: of units that the doorway has and that throw rows.

    Raises:
        KeyError: the doorway has no such fitting.
        ValueError: a unit throws no rows.
    """
    fitted = tuple(_units(doorway, readings))
    return UnitsFitted(
        tuple(unit for unit, _ in fitted),
        tuple(change for _, own in fitted for change in own),
    )


def fit_doorway(
    doorway: Doorway,
    readings: Readings,
    rulebook: Rulebook,
    *,
    on: date | None = None,
    site: Site | None = None,
    version: str = "",
    before: Study | None = None,
) -> DoorwayFitted:
    """Where the units of a doorway really hang, and what to turn.

    Args:
        doorway: as described, sheets hung on its fittings.
        readings: of units that the doorway has and that throw rows.
        rulebook: one edition, with the firm's own figures in place.
        on: the day for which it is asked.
        site: the site, so that doorways it faces are at hand.
        version: of limen, printed with the studies.
        before: the study of the doorway as described, if it is at hand.

    Raises:
        KeyError: the doorway has no such fitting.
        ValueError: a unit throws no rows.
    """

    def asked(door: Doorway) -> Study:
        return study(door, rulebook, on=on, site=site, version=version)

    fitted = fit_units(doorway, readings)
    units, changes = fitted.units, fitted.changes
    if not changes:
        return DoorwayFitted(
            doorway=doorway.id, units=units, before=before or asked(doorway)
        )
    hung = hung_as(doorway, changes)
    after = asked(hung)
    turnings, also = _to_turn(hung, after)
    open_ = [unit.fitting for unit in units if unit.outcome != "fitted"]
    as_planned = (Message("readings.as_planned", {"fitting": one}) for one in open_)
    return DoorwayFitted(
        doorway=doorway.id,
        units=units,
        before=before or asked(doorway),
        after=after,
        changes=changes,
        turnings=turnings,
        also=(*as_planned, *also),
    )


def _units(doorway: Doorway, readings: Readings) -> Iterator[Fitted]:
    settled = settle(doorway)
    by_id = {fitting.id: fitting for fitting in doorway.fitting}
    for read in readings.unit:
        yield _unit(doorway, settled, by_id[read.fitting], read)


def _unit(
    doorway: Doorway, settled: Settled, fitting: Fitting, read: UnitRead
) -> Fitted:
    if fitting.unit is None:
        raise ValueError(f"{fitting.id} has no sheet")
    what = given(doorway, settled, fitting, fitting.unit, read)
    result = shown_by(what)
    unit = told(what, read, result)
    if unit.outcome != "fitted" or result.pinned is None:
        return unit, ()
    return unit, changes_of(what, result.pinned)


# What to turn --------------------------------------------------------------------


def _to_turn(
    doorway: Doorway, after: Study
) -> tuple[tuple[Turning, ...], tuple[Message, ...]]:
    """What to turn, from the remedies of the study, and what else they ask."""
    remedies = [one.remedy for one in _open(after.findings) if one.remedy]
    aimed = next((one for one in remedies if one.targets), None)
    settled = settle(doorway)
    turnings = tuple(_turnings(doorway, settled, aimed)) if aimed else ()
    first = _set_first(aimed) if aimed else ()
    others = (one.message for one in remedies if one is not aimed and one != aimed)
    return turnings, tuple(_unlike([*first, *others]))


def _open(findings: Sequence[Finding]) -> Iterator[Finding]:
    """Findings of presence that do not hold, and that more than advise."""
    for one in findings:
        doubtful = one.verdict in (Verdict.FAILS, Verdict.NOT_SHOWN)
        more = one.weight is not Weight.ADVICE
        if one.question.startswith(ASKED) and doubtful and more:
            yield one


def _unlike(messages: Sequence[Message]) -> list[Message]:
    kept: list[Message] = []
    for one in messages:
        if one not in kept:
            kept.append(one)
    return kept


def _set_first(remedy: Remedy) -> tuple[Message, ...]:
    """What a remedy sets besides the tilt of the rows."""
    return tuple(
        Message(
            f"remedy.{change.setting}",
            {"fitting": change.fitting, "value": change.value},
        )
        for change in remedy.changes
        if change.setting not in TILTED
    )


def _turnings(doorway: Doorway, settled: Settled, remedy: Remedy) -> Iterator[Turning]:
    fittings = {fitting.id: fitting for fitting in doorway.fitting}
    units = {
        facts.fitting.id: facts.choices[0] for facts in settled.units if facts.choices
    }
    for target in remedy.targets:
        unit = units.get(target.fitting)
        if isinstance(unit, Placed):
            face = settled.plan.side(unit.side).face
            yield turning(fittings[target.fitting], unit, face, target)


def turning(fitting: Fitting, unit: Placed, face: float, target: Target) -> Turning:
    """What to turn on one unit, on the floor first, then in its scale's steps.

    The whole number of steps that lands the row nearest to its line.  Where one step
    moves it further than the window is wide, the scale is too coarse to aim by.

    Args:
        fitting: the unit as described.
        unit: the same, settled, where it hangs now.
        face: the leaf face on its side, from the mid-plane (m).
        target: where its first row must land.
    """
    presence = fitting.unit.presence if fitting.unit else None
    stated = presence.tilt.step if presence else None
    step = stated.value if stated else None
    steps, lands = None, None
    if step is not None:
        steps, lands = _in_steps(unit, face, target, step)
    coarse = lands is not None and step is not None and _too_coarse(target, unit, step)
    coarse = coarse or not _within(target, lands)
    said = _said(target, unit, step, steps, lands, coarse=coarse)
    return Turning(
        target.fitting,
        target.row,
        target.was,
        target.best,
        target.least,
        target.most,
        target.turn,
        step,
        steps,
        lands,
        coarse,
        said,
    )


def _within(target: Target, lands: float | None) -> bool:
    """Whether a row that lands there is in its window."""
    return lands is None or target.least - HAIR <= lands <= target.most + HAIR


def _too_coarse(target: Target, unit: Placed, step: float) -> bool:
    """Whether one step moves the row further than its window is wide."""
    return unit.lens[2] * step > target.most - target.least


def _in_steps(
    unit: Placed, face: float, target: Target, step: float
) -> tuple[int, float]:
    """Whole steps, and where the row lands after them."""
    exact = target.turn / step
    landed = [
        (count, row_distance(unit.tilted(unit.attitude.tilt + count * step), 0, face))
        for count in dict.fromkeys((floor(exact), ceil(exact)))
    ]
    return min(landed, key=lambda one: abs(one[1] - target.best))


def _said(
    target: Target,
    unit: Placed,
    step: float | None,
    steps: int | None,
    lands: float | None,
    *,
    coarse: bool,
) -> Message:
    by = target.best - target.was
    way = Message("way.nearer" if by < 0 else "way.further")
    told = Message(
        "remedy.bring_row",
        {
            "fitting": target.fitting,
            "by": length(abs(by)),
            "way": way,
            "best": length(target.best),
            "least": length(target.least),
            "most": length(target.most),
            "turn": turn(abs(target.turn)),
        },
    )
    if step is None or steps is None or lands is None:
        return told
    key = "readings.step" if abs(steps) == 1 else "readings.steps"
    said = {
        "count": abs(steps),
        "step": turn(step),
        "lands": length(lands),
        "moves": length(unit.lens[2] * step),
    }
    then = Message("readings.steps_coarse" if coarse else key, said)
    return Message("remedy.and", {"first": told, "second": then})


def without(readings: Readings, fitting: str, number: int) -> Readings:
    """The readings with one of them struck: kept as read, and left out of the fit.

    Args:
        readings: of a doorway.
        fitting: the unit.
        number: the reading's place among the unit's, from 1.
    """
    units = tuple(
        one
        if one.fitting != fitting
        else one.model_copy(
            update={
                "reading": tuple(
                    each.model_copy(update={"struck": True})
                    if place == number
                    else each
                    for place, each in enumerate(one.reading, 1)
                )
            }
        )
        for one in readings.unit
    )
    return readings.model_copy(update={"unit": units})
