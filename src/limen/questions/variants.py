"""A doorway with one other thing set: plumb, a wider fan, all rows on."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from limen.findings import Change
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.physics.fans import choices
from limen.physics.reach import Placed
from limen.quantity import Quantity
from limen.questions.settled import Settled, settle

OUT = (50, 100, 150, 200)  # mm, how much further out a lens is tried


@dataclass(frozen=True, slots=True)
class Variant:
    """The doorway with something other than tilt changed."""

    changes: tuple[Change, ...]
    doorway: Doorway
    settled: Settled


def variants(doorway: Doorway, settled: Settled) -> Iterator[Variant]:
    """The doorway as it is, with one other thing changed, with all of them."""
    yield Variant((), doorway, settled)
    options = [*_plumb(doorway), *_wider(doorway), *_all_rows(doorway)]
    for changes in options:
        yield _varied(doorway, changes)
    if len(options) > 1:
        yield _varied(doorway, tuple(c for changes in options for c in changes))


def variants_apart(doorway: Doorway) -> Iterator[Variant]:
    """The doorway with one thing changed of one unit only, where several could be.

    Args:
        doorway: as described.
    """
    for changes in (*_plumb(doorway), *_wider(doorway), *_all_rows(doorway)):
        units = list(dict.fromkeys(change.fitting for change in changes))
        for unit in units if len(units) > 1 else ():
            yield _varied(doorway, tuple(c for c in changes if c.fitting == unit))


def lenses_out(doorway: Doorway, settled: Settled) -> Iterator[Variant]:
    """The doorway with the lenses of its rows further out from the leaf, step by step.

    Args:
        doorway: as described.
        settled: the same, settled.
    """
    lenses = [
        (facts.fitting.id, facts.fitting.lens)
        for facts in settled.units
        if facts.fitting.lens and any(isinstance(u, Placed) for u in facts.choices)
    ]
    for out in OUT:
        yield _varied(
            doorway,
            tuple(
                Change(
                    name,
                    "lens.from_leaf",
                    f"{lens.from_leaf.value * 1000 + out:.0f} mm",
                )
                for name, lens in lenses
            ),
        )


def _varied(doorway: Doorway, changes: tuple[Change, ...]) -> Variant:
    changed = changed_settings(doorway, changes)
    return Variant(changes, changed, settle(changed))


def changed_settings(doorway: Doorway, changes: Sequence[Change]) -> Doorway:
    """The doorway with settings of its fittings changed.

    Args:
        doorway: as described.
        changes: ``settings.…`` and ``read.…`` of fittings.  A figure without a ± of
            its own keeps the one that the old figure had: set anew, it is known no
            better.
    """
    fittings: list[Fitting] = []
    for fitting in doorway.fitting:
        sheet = fitting.unit
        data = fitting.model_dump()
        own = [one for one in changes if one.fitting == fitting.id]
        for change in own:
            part, _, key = change.setting.partition(".")
            data[part][key] = _typed(change.setting, change.value)
        fresh = Fitting.model_validate(data)
        for change in own:
            fresh = _as_closely(fresh, fitting, change.setting)
        fittings.append(fresh.model_copy(update={"unit": sheet}))
    return doorway.model_copy(update={"fitting": tuple(fittings)})


def _as_closely(fresh: Fitting, before: Fitting, setting: str) -> Fitting:
    """The unit with the ± that a figure had before it was changed."""
    part, _, key = setting.partition(".")
    table = getattr(fresh, part)
    new, old = getattr(table, key), getattr(getattr(before, part), key, None)
    if not isinstance(new, Quantity):
        return fresh
    kept = table.model_copy(update={key: new.known_as(old)})
    return fresh.model_copy(update={part: kept})


def _typed(setting: str, value: str) -> object:
    if setting == "settings.rows_on":
        return tuple(int(number) for number in value.split())
    return int(value) if setting == "settings.channel" else value


def _plumb(doorway: Doorway) -> list[tuple[Change, ...]]:
    """Turn back what is rolled or yawed."""
    crooked = [
        Change(fitting.id, f"settings.{name}", "0 deg")
        for fitting in doorway.fitting
        for name, value in (
            ("roll", fitting.settings.roll),
            ("yaw", fitting.settings.yaw),
        )
        if value is not None and value.value != 0 and not _ends_read(fitting)
    ]
    return [tuple(crooked)] if crooked else []


def _ends_read(fitting: Fitting) -> bool:
    """Whether row ends were read: they say nothing of a unit turned or set anew."""
    return None not in (fitting.read.left_end, fitting.read.right_end)


def _wider(doorway: Doorway) -> list[tuple[Change, ...]]:
    """The widest fan that each sheet has."""
    wider: list[Change] = []
    for fitting in doorway.fitting:
        presence = fitting.unit.presence if fitting.unit else None
        names = choices(presence) if presence else ()
        read = _ends_read(fitting)
        if names and fitting.settings.fan not in (None, names[0]) and not read:
            wider.append(Change(fitting.id, "settings.fan", names[0]))
    return [tuple(wider)] if wider else []


def _all_rows(doorway: Doorway) -> list[tuple[Change, ...]]:
    """Every row switched on."""
    off: list[Change] = []
    for fitting in doorway.fitting:
        presence = fitting.unit.presence if fitting.unit else None
        rows, on = (presence.rows if presence else ()), fitting.settings.rows_on
        if on is not None and len(on) < len(rows):
            every = " ".join(str(number + 1) for number in range(len(rows)))
            off.append(Change(fitting.id, "settings.rows_on", every))
    return [tuple(off)] if off else []
