"""Where a rule meets a door: every question, by name, with the limits it needs.

To add a question write a function of `Asked` and register it here with the
limits that a rule naming it must carry, and their dimensions.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from limen.findings import Finding
from limen.quantity import Dimension
from limen.questions import (
    approach_in_time,
    approach_slow,
    approach_zone,
    clear_width,
    contrast,
    energy,
    exposure,
    in_time_given,
    keeping,
    leaf_care,
    leaf_energy,
    leaf_escape,
    leaf_force,
    leaf_stop,
    marking,
    mounting,
    needless,
    obstacles,
    presence,
    presence_time,
    room,
    sight,
    wiring,
    wiring_faults,
    wiring_lead,
    wiring_papers,
    wiring_supply,
)
from limen.questions.asking import Asked

BODY: dict[str, Dimension] = dict.fromkeys(presence.BODY, Dimension.LENGTH)
ROOM: dict[str, Dimension] = dict.fromkeys(room.ROOM, Dimension.LENGTH)
MARKS: dict[str, Dimension] = {
    **dict.fromkeys(marking.BANDS, Dimension.LENGTH),
    marking.SIGNED: Dimension.RATIO,
}


@dataclass(frozen=True, slots=True)
class Question:
    """A question: its function and the limits it reads."""

    ask: Callable[[Asked], tuple[Finding, ...]]
    limits: Mapping[str, Dimension] = field(default_factory=dict[str, Dimension])


QUESTIONS: Mapping[str, Question] = MappingProxyType(
    {
        "presence.threshold": Question(
            presence.threshold, {**BODY, "zone_reach": Dimension.LENGTH}
        ),
        "presence.leaf_path": Question(
            presence.leaf_path, {**BODY, "ignored_gap": Dimension.LENGTH}
        ),
        "presence.side_screen": Question(room.side_screen, {**ROOM, **BODY}),
        "presence.self_view": Question(sight.self_view),
        "presence.neighbours": Question(sight.neighbours),
        "presence.response": Question(
            presence_time.response, {"leaf_covers": Dimension.LENGTH}
        ),
        "presence.hold_time": Question(
            presence_time.hold_time, {"hold": Dimension.TIME}
        ),
        "presence.contrast": Question(
            contrast.told_from_the_floor,
            dict.fromkeys(contrast.FACES, Dimension.RATIO),
        ),
        "approach.minimum_zone": Question(
            approach_zone.minimum_zone,
            dict.fromkeys(approach_zone.ZONE, Dimension.LENGTH),
        ),
        "approach.slow_walker": Question(
            approach_slow.slow_walker,
            {"body_height": Dimension.LENGTH, "speed": Dimension.SPEED},
        ),
        "approach.opens_in_time": Question(
            approach_in_time.opens_in_time, in_time_given.LIMITS
        ),
        "approach.passers_by": Question(needless.passers_by),
        "approach.energy": Question(energy.energy),
        "leaf.gaps": Question(
            room.gaps,
            dict.fromkeys(
                ("finger_small", "finger_large", "leading_edge"), Dimension.LENGTH
            ),
        ),
        "leaf.closing_energy": Question(leaf_energy.closing_energy, leaf_energy.ENERGY),
        "leaf.closing_force": Question(leaf_force.closing_force, leaf_force.FORCE),
        "leaf.stops_in_time": Question(leaf_stop.stops_in_time, leaf_stop.STEP),
        "leaf.escape_opening": Question(leaf_escape.escape_opening, leaf_escape.ESCAPE),
        "leaf.power_loss": Question(leaf_escape.power_loss, leaf_escape.POWER),
        "leaf.modes": Question(leaf_escape.modes, leaf_escape.MODES),
        "leaf.mechanics": Question(leaf_care.mechanics),
        "wiring.inputs": Question(wiring.inputs),
        "wiring.fail_safe": Question(wiring_faults.fail_safe),
        "wiring.voltage": Question(
            wiring_lead.voltage, {"short_lead": Dimension.LENGTH}
        ),
        "wiring.supply": Question(wiring_supply.supply),
        "wiring.performance_level": Question(
            wiring_papers.performance_level,
            dict.fromkeys(wiring_papers.LIMITS.values(), Dimension.FREQUENCY),
        ),
        "mounting.height": Question(mounting.height),
        "mounting.position": Question(mounting.position),
        "mounting.exposure": Question(exposure.exposure),
        "site.obstacles": Question(obstacles.obstacles, ROOM),
        "site.marking": Question(marking.marking, MARKS),
        "site.clear_width": Question(
            clear_width.clear_width, {"least_width": Dimension.LENGTH}
        ),
        "keeping.due": Question(
            keeping.due,
            {keeping.INTERVAL: Dimension.CALENDAR, keeping.DAILY: Dimension.TIME},
        ),
    }
)
