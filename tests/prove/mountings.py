"""Mountings with hidden faults and without, and how soon an order of tests finds them.

A truth is drawn as a guess is, by other chances, or such as no guess expects it.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, fields, replace
from itertools import islice, pairwise
from math import radians
from typing import NamedTuple

import numpy as np

from limen.geometry.turns import Array
from limen.physics.reach import Placed, Unit, row_distance
from limen.physics.tolerance import Errors
from limen.prove.casting import Flags
from limen.prove.dead import Draws, draws
from limen.prove.guessing import (
    Guess,
    Scene,
    guess,
    holes,
    reached_at,
    scene_of,
    throws_of,
)
from limen.prove.imagining import AIMED, Fall, Ways, falls_of, faults_of, mountings
from limen.prove.places import Spot
from limen.prove.scoring import (
    LEAST,
    SURE,
    Answer,
    Known,
    Trust,
    reweighed,
    scores,
    weighed,
)
from prove.doors import Question, four

Chance = np.random.Generator
Falls = tuple[Fall, ...]
ROUNDS = 2
APART = 0.1
"""How far apart the places of a raster are (m)."""
BESIDE = (0.0, 0.5, -0.5)
"""How far from the leaf line its rows are, in depths of the body."""
SLOPE = 0.02
"""How much the floor falls away outside: 2 %."""
UNREAD = 0.01
"""The same where nobody read a row on the floor: 1 %."""
OTHER_ANGLE = radians(0.5)
"""By how much the outer rows are off their sheet's angle."""
OTHER_WIDTH = 0.95
"""How much narrower a fan is than its sheet says."""
WRONG = Trust(0.95, 0.05)
"""One answer in twenty is wrong, whatever it is of."""
WORSE = Trust(0.914, 0.086)
"""One in twenty is wrong besides those that are reckoned with."""
MINUTES = 0.75
CAP = 100
"""An order that has not found a hole by then has not found it."""


@dataclass(frozen=True)
class Kind:
    """How truths differ from what is guessed.

    `unread`: it is of doorways at which no row was read outside.
    """

    ways: Callable[[Ways], Ways] = lambda ways: ways
    falls: Callable[[Falls], Falls] = lambda falls: falls
    unit: Callable[[Unit], Unit] = lambda unit: unit
    dead: Callable[[Draws, Sequence[Unit], Chance], Draws] = lambda d, _u, _c: d
    trust: Trust = SURE["body"]
    unread: bool = False


def _twice(ways: Ways) -> Ways:
    return tuple(tuple(_looser(unit) for unit in units) for units in ways)


def _looser(unit: Unit) -> Unit:
    if not isinstance(unit, Placed):
        return unit
    twice = {f.name: 2 * getattr(unit.errors, f.name) for f in fields(Errors)}
    return replace(unit, errors=Errors(**twice))


def _sloped(unit: Unit) -> Unit:
    """The unit as it hangs over a floor that falls away, its first row as it was read.

    Bodies stand square on the floor; the floor is what is level here.
    """
    if not isinstance(unit, Placed) or unit.side == "inside":
        return unit
    leans = unit.tilted(unit.attitude.tilt + SLOPE)
    back = row_distance(unit, 0, 0.0) - row_distance(leans, 0, 0.0)
    return replace(leans, shift=(unit.shift[0], unit.shift[1] + back))


def _fallen(falls: Falls) -> Falls:
    """Less of a fall, under every unit of which no row was read."""
    return tuple((UNREAD, UNREAD) if most else (0.0, 0.0) for _, most in falls)


def _other_sheet(unit: Unit) -> Unit:
    if not isinstance(unit, Placed):
        return unit
    first, *others = unit.row_angles
    fans = tuple(np.arctan(OTHER_WIDTH * np.tan(row)) for row in unit.fan.angles)
    return replace(
        unit,
        row_angles=(first, *(angle + OTHER_ANGLE for angle in others)),
        fan=replace(unit.fan, angles=fans),
    )


def _dirty(drawn: Draws, units: Sequence[Unit], chance: Chance) -> Draws:
    """Three to five spots dead in every row at once, where one or a few were."""
    dead = [
        _smeared(flags, [len(row) for row in unit.fan.angles], chance)
        if isinstance(unit, Placed)
        else flags
        for unit, flags in zip(units, drawn.dead, strict=True)
    ]
    return replace(drawn, dead=tuple(dead))


def _smeared(flags: Flags, sizes: Sequence[int], chance: Chance) -> Flags:
    firsts = np.concatenate([[0], np.cumsum(sizes)[:-1]])
    smeared = flags.copy()
    for way in np.flatnonzero(flags.any(axis=1)):
        spot = int(np.flatnonzero(flags[way])[0])
        spot -= int(firsts[np.searchsorted(firsts, spot, side="right") - 1])
        wide = int(chance.integers(3, 6))
        for first, size in zip(firsts, sizes, strict=True):
            smeared[way, first + min(spot, size) : first + min(spot + wide, size)] = (
                True
            )
    return smeared


