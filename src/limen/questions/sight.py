"""What a unit's light falls on besides people: its own door, its neighbours."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil, cos, degrees, isfinite

import numpy as np

from limen.findings import (
    Change,
    Finding,
    Lack,
    Margin,
    Message,
    Remedy,
    Role,
    Spots,
    Target,
    Verdict,
)
from limen.findings.message import length, turn
from limen.geometry.turns import Array
from limen.model.doorway import Doorway, Facing
from limen.model.fitting import Fitting
from limen.physics.light import clearance, inner_edge_slopes, spot_radius
from limen.physics.plan import Plan, sign
from limen.physics.reach import Placed, row_distance
from limen.quantity import Dimension, Outcome
from limen.questions.asking import Asked, Verdictful, graded, lack, too_weak
from limen.questions.settled import Named, Settled, UnitFacts, aimed_closer

PAIR = 2
HANDLE_BAND = (0.6, 1.5)  # m, heights between which a handle may stand out


def self_view(asked: Asked) -> tuple[Finding, ...]:
    """Does the light of any row fall on the moving leaf or on the header?

    The whole light of every spot, its divergence included, against the box that
    the leaves sweep with their sway and handles, and against the header's lower
    edge where the lens stands above it.

    Args:
        asked: no limits.

    Returns:
        One finding for each presence unit.  Margin: the least distance between
        light and leaf (m), its uncertainty what aiming leaves open of it.

    Source:
        Tangent planes of a cone, `limen.physics.light`.  Left out: reflection
        from a polished floor or leaf.
    """
    return tuple(
        _one_self_view(asked, facts, unit) for facts, unit in curtains(asked.settled)
    )


def curtains(settled: Settled) -> Iterator[tuple[UnitFacts, Placed | None]]:
    """Presence units, each under the first reading of its manual."""
    for facts in settled.units:
        sheet = facts.fitting.unit
        if sheet is not None and sheet.presence is not None:
            unit = facts.choices[0] if facts.choices else None
            yield facts, unit if isinstance(unit, Placed) else None


def _one_self_view(asked: Asked, facts: UnitFacts, unit: Placed | None) -> Finding:
    name = facts.fitting.id
    if unit is None:
        because = Message("self_view.unit_unknown")
        return asked.answer(
            Verdict.NOT_SHOWN, because, fitting=name, lacking=facts.lacks
        )
    if unit.divergence is None:
        missing = lack("lack.divergence", "sheet.presence.spot_divergence")
        because = Message("self_view.no_divergence")
        return asked.answer(
            Verdict.NOT_SHOWN, because, fitting=name, lacking=(missing,)
        )
    room, error, row = light_room(asked.doorway, asked.settled.plan, unit)
    outcome = _three(room, error)
    if outcome is Outcome.HOLDS and asked.doorway.leaves.handle_depth is None:
        return _handles_unknown(asked, name, room, row)
    figures = (
        *asked.settled.figures,
        *facts.figures,
        *_light_width(asked.doorway, facts),
    )
    grades = (*asked.limits_graded(), *(figure.grade for _, figure in figures))
    told = graded(outcome, grades, too_weak(figures))
    key = told.verdict.key
    closer = aimed_closer((unit,)) if outcome is Outcome.NOT_SHOWN else ()
    said = {"row": row + 1, "distance": length(abs(room)), "error": length(error)}
    return asked.answer(
        told.verdict,
        Message(f"self_view.{key}", said),
        fitting=name,
        margin=Margin(room, error, Dimension.LENGTH),
        remedy=_turn_away(asked, facts.fitting, unit, room - error),
        lacking=(*told.lacking, *closer),
        assumed=(*asked.settled.assumed, *facts.assumed),
        to_confirm=told.to_confirm,
    )


def _handles_unknown(asked: Asked, fitting: str, room: float, row: int) -> Finding:
    """The light is clear of a plain leaf; of handles nobody has said anything."""
    missing = lack("lack.handle_depth", "leaves.handle_depth")
    said = {"row": row + 1, "distance": length(abs(room))}
    because = Message("self_view.no_handles", said)
    return asked.answer(Verdict.NOT_SHOWN, because, fitting=fitting, lacking=(missing,))


def _light_width(doorway: Doorway, facts: UnitFacts) -> Iterator[Named]:
    """The light's width and the handles, as far as they are stated."""
    presence = facts.fitting.unit.presence if facts.fitting.unit else None
    spread = presence.spot_divergence if presence else None
    if spread is not None:
        yield "sheet.presence.spot_divergence", spread
    if doorway.leaves.handle_depth is not None:
        yield "leaves.handle_depth", doorway.leaves.handle_depth


