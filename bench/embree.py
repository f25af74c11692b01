"""The coverage proof against rays: trimesh and Embree over a grid of poses.

The reference way, made as good as it can be: rays moved into the body's frame, one
static box, batches of 100,000 rays or more. It is timed on 5,000 poses or more of a
1 cm / 5 degree grid over the zone and scaled to the whole grid. The last column scales
it only to the poses at which a body may be and is asked for: what is left for rays if
somebody else, at no cost, has told them where to look.

Run: python bench/embree.py
"""

import sys
from pathlib import Path
from statistics import median
from time import perf_counter

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent / "tests"))

from limen.physics import coverage
from oracles import adversary, rays
from oracles.doorways import Doorway, Floats, plan_of, random_doorway

STEP = 0.010
TURN = np.radians(5.0)
TIMED = 5000
BATCH = 200_000


def grid(doorway: Doorway) -> Floats:
    """Every pose of the grid over the zone, (m, 3); half a turn is all there is."""
    plan = plan_of(doorway)
    xmin, xmax, ymin, ymax = plan.zone
    axes = (
        np.arange(xmin, xmax + STEP, STEP),
        np.arange(ymin, ymax + STEP, STEP),
        np.arange(0.0, np.pi - TURN / 2, TURN),
    )
    return np.stack(np.meshgrid(*axes, indexing="ij"), -1).reshape(-1, 3)


def asked(doorway: Doorway, poses: Floats) -> Floats:
    """Those of the poses at which a body may be and is asked for."""
    return poses[adversary.may_be(plan_of(doorway), poses)]


def embree_reference(doorway: Doorway, timed: int = TIMED) -> tuple[float, int]:
    """Seconds for the whole grid (scaled), and how many poses were timed."""
    poses = grid(doorway)
    rng = np.random.default_rng(doorway.seed)
    where = asked(doorway, poses)
    some = where[rng.permutation(len(where))[: max(timed, TIMED)]]
    needed = plan_of(doorway).needed
    begun = perf_counter()
    box = rays.StaticBox(doorway)
    batch = -(-BATCH // box.beams)
    for first in range(0, len(some), batch):
        np.any(box.counts(some[first : first + batch]) >= needed, axis=1)
    return (perf_counter() - begun) * len(poses) / len(some), len(some)


def proof_seconds(doorway: Doorway, repeats: int = 15) -> tuple[float, str]:
    """Median seconds of the proof, and its verdict; the beams are given."""
    plan = plan_of(doorway)
    times: list[float] = []
    verdict = ""
    for _ in range(repeats):
        begun = perf_counter()
        proof = coverage.prove(
            plan.segments,
            plan.zone,
            plan.body,
            group=plan.group,
            needed=plan.needed,
            blocked=plan.blocked,
            must_meet=plan.must_meet,
        )
        times.append(perf_counter() - begun)
        verdict = str(proof.verdict)
    return median(times), verdict


def main(count: int = 16) -> None:
    """Print one line a doorway and the median ratio of each verdict."""
    proof_seconds(random_doorway(0))
    embree_reference(random_doorway(0))
    ratios: dict[str, list[float]] = {}
    fewer: dict[str, list[float]] = {}
    print("doorway beams  grid poses Embree s proof ms verdict    ratio  asked only")
    for seed in range(count):
        doorway = random_doorway(seed)
        reference, _ = embree_reference(doorway)
        proof, verdict = proof_seconds(doorway)
        poses = grid(doorway)
        share = len(asked(doorway, poses)) / len(poses)
        ratio = reference / proof
        for key in (verdict, "all"):
            ratios.setdefault(key, []).append(ratio)
            fewer.setdefault(key, []).append(ratio * share)
        beams = len(plan_of(doorway).segments)
        print(
            f"{seed:7} {beams:5} {len(poses):11} {reference:8.2f} {1e3 * proof:8.3f}"
            f" {verdict:9} {ratio:6.0f} {ratio * share:11.0f}"
        )
    for key in sorted(ratios):
        print(
            f"median ratio, {key}: {median(ratios[key]):.0f}"
            f" (least {min(ratios[key]):.0f});"
            f" asked only: {median(fewer[key]):.0f}"
        )


if __name__ == "__main__":
    main()