KINDS = {
    "as guessed": Kind(),
    "tolerances twice as wide": Kind(ways=_twice),
    "dead spots in every row at once": Kind(dead=_dirty),
    "one answer in twenty wrong": Kind(trust=WRONG),
    "one answer in twenty wrong besides": Kind(trust=WORSE),
    "floor falls away outside": Kind(unit=_sloped),
    "the same, and no row read on it": Kind(falls=_fallen, unread=True),
    "sheet's angles wrong": Kind(unit=_other_sheet),
}


@dataclass(frozen=True)
class Door:
    """A doorway, what is guessed of it, and a raster over it."""

    question: Question
    scene: Scene
    guess: Guess
    fixed: int
    raster: tuple[Spot, ...]

    @property
    def known(self) -> Known:
        """The guess as answers are weighed by it."""
        minutes = np.full(len(self.guess.spots), MINUTES)
        room = np.array([spot.room for spot in self.guess.spots])
        found = self.guess
        return Known(found.weights, found.hole, found.reached, minutes, room)


def door_of(question: Question, seed: int = 1) -> Door:
    """A doorway with its guess."""
    scene = scene_of(question)
    given = four(scene)
    found = guess(question, given, seed=seed)
    return Door(question, scene, found, len(given), _raster(scene))


def _raster(scene: Scene) -> tuple[Spot, ...]:
    """Upright, then lying, along the door: rows on the leaf line, outside, inside."""
    bodies = {case.body.face: case.body for case in scene.cases}
    places: list[Spot] = []
    for face in ("upright", "on its face"):
        body = bodies[face]
        out = scene.ground.plan.half - body.width / 2
        for row in BESIDE:
            count = int(2 * out / APART) + 1
            along = np.linspace(-out, out, count)
            at = [(float(x), row * body.depth, 0.0) for x in along]
            places += [Spot(body, pose, 0.0) for pose in at]
    return tuple(places)


@dataclass(frozen=True)
class Truths:
    """What doorways really are: (n,) how often, with a hole or not, what is reached."""

    weights: Array
    hole: Flags
    reached: Flags
    raster: Flags


def truths(door: Door, kind: Kind, seed: int) -> Truths:
    """Truths of a kind, drawn by other chances than the guess."""
    chance = np.random.default_rng([seed, 4711])
    parts = [_truths(door, kind, chance) for _ in range(ROUNDS)]
    return Truths(
        np.concatenate([part.weights for part in parts]) / ROUNDS,
        np.concatenate([part.hole for part in parts]),
        np.concatenate([part.reached for part in parts], axis=1),
        np.concatenate([part.raster for part in parts], axis=1),
    )


def _truths(door: Door, kind: Kind, chance: Chance) -> Truths:
    scene, ways = door.scene, kind.ways(door.scene.ways)
    doorway = next(iter(door.question.values())).doorway
    falls = kind.falls(falls_of(doorway, ways))
    hung = mountings(ways, faults_of(doorway, ways), falls, chance)
    drawn = draws([m.weight for m in hung], AIMED, scene.units, chance)
    drawn = kind.dead(drawn, scene.units, chance)
    bodies = [case.body for case in scene.cases]
    units = [tuple(kind.unit(unit) for unit in m.units) for m in hung]
    throws = throws_of(scene, units, bodies)
    reached = reached_at(throws, drawn, door.guess.spots)
    raster = reached_at(throws, drawn, door.raster)
    shown = np.asarray(~reached.all(axis=0) | ~raster.all(axis=0))
    return Truths(drawn.weights, holes(scene, throws, drawn, shown)[0], reached, raster)


class Said(NamedTuple):
    """How likely a hole was thought to be, whether there was one, how often that is.

    `clear`: nobody had told of a body that was missed.
    """

    share: float
    hole: bool
    weight: float
    clear: bool


class Found(NamedTuple):
    """After how many places beyond the four each order found a hole."""

    ours: int
    least_room: int
    raster: int


@dataclass(frozen=True)
class Run:
    """One truth, told place by place."""

    door: Door
    truths: Truths
    number: int
    trust: Trust
    chance: Chance

    def answer(self, reached: bool) -> bool:
        """Whether the door stays open for a body that is reached, or is not."""
        good = self.trust.reached if reached else self.trust.missed
        return self.chance.random() < good

    def four(self) -> list[Answer]:
        """The answers of the boxes that are never left out."""
        reached = self.truths.reached[:, self.number]
        return [Answer(n, self.answer(reached[n])) for n in range(self.door.fixed)]

    def missed_first(self, reached: Sequence[bool] | Flags) -> int:
        """The first place, from 1, at which a body that is missed is told missed."""
        told = (
            n
            for n, met in enumerate(reached[:CAP], 1)
            if not met and not self.answer(met)
        )
        return next(told, CAP)


