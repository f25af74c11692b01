"""What may be wrong at a doorway, and at which places a body would show it."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from limen.geometry.turns import Array
from limen.physics.coverage.pose import Pose
from limen.physics.reach import Body, Ground, Unit
from limen.prove.casting import Flags, Half, Thrown, met, thrown
from limen.prove.dead import Draws, draws
from limen.prove.holes import Prover, Throws, asked_cases, missed_by
from limen.prove.imagining import AIMED, Ways, falls_of, faults_of, mountings
from limen.prove.places import Spot, candidates, chosen, topped_up
from limen.prove.unknown import stretches
from limen.questions.asking import Asked
from limen.questions.coverage import Case, widest
from limen.questions.presence import path_cases, threshold_cases

MOST = 40
FEWEST = 16
SEED = 1
SET_OUT = 0.01
"""How closely a body is set down at a door (m): what is missed only where it is struck
by less is proved at the desk and found at no door."""
UNFORESEEN = 0.015
"""How often a body is missed in a way that is not imagined, at none of the places:
an estimate.  Places are chosen by what is imagined, so they show less of what is so."""
LIKELIEST_FIRST = ("upright", "on its edge", "on its face")


@dataclass(frozen=True, slots=True)
class Guess:
    """What is thought of a doorway before anything was tested.

    Attributes:
        weights: (n,) how likely each way is in which it may be; they add up to 1.
        hole: (n,) whether a body is missed somewhere in it.
        spots: where the body can be put: those that were given, then further ones,
            the most telling first.
        reached: (spots, n) whether the body is reached at each of them.
    """

    weights: Array
    hole: Flags
    spots: tuple[Spot, ...]
    reached: Flags


@dataclass(frozen=True, slots=True)
class Scene:
    """A doorway as it is guessed about.

    Attributes:
        ways: its units under each reading of their manuals.
        ground: the floor and what stands in the way.
        cases: what is asked of the body, its likeliest failures first.
        known: whether it is known of every unit what it casts.
    """

    ways: Ways
    ground: Ground
    cases: tuple[Case, ...]
    known: bool

    @property
    def units(self) -> tuple[Unit, ...]:
        """The units under the first reading."""
        return self.ways[0] if self.ways else ()


def guess(
    asked: Mapping[str, Asked],
    fixed: Sequence[tuple[Body, Pose]] = (),
    *,
    most: int = MOST,
    seed: int = SEED,
) -> Guess:
    """What may be wrong at a doorway, and where a body would show it.

    Args:
        asked: what is put to the doorway, by question (`study.running.asked_of`).
        fixed: bodies at rest and poses that are tested anyway; they come first.
        most: how many further places at most.
        seed: of the sample: equal doorways are guessed alike.
    """
    scene, chance = scene_of(asked), np.random.default_rng(seed)
    given = [Spot(body, pose, -np.inf) for body, pose in fixed]
    if not scene.known:
        return _guessed_blindly(scene, given, most, chance)
    doorway = next(iter(asked.values())).doorway
    faults, falls = faults_of(doorway, scene.ways), falls_of(doorway, scene.ways)
    hung = mountings(scene.ways, faults, falls, chance)
    drawn = draws([m.weight for m in hung], AIMED, scene.units, chance)
    return guessed(scene, [m.units for m in hung], drawn, given, most)


def scene_of(asked: Mapping[str, Asked]) -> Scene:
    """A doorway as it is guessed about.

    Args:
        asked: what is put to it, by question.
    """
    topics = (
        ("presence.leaf_path", path_cases),
        ("presence.threshold", threshold_cases),
    )
    every = [c.known for name, of in topics if name in asked for c in of(asked[name])]
    cases = sorted(
        asked_cases(widest(every)), key=lambda c: LIKELIEST_FIRST.index(c.body.face)
    )
    settled = next(iter(asked.values())).settled
    struck, ways = tuple(_struck(case) for case in cases), settled.ways()
    known = bool(ways) and not settled.all_lacks()
    return Scene(ways, settled.ground, struck, known)


def _struck(case: Case) -> Case:
    """The case with only bodies that the leaves strike by more than one can tell."""
    path = case.place.must_meet
    if path is None:
        return case
    core = path.grown(
        -min(SET_OUT, (path.right - path.left) / 2),
        -min(SET_OUT, (path.far - path.near) / 2),
    )
    return replace(case, place=replace(case.place, must_meet=core))


def _guessed_blindly(
    scene: Scene, given: Sequence[Spot], most: int, chance: np.random.Generator
) -> Guess:
    """A guess where it is not known what some unit casts."""
    spots = (*given, *candidates(scene.cases, scene.ground))
    weights, hole, reached = stretches(spots, scene.ground.plan.half, chance)
    further = spots[len(given) :]
    pick = chosen(further, ~reached[len(given) :, hole], weights[hole], most)
    at = [*range(len(given)), *(len(given) + n for n in pick)]
    return Guess(weights, hole, tuple(spots[n] for n in at), reached[at])


def guessed(
    scene: Scene,
    hung: Sequence[Sequence[Unit]],
    drawn: Draws,
    given: Sequence[Spot],
    most: int,
) -> Guess:
    """What a body would show of these ways in which a doorway may be.

    Args:
        scene: the doorway.
        hung: the units of each mounting.
        drawn: mountings with dead spots.
        given: places that are tested anyway.
        most: how many further places at most.
    """
    bodies = (*(c.body for c in scene.cases), *(spot.body for spot in given))
    throws = throws_of(scene, hung, bodies)
    grid = with_room(scene, candidates(scene.cases, scene.ground))
    reached = reached_at(throws, drawn, grid)
    sure = np.logical_not(reached).any(axis=0)
    hole, shown = holes(scene, throws, drawn, np.asarray(sure))
    further = (*grid, *with_room(scene, shown))
    here = np.concatenate([reached, reached_at(throws, drawn, shown)])
    pick = chosen(further, ~here[:, hole], drawn.weights[hole], most)
    pick = topped_up(pick, further, min(most, FEWEST))
    spots = (*with_room(scene, given), *(further[n] for n in pick))
    own = reached_at(throws, drawn, given)
    here = np.concatenate([own, here[pick]])
    found = Guess(drawn.weights, hole, spots, here)
    return _and_the_unforeseen(found) if scene.cases else found


def _and_the_unforeseen(found: Guess) -> Guess:
    """One more way, in which a body is missed where nobody looks for it."""
    return replace(
        found,
        weights=np.append((1.0 - UNFORESEEN) * found.weights, UNFORESEEN),
        hole=np.append(found.hole, True),
        reached=np.pad(found.reached, ((0, 0), (0, 1)), constant_values=True),
    )


def with_room(scene: Scene, spots: Sequence[Spot]) -> tuple[Spot, ...]:
    """The places with the least room that any reading of the manuals leaves there."""
    room = np.full(len(spots), np.inf if scene.ways else -np.inf)
    for body in dict.fromkeys(spot.body for spot in spots):
        rows = [n for n, spot in enumerate(spots) if spot.body == body]
        poses = [spots[n].pose for n in rows]
        for units in scene.ways:
            throws = tuple({body: thrown(u, scene.ground, body)} for u in units)
            missed = missed_by(throws, body, poses)
            room[rows] = np.minimum(room[rows], -missed)
    return tuple(replace(s, room=float(r)) for s, r in zip(spots, room, strict=True))


def throws_of(
    scene: Scene, hung: Sequence[Sequence[Unit]], bodies: Iterable[Body]
) -> list[Throws]:
    """What the units of each mounting cast, each unit traced once.

    Args:
        scene: the doorway.
        hung: the units of each mounting.
        bodies: for which.
    """
    faces = tuple(dict.fromkeys(bodies))
    known: dict[int, dict[Body, Thrown]] = {}
    for unit in (unit for units in hung for unit in units):
        if id(unit) not in known:
            known[id(unit)] = {body: thrown(unit, scene.ground, body) for body in faces}
    return [tuple(known[id(unit)] for unit in units) for units in hung]


def reached_at(throws: Sequence[Throws], drawn: Draws, spots: Sequence[Spot]) -> Flags:
    """(spots, n) whether a body is reached at each place in each way."""
    reached = np.zeros((len(spots), len(drawn.weights)), np.bool_)
    for body in dict.fromkeys(spot.body for spot in spots):
        rows = [n for n, spot in enumerate(spots) if spot.body == body]
        poses = [spots[n].pose for n in rows]
        hits: dict[int, Half] = {}
        for number, units in enumerate(throws):
            columns = np.flatnonzero(drawn.mounting == number)
            here = np.zeros((len(rows), len(columns)), np.bool_)
            for unit, dead in zip(units, drawn.dead, strict=True):
                own = unit[body]
                if id(own) not in hits:
                    hit = met(own.lines, body, poses) & own.lit
                    hits[id(own)] = hit.astype(np.float32)
                left = hits[id(own)] @ (~dead[columns]).T.astype(np.float32)
                here |= left >= own.needed
            reached[np.array(rows)[:, None], columns] = here
    return reached


def holes(
    scene: Scene, throws: Sequence[Throws], drawn: Draws, sure: Flags
) -> tuple[Flags, tuple[Spot, ...]]:
    """Whether a body is missed somewhere in each way, and places that show it.

    Args:
        scene: the doorway.
        throws: what the units of each mounting cast.
        drawn: mountings with dead spots.
        sure: (n,) ways of which it is known already.

    Returns:
        (n,) flags, and places of those that were not known.
    """
    prover = Prover(scene.ground, scene.cases, [u.fitting for u in scene.units])
    hole, shown = sure.copy(), dict[Spot, None]()
    for number, units in enumerate(throws):
        whole, *others = np.flatnonzero(drawn.mounting == number)
        for column in (whole, *others):
            if hole[whole]:  # what is missed with every spot alive is missed without
                hole[others] = True
                break
            if hole[column]:
                continue
            dead = [some[column] for some in drawn.dead]
            alive = column == whole
            found = prover.anywhere(units) if alive else prover.about(units, dead)
            if found is not None:
                hole[column] = True
                shown |= dict.fromkeys(prover.set_out(found, units, dead))
    return hole, tuple(shown)
