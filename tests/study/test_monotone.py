"""What makes a door worse never turns a finding to *holds*.

Doorways with gaps, drawn by Hypothesis, made worse in one way: less reach, more
delay, a heavier leaf, a narrower fan, looser tolerance, and so on.
"""

from collections.abc import Callable, Iterator
from copy import deepcopy
from dataclasses import dataclass, replace
from datetime import date
from itertools import islice
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from builders.doorways import built
from limen.findings import Finding, Verdict
from limen.model.doorway import Doorway
from limen.model.radar import Motion
from limen.physics.radar_beam import HALF_WAVE
from limen.physics.radar_fit import Antenna, Fit, Reference, field_size, fits
from limen.questions import QUESTIONS
from limen.questions.approach_lobes import RESIDUAL
from limen.questions.asking import Asked
from limen.questions.settled import settle
from limen.rules import Rule
from limen.store.bookshelf import open_shelf
from limen.study.running import facts_of
from oracles.gaps import gappy

Table = dict[str, Any]
ON = date(2026, 11, 25)
EDITIONS = (("en", "2012"), ("en", "2023"), ("us", "2005"))
COVERAGE = {"presence.threshold", "presence.leaf_path", "presence.side_screen"}
"""Asked only where the change touches them: they take the longest."""
LIGHT = {"presence.self_view", "presence.neighbours", "site.obstacles"}
"""Less light is a help where light does harm."""
GOOD = (Verdict.HOLDS, Verdict.NOT_ASKED)
QUICK, SLOW = 1, 60
METRE = {"mm": 1e-3, "m": 1.0}


def scaled(text: str, factor: float, more: float = 0.0) -> str:
    """The figure times a factor, and so much more of its own unit."""
    head, *tail = text.split(",", maxsplit=1)
    figure, *doubt = head.split(" ± ", maxsplit=1)
    number, _, unit = figure.partition(" ")
    changed = f"{float(number) * factor + more:.9g} {unit}"
    return ",".join([" ± ".join([changed, *doubt]), *tail])


def fuzzier(text: str, share: float) -> str:
    """The figure with at least this share of it as ±."""
    head, *tail = text.split(",", maxsplit=1)
    figure, *doubt = head.split(" ± ", maxsplit=1)
    number, _, unit = figure.partition(" ")
    own = float(doubt[0].partition(" ")[0]) if doubt else 0.0
    off = own + abs(float(number)) * share
    return ",".join([f"{figure} ± {off:.9g} {unit}", *tail])


def change(table: Table, way: str, by: Callable[[str], str]) -> bool:
    """Change a figure where it is stated; whether it was."""
    *steps, last = way.split(".")
    for step in steps:
        table = table.get(step) or {}
    value = table.get(last)
    if isinstance(value, str) and value[:1] in "-0123456789":
        table[last] = by(value)
        return True
    return False


def _fittings(door: Table, way: str, by: Callable[[str], str]) -> list[bool]:
    return [change(fitting, way, by) for fitting in door["fitting"]]


def _sheets(sheets: dict[str, Table], way: str, by: Callable[[str], str]) -> list[bool]:
    return [change(sheet, way, by) for sheet in sheets.values()]


def less_reach(door: Table, sheets: dict[str, Table], k: float) -> bool:
    """Radars that reach less far, each with the beam that it has.

    Their manuals draw the lesser field of that beam, and walks are lit nearer.  A
    drawing is changed only where it allows one beam: where it allows several, a
    lesser one is other evidence on which of them it is, not a lesser radar
    (`reach_turned_down` makes those worse).
    """
    share = 1 - 0.6 * k
    motions = {f.sheet: f.unit.motion for f in built(door, sheets).fitting if f.unit}
    drawn = [_redrawn(sheets[n], m, share) for n, m in motions.items() if m]
    return any([*drawn, *_lit(door, lambda text: scaled(text, share))])