def followed(
    run: Run, before: Sequence[Answer]
) -> tuple[int, list[tuple[float, bool]]]:
    """Our order after some answers: when a hole is found, and what is thought.

    It goes on until all looks were taken: to leave off where a hole is found would
    leave only those alarms that were none.
    """
    known, reached = run.door.known, run.truths.reached[:, run.number]
    weights, found = weighed(known, before), CAP
    thought, clear = list[tuple[float, bool]](), all(one.good for one in before)
    left = list(range(run.door.fixed, len(reached)))
    for place in range(1, len(left) + 1):
        if place in LOOKS:
            thought.append((float(weights @ known.hole), clear))
        if found < CAP and place >= LOOKS[-1]:
            break
        told = scores(
            weights, known.hole, known.reached[left], known.minutes[left], SURE["body"]
        )
        alike = np.flatnonzero(told >= told.max() - LEAST)
        best = left.pop(int(alike[np.argmin(known.room[left][alike])]))
        good = run.answer(bool(reached[best]))
        clear = clear and good
        if not good and not reached[best]:
            found = min(found, place)
        weights = reweighed(weights, known.reached[best], SURE["body"], good=good)
    return found, thought


LOOKS = (1, 2, 4, 6, 8)
"""Before which places it is noted how likely a hole is thought to be."""
BINS = (0.0, 0.02, 0.05, 0.1, 0.2, 0.4, 0.6, 0.8, 1.01)


@dataclass(frozen=True)
class Tally:
    """What came of many truths of one doorway.

    Attributes:
        with_hole: how many have a hole.
        without: how many have none.
        shown: how many of those with a hole the four boxes show, by any order.
        found: of the others, when each order finds it; none for those that no place
            shows.
        said: what was thought before some places.
    """

    with_hole: int
    without: int
    shown: int
    found: tuple[Found | None, ...]
    said: tuple[Said, ...]


@dataclass(frozen=True)
class Bin:
    """Looks at which a hole was thought about as likely."""

    looks: int
    said: float
    was: float


@dataclass(frozen=True)
class Summary:
    """What came of many truths of many doorways.

    Attributes:
        with_hole, without: how many.
        shown: how many the four boxes show.
        hidden: how many no place shows.
        places: (n, 3) when the others are found by our order, by room, by raster.
        bins: how likely holes were thought to be, and were.
        clear: the same as long as nobody told of a body that was missed.
        overall: the same of all looks.
    """

    with_hole: int
    without: int
    shown: int
    hidden: int
    places: Array
    bins: tuple[Bin, ...]
    clear: tuple[Bin, ...]
    overall: tuple[float, float]


def summed(tallies: Sequence[Tally]) -> Summary:
    """What came of several doorways together."""
    every = [found for tally in tallies for found in tally.found]
    said = np.array([one for tally in tallies for one in tally.said])
    return Summary(
        sum(tally.with_hole for tally in tallies),
        sum(tally.without for tally in tallies),
        sum(tally.shown for tally in tallies),
        sum(found is None for found in every),
        np.array([found for found in every if found is not None]),
        _binned(said),
        _binned(said[said[:, 3] == 1.0]),
        _averages(said),
    )


def _binned(said: Array) -> tuple[Bin, ...]:
    masks = [(said[:, 0] >= low) & (said[:, 0] < high) for low, high in pairwise(BINS)]
    return tuple(
        Bin(int(mask.sum()), *_averages(said[mask])) for mask in masks if mask.any()
    )


def _averages(said: Array) -> tuple[float, float]:
    share, hole = np.average(said[:, :2], axis=0, weights=said[:, 2])
    return float(share), float(hole)


def tallies(doors: Iterable[Door], kind: Kind, each: int, most: int) -> Summary:
    """What comes of the first doorways that may have a hole and may have none.

    Where a kind of truth leaves no doorway without a hole there is nothing to find
    out by tests.
    """
    every = (tally(door, kind, number, each) for number, door in enumerate(doors))
    return summed(list(islice((one for one in every if one is not None), most)))


def tally(door: Door, kind: Kind, seed: int, each: int) -> Tally | None:
    """As many truths with a hole as without, as often as each is drawn.

    None if all have one, or none has; and where all rows were read that matter.
    """
    doorway = next(iter(door.question.values())).doorway
    if kind.unread and not any(most for _, most in falls_of(doorway, door.scene.ways)):
        return None
    drawn, chance = truths(door, kind, seed), np.random.default_rng([seed, 42])
    found, said = list[Found | None](), list[Said]()
    shown = 0
    if drawn.hole.all() or not drawn.hole.any():
        return None
    for has in (True, False):
        some = np.flatnonzero(drawn.hole == has)
        share = float(drawn.weights[some].sum())
        for number in chance.choice(some, each, p=drawn.weights[some] / share):
            run = Run(door, drawn, int(number), kind.trust, chance)
            place, thought = followed(run, run.four())
            said += [Said(one, has, share / each, clear) for one, clear in thought]
            reached = drawn.reached[:, number]
            if has and not reached[: door.fixed].all():
                shown += 1
            elif has:
                found.append(None if reached.all() else _orders(run, place))
    return Tally(each, each, shown, tuple(found), tuple(said))


def _orders(run: Run, ours: int) -> Found:
    reached = run.truths.reached[run.door.fixed :, run.number]
    room = np.argsort(run.door.known.room[run.door.fixed :], kind="stable")
    raster = run.truths.raster[:, run.number]
    return Found(ours, run.missed_first(reached[room]), run.missed_first(raster))
