"""Which tests a question has at the door, and what touches it that no study reckons.

What a question reads of a doorway is found by letting it read (`desk.reading_facts`);
here stands what cannot be found so.  All of it is common practice, no source.
"""

from collections.abc import Collection, Mapping

Way = tuple[str, ...]
"""Keys within a doorway; what stands in a list goes by its name, in brackets."""

ANY = "*"
"""In a pattern: whatever stands there."""
UNIT = ("fitting", ANY)
_BODY = ("presence.threshold", "presence.leaf_path")
_FIELD = ("approach.minimum_zone", "approach.opens_in_time", "approach.slow_walker")

_CLOSING = ("leaf.closing_force", "leaf.stops_in_time")
_OPENING = ("approach.opens_in_time", "presence.side_screen")
_OF_CLOSING = (
    "closing_speed",
    "closing_acceleration",
    "closing_time",
    "closing_runs",
    "closing_energy",
    "slow_zone",
    "slow_speed",
    "reversal_delay",
    "braking",
)
_OF_OPENING = (
    "opening_speed",
    "opening_acceleration",
    "opening_time",
    "opening_runs",
    "start_delay",
    "time_to_most",
)

TESTS: Mapping[str, tuple[str, ...]] = {
    "presence.threshold": ("box", "still", "place"),
    "presence.leaf_path": ("box", "closing", "place"),
    "presence.side_screen": ("trailing",),
    "presence.self_view": ("closing",),
    "presence.neighbours": ("still",),
    "presence.response": ("closing",),
    "presence.hold_time": ("still",),
    "presence.contrast": ("box", "still"),
    "approach.minimum_zone": ("walk",),
    "approach.slow_walker": ("walk",),
    "approach.opens_in_time": ("walk",),
    "approach.passers_by": ("walk",),
    "leaf.gaps": ("trailing",),
    "leaf.closing_energy": ("closing",),
    "leaf.stops_in_time": ("closing",),
    "leaf.escape_opening": ("power", "walk"),
    "leaf.power_loss": ("power",),
    "leaf.modes": ("box", "walk"),
    "leaf.mechanics": ("closing", "trailing", "power"),
    "wiring.inputs": ("plug",),
    "wiring.fail_safe": ("plug",),
    "wiring.voltage": ("plug",),
    "wiring.supply": ("plug",),
    "mounting.height": ("box", "walk"),
    "mounting.position": ("box",),
    "site.obstacles": ("trailing",),
}
"""By question the kinds of test in which its answer shows at the door."""

NO_TEST: Mapping[str, str] = {
    "leaf.closing_force": "measured",
    "approach.energy": "reckoned",
    "wiring.performance_level": "paper",
    "mounting.exposure": "weather",
    "site.marking": "looked",
    "site.clear_width": "taped",
    "keeping.due": "calendar",
}
"""Questions of which no test at a door tells, and what does."""

WORK: Mapping[str, tuple[str, ...]] = {
    "leaf.closing_force": ("force",),
    "leaf.closing_energy": ("force",),
    "site.marking": ("signs",),
}
"""By question the work in which it is measured or looked at anew."""