def _redrawn(sheet: Table, motion: Motion, share: float) -> bool:
    """Draw the field of the same beam with a share of its reach; whether it is one."""
    figures = motion.field_depth, motion.field_width, motion.at_height, motion.at_tilt
    if any(one is None or one.value <= 0 for one in figures):
        return False
    drawn = Reference(*(one.value for one in figures if one))
    found = [fit for fit in _beams(drawn, motion) if fit.residual <= RESIDUAL]
    if len(found) != 1 or not (motion.lobe or motion.patches):
        return False
    lesser = replace(found[0].contour, ahead=found[0].contour.ahead * share)
    was = field_size(found[0].contour, drawn.height, drawn.tilt)
    now = field_size(lesser, drawn.height, drawn.tilt)
    for key, old, new in zip(("field_depth", "field_width"), was, now, strict=True):
        change(sheet, f"motion.{key}", lambda t, by=new / old: scaled(t, by))
    return min(now) > 0


def _beams(drawn: Reference, motion: Motion) -> tuple[Fit, ...]:
    lobe, patches = motion.lobe, motion.patches
    if patches is not None and patches.spacing is None:
        return fits(drawn, Antenna(patches.columns, patches.rows, HALF_WAVE))
    if patches is not None or lobe is None:
        return ()
    return fits(drawn, None, (lobe.across.value, lobe.ahead.value))


def _lit(door: Table, by: Callable[[str], str]) -> list[bool]:
    """Chalk marks moved; whether there are any."""
    reads = [
        f["read"] for f in door["fitting"] if (f.get("read") or {}).get("lit_ahead")
    ]
    for read in reads:
        read["lit_ahead"] = [by(text) for text in read["lit_ahead"]]
    return [bool(read) for read in reads]


def reach_turned_down(door: Table, sheets: dict[str, Table], k: float) -> bool:
    return any(_fittings(door, "settings.reach", lambda text: scaled(text, 1 - k)))


def more_delay(door: Table, sheets: dict[str, Table], k: float) -> bool:
    """All delays longer; the same field lights the lamp that much nearer."""

    def later(text: str) -> str:
        return scaled(text, 1.0, k)

    ways = ("motion.start_delay", "motion.reversal_delay", "operator.reacts_in")
    for fitting in door["fitting"]:
        if "response" in (sheets[fitting["sheet"]].get("motion") or {}):
            _lit_later(fitting.get("read") or {}, k)
    return any(
        [
            *(change(door, way, later) for way in ways),
            *_sheets(sheets, "motion.response", later),
            *_sheets(sheets, "presence.response", later),
        ]
    )


def _lit_later(read: Table, delay: float) -> None:
    """Chalk marks nearer by what is walked in the delay, in their own unit."""
    speed = float(str(read.get("lit_speed", "1 m/s")).split(" ")[0])
    for n, text in enumerate(read.get("lit_ahead", [])):
        unit = text.split(",")[0].split(" ")[1]
        read["lit_ahead"][n] = scaled(text, 1.0, -speed * delay / METRE[unit])


def slower_opening(door: Table, sheets: dict[str, Table], k: float) -> bool:
    ways = ("opening_speed", "opening_acceleration", "braking")
    times = ("opening_time", "time_to_most")
    slow = [change(door, f"motion.{way}", lambda t: scaled(t, 1 - k)) for way in ways]
    long = [change(door, f"motion.{way}", lambda t: scaled(t, 1 + k)) for way in times]
    motion = door.get("motion") or {}
    if "opening_runs" in motion:
        motion["opening_runs"] = [scaled(t, 1 + k) for t in motion["opening_runs"]]
    return any([*slow, *long])


def heavier_leaf(door: Table, sheets: dict[str, Table], k: float) -> bool:
    def heavier(text: str) -> str:
        return scaled(text, 1 + 9 * k)

    ways = ("leaves.mass", "leaves.glass", "motion.closing_energy")
    changed = [change(door, way, heavier) for way in ways]
    return any(changed)


def harder_leaf(door: Table, sheets: dict[str, Table], k: float) -> bool:
    def harder(text: str) -> str:
        return scaled(text, 1 + 3 * k)

    impacts = door.get("impact") or []
    changed = [
        change(one, way, harder) for one in impacts for way in ("peak", "after", "rest")
    ]
    return any([*changed, change(door, "power_loss.hand_force", harder)])


