"""The field of one side of a doorway, as a rule asks about it."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from limen.findings import (
    Assumed,
    Figure,
    Finding,
    Lack,
    Message,
    Polygon,
    Role,
    Verdict,
)
from limen.findings.verdict import verdict_of
from limen.model.fitting import Fitting
from limen.model.people import Side
from limen.physics.radar_zone import Zone, ahead, outline
from limen.quantity import Comparison, Grade, Quantity, least
from limen.questions.approach_field import FieldFacts, fields_of, passed_by, zones
from limen.questions.approach_lobes import shape_stated, walk_of
from limen.questions.approach_reach import RUNS
from limen.questions.asking import Asked, lack, once

SIDES: tuple[Side, ...] = ("outside", "inside")
GROWN = 1.75  # m: how tall somebody is who may be found, where no body is named
UNBOUNDED = 50.0  # m: no field reaches so far, and one that is not known may


@dataclass(frozen=True, slots=True)
class SideField:
    """The radars of one side.

    Attributes:
        side: outside or inside.
        facts: the radars, settled.
        inner: their field as it surely is, for each corner of what is left open.
        near: the same for who stands close to the leaf: it is the body's middle that
            a radar above it sees, not the floor.
        outer: their field as it may be.
    """

    side: Side
    facts: tuple[FieldFacts, ...]
    inner: tuple[Zone, ...]
    near: tuple[Zone, ...]
    outer: tuple[Zone, ...]

    @property
    def lacks(self) -> tuple[Lack, ...]:
        """What keeps a radar out of the field."""
        return tuple(one for facts in self.facts for one in facts.lacks)

    @property
    def known(self) -> tuple[FieldFacts, ...]:
        """The radars whose field is known."""
        return tuple(facts for facts in self.facts if facts.inners)

    @property
    def grade(self) -> Grade:
        """The weakest grade of what the field rests on."""
        return least(*(grade for facts in self.known for grade in facts.grades))

    @property
    def weak(self) -> tuple[Lack, ...]:
        """What settles the figures whose grade lets nothing hold."""
        return once(one for facts in self.known for one in facts.weak)

    @property
    def closer(self) -> tuple[Lack, ...]:
        """What makes the field known more closely: walks first, then its shape."""
        fittings = [facts.fitting for facts in self.known]
        unwalked = [one for one in fittings if len(one.read.lit_ahead) < RUNS]
        if unwalked:
            return tuple(walk_of(one) for one in unwalked)
        if not all(shape_stated(one) for one in fittings):
            return (lack("approach.lack.lobe", "sheet.motion.lobe"),)
        return ()

    @property
    def tried(self) -> tuple[Lack, ...]:
        """What is left where all is known: somebody tries it on the floor."""
        fitting = self.known[0].fitting
        where, said = f"fitting[{fitting.id}].read.lit_ahead", {"fitting": fitting.id}
        return (lack("approach.lack.tried", where, dict(said)),)

    def between(self, low: float, high: float) -> Quantity:
        """A figure of the field by what it surely is and what it may be."""
        top = max(low, high)
        return Quantity((low + top) / 2, (top - low) / 2, self.grade)


def side_field(asked: Asked, side: Side) -> SideField:
    """The radars of one side; where the rule names a body they must find a child.

    A body is surely found where it is in the field at the floor and, if the rule
    names it, at its middle; it may be found where any part of it is in the field.
    """
    plan, named = asked.settled.plan, asked.rule.has("body_height")
    facts = fields_of(asked.doorway, plan, side, child=named)
    tall = asked.rule.limit("body_height").value if named else GROWN
    known = tuple(one for one in facts if one.inners)
    if not known:
        return SideField(side, facts, (), (), ())
    low = (0.0, tall / 2) if named else (0.0,)
    inner = zones(known, plan, side, low, inner=True)
    outer = zones(known, plan, side, (0.0, tall / 2, tall), inner=False)
    upright = (0.0, tall / 2)
    near = tuple(replace(zone, heights=upright, surely=False) for zone in inner)
    return SideField(side, facts, inner, near, outer)


def without_field(asked: Asked, field: SideField, case: str) -> Finding | None:
    """The answer for a side that nobody uses, or whose field is not known at all."""
    said = {"side": Message(f"side.{field.side}")}
    if passed_by(asked.doorway, field.side):
        because = Message("approach.zone.one_way")
        return asked.answer(Verdict.NOT_ASKED, because, case=case)
    if not field.facts:
        missing = (Lack(Message("approach.lack.motion_unit", said), "fitting"),)
        because = Message("approach.zone.no_unit", said)
        return asked.answer(Verdict.NOT_SHOWN, because, case=case, lacking=missing)
    if not field.known:
        because = Message(f"approach.zone.{_why_unknown(field)}", said)
        return asked.answer(Verdict.NOT_SHOWN, because, case=case, lacking=field.lacks)
    return None


def _why_unknown(field: SideField) -> str:
    """Something is missing, or what is stated does not go together."""
    told = {one.message.key for one in field.lacks}
    if "approach.lack.fit" in told:
        return "no_beam"
    return "walk_differs" if "approach.lack.walk_differs" in told else "unknown"


def depths(field: SideField) -> tuple[Quantity, Quantity]:
    """Where the field begins and ends on the middle of the opening, from the face."""
    floor = [ahead(zone) for zone in field.inner]
    upright = [ahead(zone) for zone in field.near]
    maybe = [ahead(zone) for zone in field.outer]
    far = UNBOUNDED if field.lacks else max(end for _, end in maybe)
    near = 0.0 if field.lacks else min(begin for begin, _ in maybe)
    begins = max(begin for begin, _ in upright)
    ends = min(end for _, end in (*floor, *upright))
    return field.between(min(near, begins), begins), field.between(ends, far)


def drawn(field: SideField) -> tuple[Figure, ...]:
    """The inner field, places and tilts as stated."""
    if not field.inner:
        return ()
    stated = tuple(one.inner for one in field.known if one.inner)
    zone = replace(field.inner[0], radars=stated)
    begin, end = ahead(zone)
    if end <= begin:
        return ()
    return (Polygon(Role.FIELD, outline(zone, (begin + end) / 2)),)


def tilt_that_serves(
    asked: Asked, field: SideField, serves: Callable[[SideField], bool]
) -> tuple[Fitting, Quantity] | None:
    """The tilt of the scale nearest to the one set at which the field serves.

    Only for a side with one radar, whose reach is known without walking: what was
    chalked was chalked at the tilt that is set.
    """
    if len(field.facts) != 1 or not field.known or not field.grade.may_hold:
        return None
    fitting = field.facts[0].fitting
    now, motion = fitting.settings.radar_tilt, fitting.unit and fitting.unit.motion
    if now is None or not motion or motion.tilt is None or fitting.read.lit_ahead:
        return None
    step = motion.tilt.step
    if step is None or step.value <= 0:
        return None
    least_, most = motion.tilt.least.value, motion.tilt.most.value
    count = int((most - least_) / step.value + 1.001)
    steps = [least_ + n * step.value for n in range(count)]
    for tilt in sorted(steps, key=lambda one: abs(one - now.value)):
        turned = Quantity(tilt, 0.0, now.grade)
        if serves(side_field(_turned(asked, fitting, turned), field.side)):
            return fitting, turned
    return None


def _turned(asked: Asked, fitting: Fitting, tilt: Quantity) -> Asked:
    settings = fitting.settings.model_copy(update={"radar_tilt": tilt})
    other = fitting.model_copy(update={"settings": settings})
    fittings = tuple(
        other if one.id == fitting.id else one for one in asked.doorway.fitting
    )
    doorway = asked.doorway.model_copy(update={"fitting": fittings})
    return replace(asked, doorway=doorway)


@dataclass(frozen=True, slots=True)
class Told:
    """A verdict on a field.

    Attributes:
        verdict: what may be said.
        key: the last part of the sentence's key: the verdict, or *close* where
            nothing is missing and the field is still not known closely enough.
        to_confirm: it holds on a figure to be confirmed.
        lacking: what would settle it.
    """

    verdict: Verdict
    key: str
    to_confirm: bool
    lacking: tuple[Lack, ...]


def told_of(
    field: SideField, comparison: Comparison, also: tuple[Lack, ...] = ()
) -> Told:
    """The verdict; what a radar lacks comes before what a weak grade does.

    Args:
        field: of the side.
        comparison: of a figure of it with a limit.
        also: what else would settle it.
    """
    verdict = verdict_of(comparison.outcome)
    if verdict is not Verdict.NOT_SHOWN:
        confirm = comparison.to_confirm and verdict is Verdict.HOLDS
        return Told(verdict, verdict.key, confirm, ())
    lacking = field.lacks or once((*also, *field.weak)) or field.closer
    key = verdict.key if lacking else "close"
    return Told(verdict, key, to_confirm=False, lacking=lacking or field.tried)


def assumed_of(field: SideField) -> tuple[Assumed, ...]:
    """What was taken for the field though nobody stated it."""
    return tuple(one for facts in field.known for one in facts.assumed)


def side_said(side: Side) -> Message:
    """The side in words."""
    return Message(f"side.{side}")
