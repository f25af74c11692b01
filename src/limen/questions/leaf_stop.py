"""Whether a closing leaf stands before it strikes someone who steps in."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from limen.findings import Finding, Lack, Message, Verdict, Witness
from limen.findings.message import length
from limen.model.people import Side
from limen.physics.leaf import reversal_of
from limen.physics.leaf_speed import Span, closing_speeds, speed_contradicted
from limen.physics.leaf_strike import energy_of, mass_of, run_on, strikes_at
from limen.physics.plan import sign
from limen.physics.reach import Placed
from limen.quantity import Dimension, Grade, Outcome, Quantity, at_most
from limen.questions.asking import Asked, compared, graded, lack, margin_of
from limen.questions.leaf_energy import slower
from limen.questions.leaf_lacks import (
    Figures,
    Said,
    closer_speed,
    closing_figures,
    joules,
    lacking,
    mass_figures,
    metres_a_second,
    unset,
    weak,
)
from limen.questions.presence import pausing
from limen.questions.settled import UnitFacts
from limen.questions.wiring_ends import left_alone

STEP = {"step_speed": Dimension.SPEED, "contact_energy": Dimension.ENERGY}


@dataclass(frozen=True, slots=True)
class Watch:
    """How early presence notices somebody who steps in from one side.

    Attributes:
        lead: least way from being noticed to the leaf's path (m).
        response: of the unit (s).
        figures: what both rest on, by key.
    """

    lead: float
    response: Quantity
    figures: Figures


@dataclass(frozen=True, slots=True)
class Stopping:
    """What a closing leaf does after presence has noticed somebody.

    Attributes:
        speed: when it strikes (m/s): best and worst case of all figures.
        way: how far it runs on (m), at the most.
        rests_on: the figures behind it, by key.
        grades: of all of them.
    """

    speed: Span
    way: float
    rests_on: Figures
    grades: tuple[Grade, ...]


def stops_in_time(asked: Asked) -> tuple[Finding, ...]:
    """Does the leaf stand before it strikes somebody who steps in while it closes?

    The worst moment: right in front of the leading edge at its top speed v.  Rows
    that look r out from the leaf's face notice a body r/u before it is in the path,
    u the speed of the step.  The leaf runs on for the unit's response and the
    operator's t, then brakes at b; it strikes with v - b·max(0, r/u - t) and
    runs on v·t + v²/(2b) in all.  It *holds* if nothing is left of that speed, or of
    the energy no more than the rule allows.

    Args:
        asked: limits ``step_speed`` (m/s) and ``contact_energy`` (J), the latter
            where the rulebook has one.

    Returns:
        One finding for each side from which somebody may step in.  Margin in J.

    Source:
        Kinematics, an engineering check.  Left out: approach zones, which open the
        door before; rows that pause or may pause while the leaf moves; a body too
        small for the outermost row; that a leaf near closed may creep.
    """
    return tuple(_from(asked, side) for side in ("outside", "inside"))


def _from(asked: Asked, side: Side) -> Finding:
    unknown = Message("stops_in_time.unknown", {"side": Message(f"side.{side}")})
    watches, lacks = _watches(asked, side)
    if lacks or not watches:
        return asked.answer(Verdict.NOT_SHOWN, unknown, case=side, lacking=lacks)
    stopping = _best(asked, watches)
    if isinstance(stopping, tuple):
        return asked.answer(Verdict.NOT_SHOWN, unknown, case=side, lacking=stopping)
    if stopping.speed.high <= 0.0:
        return _stands(asked, side, stopping)
    return _strikes(asked, side, stopping)


def _stands(asked: Asked, side: Side, stopping: Stopping) -> Finding:
    """Nothing is left of its speed when it would strike."""
    grades = (*asked.limits_graded("step_speed"), *stopping.grades)
    told = graded(Outcome.HOLDS, grades, weak(asked, stopping.rests_on, "step_speed"))
    return asked.answer(
        told.verdict,
        Message("stops_in_time.stands", _said(asked, side, stopping)),
        case=side,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )


def _strikes(asked: Asked, side: Side, stopping: Stopping) -> Finding:
    said = _said(asked, side, stopping)
    mass = mass_of(asked.doorway)
    if not isinstance(mass, Span) or not asked.rule.has("contact_energy"):
        lacks = lacking(mass) if isinstance(mass, tuple) else ()
        return asked.answer(
            Verdict.NOT_SHOWN,
            Message("stops_in_time.strikes", said),
            case=side,
            lacking=(*lacks, *unset(asked, "contact_energy")),
        )
    struck = energy_of(mass, stopping.speed)
    grades = (*struck.grades, *stopping.grades, *asked.limits_graded("step_speed"))
    found = Span(struck.low, struck.high, grades).bounded
    limit = asked.rule.limit("contact_energy")
    comparison = at_most(found, limit)
    rests_on = (*stopping.rests_on, *mass_figures(asked.doorway))
    feeble = weak(asked, rests_on, *STEP)
    told = compared(comparison, feeble if comparison.capped else _closer(asked))
    fails = told.verdict is Verdict.FAILS
    energies: Said = {"energy": joules(found.high), "limit": joules(limit.value)}
    return asked.answer(
        told.verdict,
        Message(f"stops_in_time.{told.verdict.key}", {**said, **energies}),
        case=side,
        margin=margin_of(comparison, Dimension.ENERGY),
        remedy=slower(asked.doorway, limit.low) if fails else None,
        witness=_witness(stopping) if fails else None,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )


def _closer(asked: Asked) -> str | tuple[Lack, ...]:
    doorway = asked.doorway
    if doorway.motion.closing_speed is None or speed_contradicted(doorway):
        return closer_speed(doorway)
    return "leaves.mass"


def _witness(stopping: Stopping) -> Witness:
    return Witness("state", printed={"runs on": stopping.way})


def _said(asked: Asked, side: Side, stopping: Stopping) -> Said:
    return {
        "side": Message(f"side.{side}"),
        "step": metres_a_second(asked.rule.limit("step_speed").value),
        "speed": metres_a_second(stopping.speed.high),
        "way": length(stopping.way),
    }


def _watches(asked: Asked, side: Side) -> tuple[tuple[Watch, ...], tuple[Lack, ...]]:
    """The units that notice somebody from this side, or what is missing of them.

    A unit of the other side notices him once he is in the path.
    """
    known = list(_known(asked, side))
    if not known:
        return (), asked.settled.all_lacks() or (lack("lack.presence_unit", "fitting"),)
    watches = [
        _watch(asked, facts, side, (key, response))
        for facts, key, response in known
        if response is not None
    ]
    if watches:
        return tuple(watches), ()
    facts, key, _ = known[0]
    return (), (lack("lack.response", key, {"fitting": facts.fitting.id}),)


def _known(
    asked: Asked, side: Side
) -> Iterator[tuple[UnitFacts, str, Quantity | None]]:
    """Units that are wired and whose beams are known; those of this side first."""
    known = [
        facts
        for facts in asked.settled.units
        if facts.choices and not left_alone(facts.fitting, "presence")
    ]
    for facts in sorted(known, key=lambda one: one.fitting.side != side):
        sheet = facts.fitting.unit
        if sheet and sheet.presence:
            yield facts, "sheet.presence.response", sheet.presence.response
        elif sheet and sheet.barrier:
            yield facts, "sheet.barrier.response", sheet.barrier.response


def _watch(
    asked: Asked, facts: UnitFacts, side: Side, response: tuple[str, Quantity]
) -> Watch:
    """How early one unit notices somebody; one of the other side in the path only."""
    if facts.fitting.side != side:
        return Watch(0.0, response[1], (response,))
    figures = (response, *asked.settled.figures, *facts.figures)
    return Watch(_lead(asked, facts, side), response[1], figures)


def _lead(asked: Asked, facts: UnitFacts, side: Side) -> float:
    """Least way from the outermost row that never pauses to the leaf's face (m)."""
    paused = dict(pausing(asked, unknown=True)).get(facts.fitting.id, ())
    face = asked.settled.plan.side(side).swayed
    return min(_reach(unit, paused, face) for unit in facts.choices)