def narrower_fan(door: Table, sheets: dict[str, Table], k: float) -> bool:
    def narrow(text: str) -> str:
        return scaled(text, 1 - 0.8 * k)

    found = [
        *_fittings(door, "read.left_end", narrow),
        *_fittings(door, "read.right_end", narrow),
    ]
    for sheet in sheets.values():
        fan = (sheet.get("presence") or {}).get("fan", {})
        found += [
            change(fan.get("choices", {}), n, narrow) for n in fan.get("choices", {})
        ]
    return any(found)


def looser_aim(door: Table, sheets: dict[str, Table], k: float) -> bool:
    def looser(text: str) -> str:
        return scaled(text, 1 + 6 * k)

    ways = ("across", "along", "turn")
    mounts = ("place", "height", "plumb", "tilt_scale")
    return any(
        [
            *(one for way in ways for one in _fittings(door, f"aim.{way}", looser)),
            *(one for way in mounts for one in _fittings(door, f"mount.{way}", looser)),
        ]
    )


def fuzzier_figures(door: Table, sheets: dict[str, Table], k: float) -> bool:
    """Every figure that carries a ± at all gets more of it."""
    parts = ("leaves", "motion", "power_loss", "operator")
    ways = [f"{part}.{key}" for part in parts for key in (door.get(part) or {})]
    ways += ["clear_width", "reduced_width", "presence_ignored_below"]
    changed = [change(door, way, lambda t: fuzzier(t, 0.2 * k)) for way in ways]
    return any(changed)


def faster_people(door: Table, sheets: dict[str, Table], k: float) -> bool:
    return change(door, "use.fastest", lambda text: scaled(text, 1 + k))


def weaker_supply(door: Table, sheets: dict[str, Table], k: float) -> bool:
    def less(text: str) -> str:
        return scaled(text, 1 - 0.5 * k)

    def more(text: str) -> str:
        return scaled(text, 1 + k)

    return any(
        [
            change(door, "operator.current", less),
            *_sheets(sheets, "supply.current", more),
            *_sheets(sheets, "supply.power", more),
            *_sheets(sheets, "supply.least", more),
        ]
    )


def poorer_cable(door: Table, sheets: dict[str, Table], k: float) -> bool:
    """A longer cable, its loop measured that much greater; a thinner one.

    Where loop and cross-section are both stated the cross-section stays, so that
    they agree, or disagree, as before.
    """
    longer, thinner = 1 + 5 * k, 1 - 1.08 * k
    changed: list[bool] = []
    for cable in (one["cable"] for one in door["fitting"] if one.get("cable")):
        both = "loop" in cable and ("area" in cable or "awg" in cable)
        by = {"length": longer, "loop": longer if both else longer / thinner}
        if not both:
            by["area"] = thinner
        for key, factor in by.items():
            changed.append(change(cable, key, lambda t, f=factor: scaled(t, f)))
    return any(changed)


def shorter_hold(door: Table, sheets: dict[str, Table], k: float) -> bool:
    def less(text: str) -> str:
        return scaled(text, 1 - 0.9 * k)

    return any(
        [
            *_fittings(door, "settings.hold", less),
            *_sheets(sheets, "presence.learns_after", less),
        ]
    )


def less_room(door: Table, sheets: dict[str, Table], k: float) -> bool:
    spaces = door.get("side_space") or []
    changed = [
        change(space, way, lambda text: scaled(text, 1 - k))
        for space in spaces
        for way in ("clearance", "to_post")
    ]
    return any(changed)


@dataclass(frozen=True)
class Worse:
    """One way of making a door worse, and the questions that it may help."""

    make: Callable[[Table, dict[str, Table], float], bool]
    helped: frozenset[str] = frozenset()
    heavy: bool = False