BESIDES: tuple[tuple[Way, tuple[str, ...]], ...] = (
    ((*UNIT, "sheet"), (*_BODY, *_FIELD, "wiring.inputs", "wiring.fail_safe")),
    ((*UNIT, "lens"), (*_BODY, *_FIELD)),
    ((*UNIT, "place"), (*_BODY, *_FIELD)),
    ((*UNIT, "beams"), _BODY),
    *(((*UNIT, "read", one), _BODY) for one in ("first_row", "left_end", "right_end")),
    *(
        ((*UNIT, "settings", one), (*_BODY, "presence.side_screen"))
        for one in ("tilt", "roll", "yaw", "fan", "rows_on")
    ),
    ((*UNIT, "settings", "steadiness"), (*_BODY, "presence.response")),
    ((*UNIT, "settings", "channel"), ("presence.neighbours",)),
    ((*UNIT, "settings", "hold"), ("presence.hold_time",)),
    *(
        ((*UNIT, "settings", one), _FIELD)
        for one in ("radar_tilt", "radar_yaw", "reach", "array")
    ),
    ((*UNIT, "covered"), _BODY),
    ((*UNIT, "wires"), ("wiring.inputs", "wiring.fail_safe")),
    ((*UNIT, "wires", ANY, "to"), (*_BODY, *_FIELD)),
    ((*UNIT, "wires", ANY, "output"), (*_BODY, *_FIELD)),
    ((*UNIT, "cable"), ("wiring.voltage",)),
    (("operator",), ("wiring.inputs", "wiring.fail_safe")),
    (("operator", "inputs", ANY, "does"), (*_BODY, *_FIELD)),
    (("operator", "inputs", ANY, "name"), (*_BODY, *_FIELD)),
    *((("motion", one), _CLOSING) for one in _OF_CLOSING),
    *((("motion", one), _OPENING) for one in _OF_OPENING),
    (("motion", "hold_open"), ("approach.slow_walker",)),
    (("leaves",), ("leaf.closing_force", "leaf.power_loss")),
    (("mechanics",), ("leaf.mechanics", "leaf.closing_force")),
    (("power_loss",), ("leaf.power_loss",)),
    (("modes",), ("leaf.modes",)),
    (("mode_switch",), ("leaf.modes",)),
    (("reduced_width",), ("leaf.modes", "approach.opens_in_time")),
    (("presence_ignored_below",), ("presence.leaf_path",)),
    (("floor",), ("presence.threshold", "presence.contrast")),
    (("thing",), (*_BODY, "site.obstacles")),
    (("side_space",), ("presence.side_screen", "leaf.gaps", "site.obstacles")),
    (("facing",), ("presence.neighbours",)),
    (("beside",), ("presence.neighbours",)),
)
"""What a test would tell of a key though no study ties them together."""

NOT_FELT: tuple[tuple[str, tuple[Way, ...]], ...] = (
    ("wiring.", (("clear_width",), (*UNIT, "lens"), (*UNIT, "place"))),
    ("approach.", (("floor",), (*UNIT, "aim"))),
    ("mounting.", ((*UNIT, "mount"), (*UNIT, "aim"))),
    ("", (("id",), ("name",), (*UNIT, "id"), ("use",), ("traffic",))),
)
"""What questions, by the beginning of their names, look at only to know whether, or of
whom, they ask: no test of theirs is spoilt by it while the answer stays the same."""

ONLY: tuple[tuple[Way, tuple[str, ...]], ...] = (
    (("presence_ignored_below",), ("closing",)),
    ((*UNIT, "wires", ANY, "test_enabled"), ("plug",)),
)
"""Keys that spoil but some of the tests of the questions that look at them."""

_ROWS = tuple((*UNIT, "settings", one) for one in ("tilt", "roll", "yaw"))
_RADAR = tuple(
    (*UNIT, "settings", one) for one in ("radar_tilt", "radar_yaw", "reach", "array")
)
_WIRES: tuple[Way, ...] = ((*UNIT, "wires"), ("operator",))
_RUN: tuple[Way, ...] = (("motion",), ("mechanics",))
EVERYTHING: tuple[Way, ...] = ((),)
"""The empty way: it touches whatever is asked of a door."""

