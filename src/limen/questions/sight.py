"""What a unit's light falls on besides people: its own door, its neighbours."""

from collections.abc import Iterator
from dataclasses import replace
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
from limen.model.doorway import Doorway, Facing
from limen.model.fitting import Fitting
from limen.physics.light import clearance, inner_edge_slopes
from limen.physics.plan import Plan, sign
from limen.physics.reach import Placed, row_distance
from limen.quantity import Dimension, Outcome
from limen.questions.asking import Asked, Verdictful, graded, lack, too_weak
from limen.questions.channels import shared_in_chain
from limen.questions.lights import Light, apart, light_of
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
    rooms = np.array(
        [clearance(way * unit.lens[1], unit.lens[2], edges, part) for part in parts]
    )
    # what aiming leaves open grows from the lens down: each part by its own heights
    spans = [(low, min(high, unit.lens[2])) for _, low, high in parts]
    errors = [unit.bounds(beams, span) for span in spans]
    off = np.array([one.common[1] + one.residual[:, 1] for one in errors])
    # the beam that fails, else the one that aiming brings nearest
    tight = int((rooms if rooms.min() < 0 else rooms - off).argmin())
    beam = tight % rooms.shape[1]
    return float(rooms.flat[tight]), float(off.flat[tight]), int(beams.row[beam])


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
    """The channels on which all units around go together, as far as this pair goes."""
    doors = asked.around or (asked.doorway,)
    together = shared_in_chain(doors, asked.doorway.id)
    names = [_name_of(asked, light) for light in (one, two)]
    channels = [together.get(name) for name in names]
    if all(name in together for name in names) and None in channels:
        return Remedy(Message("remedy.channels_of_site"))
    if None in channels or channels[0] == channels[1]:
        return Remedy(Message("remedy.no_channel"))
    anew = [
        (door, fitting, channel)
        for light, (door, fitting), channel in zip(
            (one, two), names, channels, strict=True
        )
        if channel is not None and channel != light.channel
    ]
    own = [one for one in anew if one[0] == asked.doorway.id]
    door, fitting, channel = (own or anew)[0]
    said = {"fitting": fitting, "channel": channel}
    if not own:
        said["doorway"] = door
        return Remedy(Message("remedy.channel_there", said))
    if len(own) == PAIR:
        said |= {"other": own[1][1], "its": own[1][2]}
    changes = tuple(Change(unit, "settings.channel", str(n)) for _, unit, n in own)
    key = "remedy.channels" if len(own) == PAIR else "remedy.channel"
    return Remedy(Message(key, said), changes)


def _name_of(asked: Asked, light: Light) -> tuple[str, str]:
    door, _, fitting = light.name.rpartition(": ")
    return door or asked.doorway.id, fitting


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
