"""What would settle a coverage case in which nothing is missing."""

from collections.abc import Sequence

from limen.findings import Lack, Message
from limen.physics.reach import Placed, Unit
from limen.questions.asking import once
from limen.questions.settled import aimed_closer

WIDTH = Lack(Message("lack.no_place"), "clear_width")


def read_apart(ways: Sequence[tuple[Unit, ...]]) -> tuple[Lack, ...]:
    """What tells the readings apart: both ends of a row, else how spots are spaced."""
    fans: dict[str, set[tuple[str, str]]] = {}
    for unit in (unit for units in ways for unit in units):
        if isinstance(unit, Placed):
            fan = (unit.fan.measured_to, unit.fan.spacing)
            fans.setdefault(unit.fitting, set()).add(fan)
    lacks: list[Lack] = []
    for fitting, read in fans.items():
        if len({measured_to for measured_to, _ in read}) > 1:
            keys = [f"fitting[{fitting}].read.{end}_end" for end in ("left", "right")]
            lacks += [Lack(Message("lack.reading"), key) for key in keys]
        elif len(read) > 1:
            lacks.append(Lack(Message("lack.spacing"), "sheet.presence.fan.spacing"))
    return once(lacks)


def _beams(unit: Unit) -> Lack:
    return Lack(Message("lack.closer"), f"fitting[{unit.fitting}].beams")


def doubted(why: str, ways: Sequence[tuple[Unit, ...]]) -> tuple[Lack, ...]:
    """What would settle a case in which nothing is missing.

    Args:
        why: as in `Shown`.
        ways: the units under each reading.
    """
    match why:
        case "tolerance" | "resolution" | "search limit":
            units = ways[0] if ways else ()
            return aimed_closer(units) or tuple(map(_beams, units)) or (WIDTH,)
        case "nothing asked":
            return (WIDTH,)
        case _:
            return ()
