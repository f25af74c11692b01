"""Why settings cannot be better, and what beyond them was proved to help."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from limen.findings import Finding, Message, Study, Verdict
from limen.findings.message import length
from limen.findings.tuned import Binding
from limen.model.doorway import Doorway
from limen.model.fitting import BarrierBeam, Fitting, Lens
from limen.model.sheet import Barrier, Sheet
from limen.quantity import Quantity
from limen.questions.coverage import Case, hold_everywhere
from limen.questions.settled import settle
from limen.rules.rule import Weight
from limen.tune.measuring import COVERED, SIDES, binding
from limen.tune.rows import candidates, some_hold
from limen.tune.rows_chosen import own_of
from limen.tune.rows_proved import Proofs
from limen.tune.scales import Option, row_options
from limen.tune.searched import Searched

MILLIMETRE = 1e-3
LOWER = (-50, -100, -150, -200, -300)
HIGHER = (50, 100, 200)
FURTHER = (50, 100, 150, 200)
NEARER = (-30, -60)
LEAST_HEIGHT = 1.8
"""m: nobody hangs a unit lower over a door."""
BEAMS = (0.2, 0.7)
"""m above the floor, where a barrier's two beams usually are; common practice."""
BEAM_OUT = 0.03
"""m from the leaf face."""
BARRIER = "new-barrier"
SECOND = "new-unit"
TIGHT = 2e-3
"""m: less room than this is worth asking what would give more."""


@dataclass(frozen=True, slots=True)
class Lift:
    """A doorway with something beyond the settings changed, and what that is."""

    message: Message
    doorway: Doorway


def why_not_better(
    searched: Searched, best: Study, cases: Sequence[Case]
) -> tuple[Binding, ...]:
    """The questions that bind with the best settings, musts first, and what lifts them.

    Args:
        searched: the search.
        best: the study with the best settings.
        cases: what must hold of presence.
    """
    found = [one for one in best.findings if _binds(one)]
    covered = [one for one in found if one.question in COVERED]
    tried = _lifts(searched, best.doorway, cases) if covered and cases else ()
    lifts = tuple(lift.message for lift in tried)
    told = [_binding(one, lifts if one in covered else ()) for one in found]
    if not covered:
        told += [Binding(one, ()) for one in binding(best.findings)]
    return tuple(sorted(told, key=lambda one: one.finding.weight is not Weight.MUST))


def _binds(finding: Finding) -> bool:
    open_yet = finding.verdict in (Verdict.FAILS, Verdict.NOT_SHOWN)
    return open_yet and finding.weight is not Weight.ADVICE


def _binding(finding: Finding, lifts: tuple[Message, ...]) -> Binding:
    """A question that binds; where nothing was tried, what it asks for by itself."""
    if lifts or finding.remedy is None or finding.question in COVERED:
        return Binding(finding, lifts)
    return Binding(finding, (finding.remedy.message,))


# Beyond the settings --------------------------------------------------------------


def _lifts(
    searched: Searched, doorway: Doorway, cases: Sequence[Case]
) -> Iterator[Lift]:
    """Of each kind of change the smallest with which all of presence holds."""
    for kind in (_lens, _barrier, _second):
        for family in kind(doorway):
            lift = next((one for one in family if _helps(searched, one, cases)), None)
            if lift is not None:
                yield lift


def _helps(searched: Searched, lift: Lift, cases: Sequence[Case]) -> bool:
    """Whether some settings make every case hold then."""
    searched.beat()
    doorway = lift.doorway
    units = tuple(
        _few(row_options(doorway, one, outer_off=False))
        for one in doorway.fitting
        if one.unit is not None and one.unit.presence is not None
    )
    settled = settle(doorway)
    if not units:  # nothing has rows that could be aimed
        searched.proofs += 1
        return hold_everywhere(tuple(cases), settled.ways(), settled.ground)
    proofs = Proofs(doorway, settled, units, tuple(cases))
    there = replace_doorway(searched, doorway)
    own = [own_of(there, proofs, unit) for unit in range(len(units))]
    held = some_hold(proofs, candidates(own), searched.beat)
    searched.proofs += proofs.count
    return held