def _three(room: float, error: float) -> Outcome:
    if room - error >= 0:
        return Outcome.HOLDS
    return Outcome.FAILS if room < 0 else Outcome.NOT_SHOWN


def light_room(doorway: Doorway, plan: Plan, unit: Placed) -> tuple[float, float, int]:
    """Least distance of a unit's light from the door's own parts.

    Args:
        doorway: for the depth of its handles.
        plan: what stands where.
        unit: with the divergence of its light known.

    Returns:
        The distance (m), what aiming leaves open of it (m), and the row, from 0.
    """
    way = sign(unit.side)
    side = plan.side(unit.side)
    beams = unit.beams()
    edges = inner_edge_slopes(beams.directions, unit.divergence or 0.0, way)
    handle = doorway.leaves.handle_depth
    parts = [(side.swayed, 0.0, plan.underside)]
    if handle is not None and handle.high > 0:
        parts.append((side.swayed + handle.high, *HANDLE_BAND))
    if unit.lens[2] > plan.underside:
        parts.append((side.header, plan.underside, unit.lens[2]))
    rooms = [clearance(way * unit.lens[1], unit.lens[2], edges, p) for p in parts]
    least: Array = np.minimum.reduce(rooms)
    span = (0.0, min(plan.underside, unit.lens[2]))
    error = unit.bounds(beams, span)
    off: Array = error.common[1] + error.residual[:, 1]
    # the beam that fails, else the one that aiming brings nearest
    tight = int((least if least.min() < 0 else least - off).argmin())
    return float(least[tight]), float(off[tight]), int(beams.row[tight])


def _turn_away(
    asked: Asked, fitting: Fitting, unit: Placed, room: float
) -> Remedy | None:
    """Turn the unit away until its light clears the door, in the sheet's steps."""
    presence = fitting.unit.presence if fitting.unit else None
    if room >= 0 or presence is None:
        return None
    step = presence.tilt.step.value if presence.tilt.step else 0.0
    start, most = unit.attitude.tilt, presence.tilt.most.value
    face = asked.settled.plan.side(unit.side).face
    need = -room * cos(start) ** 2 / unit.lens[2]
    first = ceil(need / step) if step else 1
    for number in range(first, first + 40):
        tilt = start + number * step if step else start + need * (1 + number * 0.02)
        if tilt > most:
            break
        turned = unit.tilted(tilt)
        clear, error, _ = light_room(asked.doorway, asked.settled.plan, turned)
        if clear - error < 0:
            continue
        best = row_distance(turned, 0, face)
        was = row_distance(unit, 0, face)
        said = {
            "fitting": unit.fitting,
            "by": length(best - was),
            "best": length(best),
            "turn": turn(tilt - start),
        }
        target = Target(unit.fitting, 1, best, best, best, was, tilt - start)
        changes = _turned_changes(fitting, tilt, best)
        return Remedy(Message("remedy.turn_away", said), changes, (target,))
    return Remedy(Message("remedy.move_lens_out", {"fitting": unit.fitting}))


def _turned_changes(fitting: Fitting, tilt: float, row: float) -> tuple[Change, ...]:
    if fitting.read.first_row is None:
        return (Change(fitting.id, "settings.tilt", f"{degrees(tilt):.6g} deg"),)
    whole = f"{ceil(row * 1000)} mm"
    return (Change(fitting.id, "read.first_row", whole),)


