"""What to do at the door that shows whether the wires do what they should."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from limen.findings import Message, Verdict
from limen.findings.wires import Terminal, Try, WireShown
from limen.model.fitting import Fitting
from limen.model.wiring import Does
from limen.study.wires_tried import WORST_FIRST

ESCAPE: Does = "escape opening"
STOP: Does = "opening stop"
PROTECTS: Does = "closing protection"


@dataclass(frozen=True, slots=True)
class _Wired:
    """A wire and what is done at its end."""

    wire: WireShown
    does: Does


def tries(
    fittings: Iterable[Fitting],
    terminals: tuple[Terminal, ...],
    wires: tuple[WireShown, ...],
) -> tuple[Try, ...]:
    """One plug after the other, each unit alone; then the walks.

    A plug that is pulled cuts all wires of its unit at once.  What must happen
    follows from what the operator does at their ends: whoever guards must be missed
    at once.  An opening output may rest when its plug is pulled, so a walk shows it.

    Args:
        fittings: the units.
        terminals: the operator's inputs.
        wires: those that are described, and those proposed.

    Returns:
        Plugs first, in the order of the units, then walks.

    Source:
        `wiring.fail_safe`; the order of the steps is common practice, no source.
    """
    each = [(one, _ends(one, terminals, wires)) for one in fittings]
    plugs = (_plug(one, found) for one, found in each)
    walks = (_walk(one, found) for one, found in each)
    return tuple(one for one in (*plugs, *walks) if one is not None)


def _ends(
    fitting: Fitting, terminals: tuple[Terminal, ...], wires: tuple[WireShown, ...]
) -> list[_Wired]:
    mine = [one for one in wires if one.fitting == fitting.id]
    return [
        _Wired(one, does)
        for one in mine
        if one.terminal is not None
        and (does := terminals[one.terminal].does) is not None
    ]


def _plug(fitting: Fitting, found: list[_Wired]) -> Try | None:
    guarding = [one for one in found if one.wire.signal in ("presence", ESCAPE)]
    does: set[Does] = {one.does for one in guarding}
    musts = tuple(_musts(does))
    if not musts:
        return None
    said = {"fitting": fitting.id}
    start = "closed" if does & {ESCAPE, STOP} else "open"
    do = Message(f"desk_wiring.try.plug_{start}", said)
    return _made(fitting, "plug", do, musts, guarding)


def _musts(does: set[Does]) -> Iterator[Message]:
    """What must happen once all wires of a unit are cut."""
    if ESCAPE in does:
        yield Message("desk_wiring.must.escape")
    if STOP in does:
        yield Message("desk_wiring.must.stop")
    if PROTECTS in does:
        key = "stays" if not does & {ESCAPE, STOP} else "stays_then"
        yield Message(f"desk_wiring.must.{key}")


def _walk(fitting: Fitting, found: list[_Wired]) -> Try | None:
    opening = [one for one in found if one.wire.signal in ("opening", ESCAPE)]
    opens = [one for one in opening if one.does in ("opening", ESCAPE)]
    if not opens:
        return None
    said = {"fitting": fitting.id, "side": Message(f"side.{fitting.side}")}
    key = "walk_modes" if any(one.does == ESCAPE for one in opens) else "walk"
    do = Message(f"desk_wiring.try.{key}", said)
    return _made(fitting, "walk", do, (Message("desk_wiring.must.opens"),), opening)


def _made(
    fitting: Fitting,
    kind: str,
    do: Message,
    must: tuple[Message, ...],
    found: list[_Wired],
) -> Try:
    verdicts = [one.wire.verdict or Verdict.NOT_SHOWN for one in found]
    return Try(
        fitting.id,
        "plug" if kind == "plug" else "walk",
        do,
        must,
        min(verdicts, key=WORST_FIRST.index),
        tuple(one.wire.number for one in found),
    )
