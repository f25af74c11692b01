"""What to turn so that every case of a coverage question holds.

Settings are tried in the order in which a technician would rather change them:
one unit's tilt, both units' tilt, then what else the sheet lets be set (plumb,
a wider fan, all rows on).  What is printed has been proved, at the sheet's own
steps and with everything that aiming leaves open.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import degrees, floor

from limen.findings import Change, Message, Remedy, Target
from limen.findings.message import length, turn
from limen.model.doorway import Doorway
from limen.physics.reach import Placed, Unit, row_distance
from limen.questions.coverage import Case, hold_everywhere, widest
from limen.questions.settled import Settled
from limen.questions.tilts import MILLIMETRE, Knob, Setting, knobs_of, light_to_spare
from limen.questions.variants import Variant, lenses_out, variants, variants_apart

WINDOW_MOST = 25  # mm either side of a target: wider windows are not printed
ROOMY = 0.003  # m to either side: a narrower window is looked past, if one can
PAIR = 2

AIMED = ("settings.tilt", "read.first_row")
"""Settings by which rows are brought to a line."""

Ways = tuple[tuple[Unit, ...], ...]
Kind = frozenset[tuple[str, str]]
Tilts = dict[str, float]


def bring_rows(doorway: Doorway, settled: Settled, cases: Sequence[Case]) -> Remedy:
    """The least change of settings with which every case holds.

    Args:
        doorway: as described.
        settled: the same, settled.
        cases: what must hold.

    Returns:
        A remedy whose changes were proved; without changes, and saying what else
        is needed, where no setting of the sheets helps.
    """
    for surely in (True, False):
        narrow: Found | None = None
        for found in _found(doorway, settled, cases, surely=surely):
            if not found.picked or found.judge.holds(found.tilts, ROOMY):
                return _worded(found)
            narrow = narrow or found
        if narrow:
            return _worded(narrow)
    return _lens_out(doorway, settled, cases) or Remedy(_what_else(settled))


def other_ways(
    doorway: Doorway, settled: Settled, cases: Sequence[Case]
) -> Iterator[Remedy]:
    """Everything with which every case holds, one of each kind, the usual first.

    Two remedies are of one kind if they set the same settings of the same units.
    Rows that may land nowhere but on a line are no way: nobody aims so closely.

    Args:
        doorway: as described.
        settled: the same, settled.
        cases: what must hold.
    """
    told: list[Kind] = []
    for found in _every(doorway, settled, cases):
        kind = _kind_of(found)
        if not told_already(kind, told) and _worth(found):
            told.append(kind)
            yield _worded(found)
    out = _lens_out(doorway, settled, cases)
    if out is not None:
        yield out


def _every(
    doorway: Doorway, settled: Settled, cases: Sequence[Case]
) -> "Iterator[Found]":
    """What holds: one thing set of one unit only, then in the usual order."""
    for variant in variants_apart(doorway):
        judge = Judge(variant, cases)
        if judge.holds({}):
            yield Found(variant, {}, (), judge)
    for surely in (True, False):
        yield from _found(doorway, settled, cases, surely=surely)


def _worth(found: "Found") -> bool:
    """Whether each row that is turned comes somewhere else, with room to aim it."""
    moved = all(
        abs(setting.distance - knob.now) >= MILLIMETRE
        for knob in found.knobs
        if (setting := found.picked.get(knob.unit.fitting))
    )
    return moved and (not found.picked or found.judge.holds(found.tilts, ROOMY))


def kind_of(changes: Iterable[Change]) -> Kind:
    """Which settings of which units are set."""
    return frozenset((change.fitting, change.setting) for change in changes)


def told_already(kind: Kind, told: Iterable[Kind]) -> bool:
    """Whether a remedy is no other way: the same, or another one with more to do.

    Rows of more units brought elsewhere are a way of their own: they share the turn.
    """
    only_aimed = all(setting in AIMED for _, setting in kind)
    return any(kind == one or (kind > one and not only_aimed) for one in told)


def _kind_of(found: "Found") -> Kind:
    turned = [
        change
        for knob in found.knobs
        if (setting := found.picked.get(knob.unit.fitting))
        for change in _tilt_changes(knob, setting)
    ]
    return kind_of((*found.variant.changes, *turned))


def _lens_out(
    doorway: Doorway, settled: Settled, cases: Sequence[Case]
) -> Remedy | None:
    """Where rows nearer the leaf would see it: the lenses further out."""
    here = Variant((), doorway, settled)
    near, clear = knobs_of(here, surely=None), knobs_of(here, surely=False)
    if [knob.settings for knob in near] == [knob.settings for knob in clear]:
        return None
    for variant in lenses_out(doorway, settled):
        knobs, judge = knobs_of(variant, surely=False), Judge(variant, cases)
        for picked in _searched(knobs, judge):
            return _worded(Found(variant, picked, knobs, judge))
    return None


@dataclass(frozen=True, slots=True)
class Found:
    """Settings with which every case holds."""

    variant: Variant
    picked: dict[str, Setting]
    knobs: tuple[Knob, ...]
    judge: "Judge"

    @property
    def tilts(self) -> Tilts:
        """Tilt of each unit that is turned (rad)."""
        return {name: setting.tilt for name, setting in self.picked.items()}


def _found(
    doorway: Doorway, settled: Settled, cases: Sequence[Case], *, surely: bool
) -> Iterator[Found]:
    """What holds, in the order in which a technician would rather do it."""
    for variant in variants(doorway, settled):
        knobs = knobs_of(variant, surely=surely)
        judge = Judge(variant, cases)
        if variant.changes and judge.holds({}):
            yield Found(variant, {}, knobs, judge)
        for picked in _searched(knobs, judge):
            yield Found(variant, picked, knobs, judge)


class Judge:
    """Whether every case holds with some units tilted, remembering what they cast."""

    def __init__(self, variant: Variant, cases: Sequence[Case]) -> None:
        """Judge a variant of the doorway by these cases."""
        self._ways = variant.settled.ways()
        self._cases = widest(cases)
        self._ground = variant.settled.ground

    def holds(self, tilts: Tilts, room: float = 0.0) -> bool:
        """Whether all holds at these tilts, the tilted rows anywhere within ``room``.

        Args:
            tilts: tilt of each unit that is turned (rad).
            room: by how much their rows may land off the target besides (m).
        """
        turned = tuple(_turned(units, tilts, room) for units in self._ways)
        return hold_everywhere(self._cases, turned, self._ground)


def _turned(units: tuple[Unit, ...], tilts: Tilts, room: float) -> tuple[Unit, ...]:
    return tuple(
        _loosened(unit.tilted(tilts[unit.fitting]), room)
        if isinstance(unit, Placed) and unit.fitting in tilts
        else unit
        for unit in units
    )


def _loosened(unit: Placed, room: float) -> Placed:
    across = unit.errors.floor_y + room
    return replace(unit, errors=replace(unit.errors, floor_y=across))


def _searched(knobs: Sequence[Knob], judge: Judge) -> Iterator[dict[str, Setting]]:
    """Settings that hold: of one unit, of one unit a side together, then of all."""
    for knob in sorted(knobs, key=lambda k: -abs(k.now)):
        alone = [(setting,) for setting in knob.settings]
        yield from _run(judge, (knob,), alone)
    for one, other in combinations(knobs, 2):
        if one.unit.side == other.unit.side:
            continue
        level = other.face - one.face
        pairs = [
            (near, _closest(other, near.distance - level)) for near in one.settings
        ]
        yield from _run(judge, (one, other), pairs)
    if len(knobs) > PAIR:
        yield from _run(judge, tuple(knobs), _abreast(knobs))


def _abreast(knobs: Sequence[Knob]) -> list[tuple[Setting, ...]]:
    """All first rows equally far from the middle of the leaves, nearest first."""
    lead = knobs[0]
    return [
        tuple(_closest(knob, near.distance + lead.face - knob.face) for knob in knobs)
        for near in lead.settings
    ]


def _run(
    judge: Judge, knobs: tuple[Knob, ...], tried: Sequence[tuple[Setting, ...]]
) -> Iterator[dict[str, Setting]]:
    """The middle of the first unbroken run of settings that hold."""
    good: list[tuple[Setting, ...]] = []
    names = [knob.unit.fitting for knob in knobs]
    for settings in tried:
        tilts = {n: s.tilt for n, s in zip(names, settings, strict=True)}
        if judge.holds(tilts):
            good.append(settings)
        elif good:
            break
    if good:
        yield dict(zip(names, good[len(good) // 2], strict=True))


def _closest(knob: Knob, distance: float) -> Setting:
    return min(knob.settings, key=lambda s: abs(s.distance - distance))


def _worded(found: Found) -> Remedy:
    variant, picked = found.variant, found.picked
    messages: list[Message] = [_changed(change) for change in variant.changes]
    brought: list[Message] = []
    changes, targets = list(variant.changes), list[Target]()
    room = _window(found.judge, found.tilts) if picked else 0.0
    room = min([room, *_kept_clear(found)])
    for knob in found.knobs:
        setting = picked.get(knob.unit.fitting)
        if setting is None:
            continue
        target = _target(knob, setting, room)
        targets.append(target)
        brought.append(_bring(knob, target))
        changes += _tilt_changes(knob, setting)
    told = _joined([*messages, *_at_once(brought, targets)])
    return Remedy(told, tuple(changes), tuple(targets))


def _kept_clear(found: Found) -> Iterator[float]:
    """How far each turned row may land nearer and its light still clear the door.

    Less than a millimetre is no window: whether it stays clear is then left to the
    question that asks it.
    """
    for knob in found.knobs:
        setting = found.picked.get(knob.unit.fitting)
        if setting is None:
            continue
        room, error = light_to_spare(found.variant, knob.unit, setting)
        if room - error >= MILLIMETRE:
            yield floor((room - error) / MILLIMETRE) * MILLIMETRE


def _at_once(brought: list[Message], targets: Sequence[Target]) -> list[Message]:
    """Rows that are brought alike to one line, in one sentence."""
    alike = {_as_printed(target) for target in targets}
    if len(brought) < PAIR or len(alike) > 1 or brought[0].key != "remedy.bring_row":
        return brought
    key = "bring_both_rows" if len(brought) == PAIR else "bring_every_row"
    return [Message(f"remedy.{key}", brought[0].values)]


def _as_printed(target: Target) -> tuple[float, ...]:
    """A target's places in whole millimetres, its turn in tenths of a degree."""
    places = (target.best, target.least, target.most, target.was)
    return (*(round(one, 3) for one in places), round(degrees(target.turn), 1))