def _reach(unit: object, paused: tuple[int, ...], face: float) -> float:
    """How far out from the leaf a body is noticed where its lowest part counts (m)."""
    if not isinstance(unit, Placed) or unit.low is None:
        return 0.0
    rows = [row for row in unit.rows_on if row not in paused]
    beams, outward = unit.beams(), sign(unit.side)
    slopes, height = unit.slopes(beams), unit.lens[2] - unit.low
    out = outward * unit.lens[1]
    reaches = [
        out + height * float((outward * slopes[beams.row == row, 1]).min())
        for row in rows
    ]
    return max(0.0, *(reach - face - unit.errors.floor_y for reach in reaches), 0.0)


def _best(asked: Asked, watches: tuple[Watch, ...]) -> Stopping | tuple[Lack, ...]:
    """What the leaf does after the unit that serves best, or what is missing."""
    doorway = asked.doorway
    speeds, reversal = closing_speeds(doorway), reversal_of(doorway)
    braking = doorway.motion.braking
    named = {"motion.reversal_delay": reversal, "motion.braking": braking}
    missing = [key for key, given in named.items() if given is None]
    missing += speeds if isinstance(speeds, tuple) else ()
    if missing or isinstance(speeds, tuple) or reversal is None or braking is None:
        return lacking(missing)
    if braking.low <= 0.0:
        return lacking(["motion.braking"])
    step = asked.rule.limit("step_speed")
    each = [_after(w, speeds, reversal, braking, step) for w in watches]
    figures = (
        ("motion.reversal_delay", reversal),
        ("motion.braking", braking),
        *closing_figures(doorway),
    )
    best = min(each, key=lambda one: one.speed.high)
    return replace(best, rests_on=(*figures, *best.rests_on))


def _after(
    watch: Watch, speeds: Span, reversal: Quantity, braking: Quantity, step: Quantity
) -> Stopping:
    """What the leaf does after one unit, by the bounds of all figures."""
    grades = (
        *(figure.grade for _, figure in watch.figures if figure is not None),
        *speeds.grades,
        *(q.grade for q in (reversal, braking, step)),
    )
    late = watch.response.high + reversal.high
    worst = strikes_at(speeds.high, late, braking.low, watch.lead / step.high)
    early = watch.response.low + reversal.low
    best = strikes_at(speeds.low, early, braking.high, watch.lead / step.low)
    way = run_on(speeds.high, late, braking.low)
    return Stopping(Span(best, worst, grades), way, watch.figures, grades)