WORSE = {
    one.make.__name__: one
    for one in (
        Worse(less_reach),
        Worse(reach_turned_down),
        Worse(more_delay),
        Worse(slower_opening),
        Worse(heavier_leaf),
        Worse(harder_leaf),
        Worse(narrower_fan, frozenset(LIGHT), heavy=True),
        Worse(looser_aim, heavy=True),
        Worse(fuzzier_figures, heavy=True),
        Worse(faster_people),
        Worse(weaker_supply),
        Worse(poorer_cable),
        Worse(shorter_hold),
        Worse(less_room, frozenset({"presence.side_screen", "site.obstacles"})),
    )
}


def answers(doorway: Doorway, edition: int, *, heavy: bool) -> Iterator[Finding]:
    """What is said of a doorway; of coverage only where it may matter."""
    rules = open_shelf().edition(*EDITIONS[edition])
    settled = settle(doorway)
    for name, question in QUESTIONS.items():
        rule = rules.rule_for(name, facts_of(doorway))
        if isinstance(rule, Rule) and (heavy or name not in COVERAGE):
            yield from question.ask(Asked(doorway, settled, rule, on=ON))


def made_worse(seed: int, share: float, worse: Worse) -> tuple[Doorway, Doorway] | None:
    """A doorway and the same made worse; None if there is nothing to make worse."""
    before = gappy(seed)
    door, sheets = deepcopy(before.door), deepcopy(before.sheets)
    if not worse.make(door, sheets, share):
        return None
    try:
        return before.doorway, built(door, sheets)
    except ValidationError:
        return None


def turned_to_holds(seed: int, share: float, edition: int, worse: Worse) -> list[str]:
    """Findings that hold only since the door was made worse."""
    pair = made_worse(seed, share, worse)
    assume(pair is not None)
    assert pair
    was, now = (
        {f.key: f for f in answers(one, edition, heavy=worse.heavy)} for one in pair
    )
    return [
        f"{key}: {was[key].verdict} ({was[key].because.key}), then {finding.verdict}"
        for key, finding in now.items()
        if key in was
        and finding.question not in worse.helped
        and finding.verdict is Verdict.HOLDS
        and was[key].verdict in (Verdict.FAILS, Verdict.NOT_SHOWN)
    ]


SEEDS = st.integers(0, 100_000)
SHARES = st.floats(0.05, 0.9)
RULES = st.integers(0, len(EDITIONS) - 1)


@pytest.mark.parametrize("way", WORSE)
@settings(max_examples=QUICK)
@given(seed=SEEDS, share=SHARES, edition=RULES)
def test_a_door_made_worse_never_holds_instead(
    way: str, seed: int, share: float, edition: int
) -> None:
    assert turned_to_holds(seed, share, edition, WORSE[way]) == []


@pytest.mark.slow
@pytest.mark.parametrize("way", WORSE)
@settings(max_examples=SLOW)
@given(seed=SEEDS, share=SHARES, edition=RULES)
def test_many_doors_made_worse_never_hold_instead(
    way: str, seed: int, share: float, edition: int
) -> None:
    assert turned_to_holds(seed, share, edition, WORSE[way]) == []


@pytest.mark.slow
@pytest.mark.parametrize("way", WORSE)
def test_each_way_of_making_worse_takes_something_away(way: str) -> None:
    """The check above can fail only where verdicts hang on what is changed."""
    worse = WORSE[way]
    pairs = (made_worse(seed, 0.9, worse) for seed in range(60))
    assert any(_taken_away(pair, worse) for pair in pairs if pair)


def _taken_away(pair: tuple[Doorway, Doorway], worse: Worse) -> bool:
    """Whether something that held, or was not asked, no longer does."""
    was, now = (
        {f.key: f.verdict for f in answers(one, 2, heavy=worse.heavy)} for one in pair
    )
    return any(
        verdict in GOOD and now.get(key, verdict) not in GOOD
        for key, verdict in was.items()
    )


@pytest.mark.parametrize("way", WORSE)
def test_each_way_of_making_worse_changes_something(way: str) -> None:
    pairs = (made_worse(seed, 0.5, WORSE[way]) for seed in range(40))
    changed = (pair for pair in pairs if pair and pair[0] != pair[1])
    assert len(list(islice(changed, 4))) == 4