DONE: Mapping[str, tuple[Way, ...]] = {
    "mechanics": (),
    "operator_learns": _RUN,
    "wires": _WIRES,
    "test_enabled": ((*UNIT, "wires", ANY, "test_enabled"),),
    "mount": ((*UNIT, "lens"), *_ROWS, *_RADAR, *_WIRES[:1]),
    "cable_loop": ((*UNIT, "cable"),),
    "aim": _ROWS,
    "widths": ((*UNIT, "settings", "fan"), (*UNIT, "settings", "rows_on")),
    "channels": ((*UNIT, "settings", "channel"),),
    "learn": (("floor", "reflectance"),),
    "pause_over": (),
    "radar": _RADAR,
    "timing": (("motion",), (*UNIT, "settings", "hold")),
    "force": (),
    "signs": (),
    "log": (),
}
"""By piece of work (`prove.work`) what it changes, whether or not anybody wrote it
down: what lies further down in the order of work is open again by it."""

MENDED: Mapping[str, tuple[Way, ...]] = {
    "curtain": (*_ROWS, (*UNIT, "lens"), *_WIRES[:1]),
    "approach": _RADAR,
    "wiring": _WIRES,
    "opening": (("modes",), *_RADAR, ("power_loss",)),
    "drive": _RUN,
    "power": (("power_loss",),),
    "all": EVERYTHING,
}
"""By the group of tests that a mended cause owes (`keep.causes`) what it touches."""

FITTED: tuple[Way, ...] = (*_RUN, ("power_loss",))
"""What a part that is of no unit touches: drive, leaves and what moves them without
power."""

KINDS: Mapping[str, tuple[Way, ...]] = {
    "spot centre": _ROWS,
    "row line": _ROWS,
    "row end": (*_ROWS, (*UNIT, "settings", "fan")),
    "box edge in": (*_ROWS, (*UNIT, "settings", "steadiness")),
    "box edge out": (*_ROWS, (*UNIT, "settings", "steadiness")),
    "lens": ((*UNIT, "lens"), *_ROWS),
}
"""By kind of reading what must have moved where it reads otherwise."""


def of_unit(ways: Collection[Way], fitting: str) -> tuple[Way, ...]:
    """Patterns of a unit as ways of this one.

    Args:
        ways: patterns.
        fitting: id of the unit.
    """
    name = f"[{fitting}]"
    return tuple((way[0], name, *way[2:]) if way[:2] == UNIT else way for way in ways)


def touches(changed: Way, read: Way) -> bool:
    """Whether what was changed is, or holds, what is read.

    A table that is only looked through, to find what stands in it, is not touched by
    a change of what stands there.

    Args:
        changed: a way or a pattern.
        read: a way or a pattern.
    """
    return len(changed) <= len(read) and _alike(changed, read)


def meets(one: Way, other: Way) -> bool:
    """Whether one of two ways or patterns leads to, or through, the other."""
    return _alike(one, other)


def _alike(one: Way, other: Way) -> bool:
    pairs = zip(one, other, strict=False)
    return all(ANY in pair or pair[0] == pair[1] for pair in pairs)


def spoils(group: str, changed: Collection[Way]) -> bool:
    """Whether what was changed may spoil a kind of test at all.

    Args:
        group: the kind of test.
        changed: what was changed.
    """
    return not changed or any(
        all(group in groups for way, groups in ONLY if touches(way, one))
        for one in changed
    )


def questions_on(
    changed: Collection[Way], reads: Mapping[str, Collection[Way]]
) -> frozenset[str]:
    """The questions whose tests may be spoilt by what was changed.

    More changes never touch fewer questions.

    Args:
        changed: what was changed.
        reads: by question what it reads of the doorway.
    """
    seen = {
        question
        for question, read in reads.items()
        for way in changed
        if _felt(question, way) and any(touches(way, one) for one in read)
    }
    besides = (
        question
        for pattern, questions in BESIDES
        if any(meets(way, pattern) for way in changed)
        for question in questions
    )
    return frozenset(seen).union(besides)


def _felt(question: str, way: Way) -> bool:
    """Whether a change is more to a question than whether, or of whom, it asks."""
    return not any(
        question.startswith(begins) and len(way) >= len(one) and _alike(way, one)
        for begins, ways in NOT_FELT
        for one in ways
    )