def replace_doorway(searched: Searched, doorway: Doorway) -> Searched:
    """The same search of a doorway with something else changed."""
    return replace(searched, doorway=doorway, site=None)


def _few(options: tuple[Option, ...]) -> tuple[Option, ...]:
    """Options of a unit that change nothing but how it is aimed."""
    kept = tuple(
        one
        for one in options
        if all(t.setting in ("settings.tilt", "read.first_row") for t in one.turned)
    )
    return kept or options


def _lens(doorway: Doorway) -> Iterator[Iterator[Lift]]:
    """Each unit's lens, or all of them, lower, higher, further out or nearer."""
    names = [f.id for f in doorway.fitting if _has_rows(f)]
    groups = [[one] for one in names] + ([names] if len(names) > 1 else [])
    for key, steps in (
        ("lower", LOWER),
        ("further", FURTHER),
        ("nearer", NEARER),
        ("higher", HIGHER),
    ):
        yield _smallest_first(doorway, groups, key, steps)


def _smallest_first(
    doorway: Doorway, groups: Sequence[Sequence[str]], key: str, steps: Sequence[int]
) -> Iterator[Lift]:
    for step in steps:
        for names in groups:
            moved = _moved(doorway, names, key, step * MILLIMETRE)
            if moved is None:
                continue
            by = length(abs(step) * MILLIMETRE)
            if len(names) == 1:
                said = {"fitting": names[0], "by": by}
                yield Lift(Message(f"tune.lift.{key}", said), moved)
            else:
                yield Lift(Message(f"tune.lift.{key}_all", {"by": by}), moved)


def _has_rows(fitting: Fitting) -> bool:
    presence = fitting.unit.presence if fitting.unit else None
    return presence is not None and fitting.lens is not None


def _moved(
    doorway: Doorway, names: Sequence[str], key: str, step: float
) -> Doorway | None:
    part = "from_leaf" if key in ("further", "nearer") else "height"
    fittings: list[Fitting] = []
    for one in doorway.fitting:
        if one.id not in names or one.lens is None:
            fittings.append(one)
            continue
        lens = _lens_at(one.lens, part, step)
        if lens is None:
            return None
        # what was read of its rows was read where it hung before
        read = one.read.model_copy(update={"left_end": None, "right_end": None})
        fittings.append(one.model_copy(update={"lens": lens, "read": read}))
    return doorway.model_copy(update={"fitting": tuple(fittings)})


def _lens_at(lens: Lens, part: str, step: float) -> Lens | None:
    old: Quantity = getattr(lens, part)
    new = old.value + step
    if new < (LEAST_HEIGHT if part == "height" else 0.0):
        return None
    return lens.model_copy(update={part: replace(old, value=new)})


def _barrier(doorway: Doorway) -> Iterator[Iterator[Lift]]:
    """A light barrier across the opening, where there is none."""
    if any(one.unit and one.unit.barrier for one in doorway.fitting):
        return
    sheet = Sheet(name="Light barrier", barrier=Barrier())
    out = Quantity(BEAM_OUT)
    beams = tuple(BarrierBeam(height=Quantity(h), from_leaf=out) for h in BEAMS)
    unit = Fitting(id=BARRIER, sheet=BARRIER, side="inside", place="posts", beams=beams)
    added = unit.model_copy(update={"unit": sheet})
    message = Message(
        "tune.lift.barrier", {"low": length(BEAMS[0]), "high": length(BEAMS[1])}
    )
    yield iter([Lift(message, _with(doorway, added))])


def _second(doorway: Doorway) -> Iterator[Iterator[Lift]]:
    """Another unit like one that is there, on a side that has none."""
    rows = [one for one in doorway.fitting if _has_rows(one)]
    for side in SIDES:
        if rows and all(one.side != side for one in rows):
            added = rows[0].model_copy(update={"id": SECOND, "side": side})
            said = {"fitting": rows[0].id, "side": Message(f"side.{side}")}
            message = Message("tune.lift.second", said)
            yield iter([Lift(message, _with(doorway, added))])


def _with(doorway: Doorway, fitting: Fitting) -> Doorway:
    return doorway.model_copy(update={"fitting": (*doorway.fitting, fitting)})