def _joined(messages: list[Message]) -> Message:
    told = messages[0]
    for message in messages[1:]:
        told = Message("remedy.and", {"first": told, "second": message})
    return told


def _tilt_changes(knob: Knob, setting: Setting) -> list[Change]:
    name = knob.unit.fitting
    if knob.fitting.read.first_row is None:
        tilt = f"{degrees(setting.tilt):.6g} deg"
        return [Change(name, "settings.tilt", tilt)]
    whole = f"{setting.distance / MILLIMETRE:.0f} mm"
    return [Change(name, "read.first_row", whole)]


def _target(knob: Knob, setting: Setting, room: float) -> Target:
    best = setting.distance
    was = row_distance(knob.unit, 0, knob.face)
    turned = setting.tilt - knob.unit.attitude.tilt
    return Target(knob.unit.fitting, 1, best, best - room, best + room, was, turned)


def _window(judge: Judge, tilts: Tilts) -> float:
    """How far off their targets all turned rows may land together, proved (m)."""
    good, bad = 0, WINDOW_MOST
    while bad - good > 1:
        middle = (good + bad + 1) // 2 if bad < WINDOW_MOST else good + 4
        if judge.holds(tilts, middle * MILLIMETRE):
            good = middle
        else:
            bad = middle
        if good >= WINDOW_MOST - 1:
            break
    return good * MILLIMETRE


def _bring(knob: Knob, target: Target) -> Message:
    by = target.best - target.was
    said = {
        "fitting": target.fitting,
        "by": length(abs(by)),
        "way": Message("way.nearer" if by < 0 else "way.further"),
        "best": length(target.best),
        "least": length(target.least),
        "most": length(target.most),
        "turn": turn(abs(target.turn)),
    }
    one_step = knob.unit.lens[2] * knob.step
    coarse = one_step > target.most - target.least
    if not coarse:
        return Message("remedy.bring_row", said)
    return Message("remedy.bring_row_coarse", {**said, "step": length(one_step)})


def _changed(change: Change) -> Message:
    said = {"fitting": change.fitting, "value": change.value}
    return Message(f"remedy.{change.setting}", said)


def _what_else(settled: Settled) -> Message:
    sides = {
        facts.fitting.side
        for facts in settled.units
        if any(isinstance(unit, Placed) for unit in facts.choices)
    }
    if not settled.units:
        return Message("remedy.no_presence_unit")
    if not sides:
        return Message("remedy.no_unit")
    if len(sides) == 1:
        other = "inside" if "outside" in sides else "outside"
        return Message("remedy.add_unit", {"side": Message(f"side.{other}")})
    return Message("remedy.beyond_settings")