@dataclass(frozen=True, slots=True)
class Light:
    """A unit's spots on the floor of this doorway's frame.

    Attributes:
        name: the fitting, with its doorway where that is another one.
        middles: (n, 2), under every reading of the manual.
        radii: (n,).
        drawn: how many of them are those of the first reading.
        off: how far they may stand off along x and y (m).
        channel: what is set; None if nobody said.
        figures: what this rests on, by the keys of the file.
        lacks: what keeps place or width of the light from being known.
    """

    name: str
    middles: Array
    radii: Array
    drawn: int
    off: tuple[float, float]
    channel: int | None
    figures: tuple[Named, ...] = ()
    lacks: tuple[Lack, ...] = ()


def neighbours(asked: Asked) -> tuple[Finding, ...]:
    """Can a unit see another unit's light on the same channel?

    Spots of two units whose light may touch on the floor, aiming included, must
    work on different channels.  Where a unit's light lands, or how wide it is, may
    be unknown: then only different channels hold.

    Args:
        asked: no limits.

    Returns:
        One finding for each pair of units that may meet, one for each doorway
        that is faced but not at hand, one in all where there is no pair.

    Source:
        Geometry of the light on the floor.  Left out: light thrown back by
        glass, a polished floor or a wall.
    """
    own = [light_of(facts, "") for facts, _ in curtains(asked.settled)]
    pairs = [(one, two) for number, one in enumerate(own) for two in own[number + 1 :]]
    found = [_pair(asked, one, two) for one, two in pairs]
    for met in asked.met:
        if met.settled is None:
            found.append(_not_at_hand(asked, met.facing.doorway))
            continue
        others = _facing_lights(met.facing, met.settled)
        found += [_pair(asked, one, two) for one in own for two in others]
    return tuple(found) or (_alone(asked),)


def light_of(facts: UnitFacts, prefix: str) -> Light:
    """A unit's light on the floor, its name led in by ``prefix``."""
    channel, name = facts.fitting.settings.channel, prefix + facts.fitting.id
    units = [unit for unit in facts.choices if isinstance(unit, Placed)]
    if not units:
        none = np.empty((0, 2))
        nowhere = (0.0, 0.0)
        return Light(name, none, none[:, 0], 0, nowhere, channel, (), facts.lacks)
    spots = [_spots_of(unit) for unit in units]
    missing = lack("lack.divergence", "sheet.presence.spot_divergence")
    lacks = (missing,) if units[0].divergence is None else ()
    return Light(
        name,
        np.concatenate([middles for middles, _, _ in spots]),
        np.concatenate([radii for _, radii, _ in spots]),
        len(spots[0][1]),
        (max(off[0] for _, _, off in spots), max(off[1] for _, _, off in spots)),
        channel,
        facts.figures,
        lacks,
    )


def _spots_of(unit: Placed) -> tuple[Array, Array, tuple[float, float]]:
    """A unit's spots on the floor: middles, radii, how far they may stand off."""
    beams = unit.beams()
    slopes = unit.slopes(beams)
    spread = unit.divergence if unit.divergence is not None else 0.0
    error = unit.bounds(beams, (0.0, 0.0))
    along, across = error.common + error.residual.max(axis=0, initial=0.0)
    middles = beams.lens[:2] + unit.lens[2] * slopes
    radii = spot_radius(slopes, unit.lens[2], spread)
    return middles, radii, (float(along), float(across))


