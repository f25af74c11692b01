"""What a setting is set to, as a site file takes it: a figure keeps the ± of before."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from limen.model.doorway import Doorway
from limen.quantity import Dimension, Quantity, parse, write
from limen.words import reading, unnumbered

if TYPE_CHECKING:
    from limen.findings.tuned import Turned

DIMENSIONS: Mapping[str, Dimension] = {
    "settings.tilt": Dimension.ANGLE,
    "settings.roll": Dimension.ANGLE,
    "settings.yaw": Dimension.ANGLE,
    "settings.radar_tilt": Dimension.ANGLE,
    "settings.radar_yaw": Dimension.ANGLE,
    "settings.reach": Dimension.RATIO,
    "settings.hold": Dimension.TIME,
    "lens.along": Dimension.LENGTH,
    "lens.from_leaf": Dimension.LENGTH,
    "lens.height": Dimension.LENGTH,
    "read.first_row": Dimension.LENGTH,
}
CHOSEN = frozenset({"settings.fan", "settings.rows_on", "settings.channel"})


def setting_of(key: str) -> tuple[str, str]:
    """The fitting and the setting that a key names."""
    head, _, setting = key.partition("].")
    return head.removeprefix("fitting["), setting


def as_written(door: Doorway, edits: Mapping[str, str]) -> dict[str, str]:
    """Edits as they go into the file: a figure keeps the ± that it had.

    Args:
        door: the doorway as saved.
        edits: new values by key, as typed.

    Raises:
        KeyError: a key is no setting that can be turned.
        QuantityError: a value is no quantity of its kind.
    """
    return {key: _written(door, key, value) for key, value in edits.items()}


def written_as(one: "Turned") -> str:
    """What a search has set a setting to, the ± of before kept."""
    _, _, told = one.was.partition("±")
    return _kept(one.to, told.partition(",")[0].strip())


def _written(door: Doorway, key: str, value: str) -> str:
    fitting, setting = setting_of(key)
    if setting in CHOSEN:
        return value
    dimension = DIMENSIONS[setting]
    value = unnumbered(value, reading())
    given = parse(value, dimension)
    text = _spelt(value)
    old = _old(door, fitting, setting)
    if given.u or old is None or not old.u:
        return text
    return _kept(text, _spelt(write(Quantity(old.u), dimension)))


def _spelt(value: str) -> str:
    """With the letters that a file is written in."""
    text = value.replace("°", " deg").replace("\N{MINUS SIGN}", "-")
    return " ".join(text.split())


def _kept(value: str, doubt: str) -> str:
    """A figure with the ± of before, if it had one and the new one brings none."""
    return f"{value} ± {doubt}" if doubt and "±" not in value else value


def _old(door: Doorway, fitting: str, setting: str) -> Quantity | None:
    part, _, name = setting.partition(".")
    for one in door.fitting:
        if one.id == fitting:
            return getattr(getattr(one, part), name, None)
    return None
