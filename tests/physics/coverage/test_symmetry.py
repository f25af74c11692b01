"""Properties no coverage proof may lack."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.physics.coverage import Problem, prove, solve
from physics.coverage.problems import doorway, problem

SEEDS = st.integers(0, 10**6)
TURN_ABOUT = np.array([-1, -1, -1, -1])
MIRROR = np.array([-1, 1, -1, 1])


def opposite(box: tuple[float, ...]) -> tuple[float, ...]:
    return (-box[1], -box[0], *box[2:])


def turned(box: tuple[float, ...]) -> tuple[float, ...]:
    return (-box[1], -box[0], -box[3], -box[2])


def contradict(one: str, other: str) -> bool:
    return {one, other} == {"holds", "fails"}


@given(SEEDS)
@settings(max_examples=40)
def test_a_mirrored_doorway_has_the_same_answer(seed: int) -> None:
    segments, zone, body, options = doorway(seed)
    there = prove(segments, zone, body, **options)
    options["must_meet"] = opposite(options["must_meet"])
    if "blocked" in options:
        options["blocked"] = [opposite(b) for b in options["blocked"]]
    back = prove(segments * MIRROR, opposite(zone), body, **options)
    assert not contradict(there.verdict, back.verdict)


@given(SEEDS)
@settings(max_examples=40)
def test_a_doorway_turned_by_half_a_turn_has_the_same_answer(seed: int) -> None:
    segments, zone, body, options = doorway(seed)
    there = prove(segments, zone, body, **options)
    options["must_meet"] = turned(options["must_meet"])
    if "blocked" in options:
        options["blocked"] = [turned(b) for b in options["blocked"]]
    back = prove(segments * TURN_ABOUT, turned(zone), body, **options)
    assert not contradict(there.verdict, back.verdict)


@given(SEEDS)
@settings(max_examples=30)
def test_a_body_whose_sides_are_swapped_is_the_body_turned(seed: int) -> None:
    segments, zone, (w, d), options = doorway(seed)
    there = prove(segments, zone, (w, d), **options)
    assert not contradict(
        there.verdict, prove(segments, zone, (d, w), **options).verdict
    )


@given(SEEDS, st.floats(0.05, 1.0))
@settings(max_examples=40)
def test_more_beams_never_undo_what_holds(seed: int, share: float) -> None:
    segments, zone, body, options = doorway(seed)
    count = max(1, int(share * len(segments)))
    keep = np.sort(np.random.default_rng(seed).permutation(len(segments))[:count])
    fewer = {
        **options,
        "group": options["group"][keep],
        "needed": [options["needed"]] * 2,
    }
    part = prove(segments[keep], zone, body, **fewer)
    if part.verdict == "holds":
        assert prove(segments, zone, body, **options).verdict != "fails"


@given(SEEDS, st.floats(-0.05, 0.05), st.floats(0.0, 0.05))
@settings(max_examples=60)
def test_a_larger_body_never_undoes_what_holds(
    seed: int, grow: float, more: float
) -> None:
    asked = problem(seed)
    if solve(asked, grow=grow).verdict == "holds":
        assert solve(asked, grow=grow + more).verdict != "fails"


@given(SEEDS, st.floats(0.0, 0.01))
@settings(max_examples=40)
def test_a_larger_error_never_mends_what_fails(seed: int, error: float) -> None:
    segments, zone, body, options = doorway(seed)
    if prove(segments, zone, body, **options).verdict == "fails":
        found = prove(segments, zone, body, tolerance=error, **options)
        assert found.verdict != "holds"


@given(SEEDS, st.integers(-3, 3))
@settings(max_examples=20)
def test_the_answer_scales_with_the_doorway(seed: int, power: int) -> None:
    segments, zone, body, options = doorway(seed)
    there = prove(segments, zone, body, **options)
    scale = 2.0**power
    asked = Problem.build(
        segments * scale,
        np.array(zone) * scale,
        np.array(body) * scale,
        group=options["group"],
        needed=options["needed"],
        must_meet=np.array(options["must_meet"]) * scale,
        blocked=np.array(options.get("blocked", ())) * scale,
    )
    assert solve(asked, resolution=5e-4 * scale).verdict == there.verdict