def _facing_lights(facing: Facing, settled: Settled) -> list[Light]:
    """Units of the faced doorway, brought into this doorway's frame.

    It stands ``facing.distance`` away, leaf middle to leaf middle; both look the
    same way out.  Where nobody said how far it is shifted it may be by any amount.
    """
    shift, distance = facing.shift, facing.distance
    moved = np.array(
        [shift.value if shift else 0.0, sign(facing.side) * distance.value]
    )
    room = np.array([shift.u if shift else np.inf, distance.u])
    faced, other = f"facing[{facing.doorway}].", f"doorway[{facing.doorway}]."
    given = ((faced + "shift", shift), (faced + "distance", distance))
    stated = tuple((key, q) for key, q in given if q is not None)
    theirs = tuple((other + key, q) for key, q in settled.figures)
    lights = [light_of(facts, f"{facing.doorway}: ") for facts, _ in curtains(settled)]
    return [
        replace(
            light,
            middles=light.middles + moved,
            off=(light.off[0] + room[0], light.off[1] + room[1]),
            figures=(
                *((other + key, q) for key, q in light.figures),
                *theirs,
                *stated,
            ),
        )
        for light in lights
    ]


def _pair(asked: Asked, one: Light, two: Light) -> Finding:
    lacks = (*one.lacks, *two.lacks)
    if lacks and not _apart_by_channel(one, two):
        return _pair_unknown(asked, one, two, lacks)
    room, sure = apart(one, two)
    if sure <= 0 and not isfinite(one.off[0] + two.off[0]):
        door = two.name.partition(": ")[0]
        shift = lack("lack.shift", f"facing[{door}].shift")
        if not _apart_by_channel(one, two):
            return _pair_unknown(asked, one, two, (shift,))
    error = room - sure if isfinite(sure) else 0.0
    case = f"{one.name} and {two.name}"
    told = _channels(asked, 0.0 if lacks else sure, room, (one, two))
    verdict, key = told[0].verdict, told[1]
    said = {"one": _unit(one), "two": _unit(two), "distance": length(abs(room))}
    numbers = (one.channel, two.channel)
    said = {**said, "channel": next((n for n in numbers if n is not None), 0)}
    doubt = verdict is Verdict.NOT_SHOWN
    to_part = verdict is Verdict.FAILS or key == "neighbours.close"
    return asked.answer(
        verdict,
        Message(key, said),
        case=case,
        margin=None
        if lacks or key == "neighbours.channels_differ"
        else Margin(room, error, Dimension.LENGTH),
        remedy=_other_channel(asked, one, two) if to_part else None,
        lacking=told[0].lacking or (_pair_lacks(one, two) if doubt else ()),
        to_confirm=told[0].to_confirm,
        figures=tuple(_spots(light) for light in (one, two)),
    )


def _unit(light: Light) -> Message:
    """A unit as it is called in a sentence, its doorway named where it is another."""
    door, _, fitting = light.name.rpartition(": ")
    if not door:
        return Message("unit.own", {"fitting": fitting})
    return Message("unit.other", {"fitting": fitting, "doorway": door})


def apart(one: Light, two: Light) -> tuple[float, float]:
    """How far the light of two units is apart (m): as stated, and at least."""
    between = one.middles[:, None, :] - two.middles[None, :, :]
    radii = one.radii[:, None] + two.radii[None, :]
    off = np.array(one.off) + np.array(two.off)
    nearest = np.maximum(np.abs(between) - off, 0.0)
    gaps, least = (np.hypot(b[..., 0], b[..., 1]) - radii for b in (between, nearest))
    return float(gaps.min(initial=np.inf)), float(least.min(initial=np.inf))


def _apart_by_channel(one: Light, two: Light) -> bool:
    return None not in (one.channel, two.channel) and one.channel != two.channel


def _pair_lacks(one: Light, two: Light) -> tuple[Lack, ...]:
    """The channels that nobody stated; else how closely the rows are aimed."""
    unset = [light for light in (one, two) if light.channel is None]
    if unset:
        return tuple(_pair_lack("lack.channel", light) for light in unset)
    return tuple(_pair_lack("lack.aim", light) for light in (one, two))


def _pair_lack(key: str, light: Light) -> Lack:
    where = "aim" if key == "lack.aim" else "settings.channel"
    return Lack(Message(key, {"unit": _unit(light)}), _key_of(light, where))


def _key_of(light: Light, key: str) -> str:
    """The key of a unit's setting, its doorway named where it is another one."""
    door, _, name = light.name.rpartition(": ")
    where = f"doorway[{door}]." if door else ""
    return f"{where}fitting[{name}].{key}"


