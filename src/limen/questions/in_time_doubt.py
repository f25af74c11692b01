"""What would settle it where a door is late by the worse end of its figures only."""

from collections.abc import Iterator
from dataclasses import replace

from limen.findings import Lack
from limen.physics.in_time import Approach
from limen.physics.in_time_worst import Sweep
from limen.questions.approach_field import FieldFacts
from limen.questions.approach_lobes import walk_of
from limen.questions.asking import Asked, lack, once
from limen.questions.in_time_given import Given, Maybe, from_where, way_of


def what_settles(asked: Asked, one: Given, better: Maybe) -> tuple[Lack, ...]:
    """The figures that, known at their better end, would let nobody be late.

    Each of field, leaves and headings is put at its better end, the others kept at
    the worse. Where no single one of them would do, all that leave anything open
    are named.

    Args:
        asked: the question.
        one: the side, by the worse end of every figure.
        better: the same by the better end.
    """
    surely, may, speed = one.surely, better.approach, one.fastest.high
    ways = (
        (replace(surely, fields=may.fields), tuple(_of_fields(one))),
        (replace(surely, edges=may.edges), tuple(_of_leaves(asked))),
        (replace(surely, headings=may.headings), tuple(_of_headings(asked, one))),
    )
    enough = [lacks for way, lacks in ways if lacks and _serves(way, speed)]
    chosen = enough or [lacks for _, lacks in ways]
    found = once(item for lacks in chosen for item in lacks)
    return found or (lack("in_time.lack.closer", "motion.opening_time"),)


def _serves(way: Approach, speed: float) -> bool:
    return Sweep(way).in_time(speed, speed)


def _of_fields(one: Given) -> Iterator[Lack]:
    """What the inner and the outer field differ by."""
    for facts in one.fields:
        yield from _of_field(facts)


def _of_field(facts: FieldFacts) -> Iterator[Lack]:
    if not facts.fitting.read.lit_ahead:
        yield walk_of(facts.fitting)
    if any(len(radar.contours) > 1 for radar in facts.inners):
        yield lack("in_time.lack.beam", "sheet.motion.lobe")
    if len(facts.inners) > 1:
        key = f"fitting[{facts.fitting.id}].settings.radar_tilt"
        yield lack("in_time.lack.tilt", key, {"fitting": facts.fitting.id})


def _of_leaves(asked: Asked) -> Iterator[Lack]:
    """What the slow and the quick end of the opening differ by."""
    motion = asked.doorway.motion
    if motion.opening_speed is None or motion.opening_acceleration is None:
        yield lack("in_time.lack.opening", "motion.opening_acceleration")
    elif motion.opening_time is not None or motion.opening_runs:
        yield lack("in_time.lack.closer", "motion.opening_time")


def _of_headings(asked: Asked, one: Given) -> Iterator[Lack]:
    if way_of(asked, one.side) is None:
        yield from_where(one.side)