def _pair_unknown(
    asked: Asked, one: Light, two: Light, lacks: tuple[Lack, ...]
) -> Finding:
    said = {"one": _unit(one), "two": _unit(two)}
    return asked.answer(
        Verdict.NOT_SHOWN,
        Message("neighbours.light_unknown", said),
        case=f"{one.name} and {two.name}",
        lacking=lacks,
    )


def _channels(
    asked: Asked, sure: float, room: float, lights: tuple[Light, Light]
) -> tuple[Verdictful, str]:
    """The verdict on a pair whose light stays at least ``sure`` (m) apart."""
    grades = asked.limits_graded()
    one, two = lights
    if sure > 0:
        figures = (*asked.settled.figures, *one.figures, *two.figures)
        every = (*grades, *(figure.grade for _, figure in figures))
        told = graded(Outcome.HOLDS, every, too_weak(figures))
        if told.verdict is Verdict.HOLDS or not _apart_by_channel(one, two):
            return told, "neighbours.apart"
    if _apart_by_channel(one, two):
        return graded(Outcome.HOLDS, grades, ()), "neighbours.channels_differ"
    if None in (one.channel, two.channel):
        return graded(Outcome.NOT_SHOWN, grades, ()), "neighbours.unknown"
    outcome = Outcome.FAILS if room <= 0 else Outcome.NOT_SHOWN
    key = "neighbours.same" if room <= 0 else "neighbours.close"
    return graded(outcome, grades, ()), key


def _other_channel(asked: Asked, one: Light, two: Light) -> Remedy:
    """A channel that no unit at hand uses, on a unit of this doorway."""
    used = {one.channel, two.channel}
    for met in asked.met:
        for facts in met.settled.units if met.settled else ():
            used.add(facts.fitting.settings.channel)
    for facts in asked.settled.units:
        used.add(facts.fitting.settings.channel)
    for light in (one, two):
        fitting = next((f for f in asked.doorway.fitting if f.id == light.name), None)
        presence = fitting.unit.presence if fitting and fitting.unit else None
        if fitting is None or presence is None or presence.channels is None:
            continue
        free = [n for n in range(1, presence.channels + 1) if n not in used]
        number = _own_channel(asked, light, two if light is one else one, free)
        if number is not None:
            said = {"fitting": fitting.id, "channel": number}
            change = Change(fitting.id, "settings.channel", str(number))
            return Remedy(Message("remedy.channel", said), (change,))
    return Remedy(Message("remedy.no_channel"))


def _own_channel(
    asked: Asked, light: Light, other: Light, free: list[int]
) -> int | None:
    """The free channel kept for a unit, so that all told to change stay apart.

    Units of a doorway that share a channel take the free ones in turn; of two
    doorways that face each other the second by name takes them from the end.
    """
    sharing = [
        fitting.id
        for fitting in asked.doorway.fitting
        if fitting.settings.channel == light.channel
    ]
    turn_of = sharing.index(light.name)
    door, _, faced = other.name.rpartition(": ")
    if faced and door and asked.doorway.id > door:
        turn_of = len(free) - 1 - turn_of
        if len(free) < PAIR:
            return None
    return free[turn_of] if 0 <= turn_of < len(free) else None


def _spots(light: Light) -> Spots:
    middles = tuple((float(x), float(y)) for x, y in light.middles[: light.drawn])
    return Spots(Role.NEIGHBOUR, middles, float(light.radii.max(initial=0.0)))


def _not_at_hand(asked: Asked, doorway: str) -> Finding:
    missing = lack("lack.other_doorway", "facing", {"doorway": doorway})
    because = Message("neighbours.not_at_hand", {"doorway": doorway})
    return asked.answer(Verdict.NOT_SHOWN, because, case=doorway, lacking=(missing,))


def _alone(asked: Asked) -> Finding:
    because = Message("neighbours.alone")
    return asked.answer(Verdict.NOT_ASKED, because)
