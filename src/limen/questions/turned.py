"""A doorway with one thing set otherwise, so that both can be compared."""

from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.quantity import Quantity


def with_hold(doorway: Doorway, hold: Quantity) -> Doorway:
    """The doorway with another time for which it stays open (s)."""
    motion = doorway.motion.model_copy(update={"hold_open": hold})
    return doorway.model_copy(update={"motion": motion})


def with_reach(doorway: Doorway, fitting: str, reach: Quantity) -> Doorway:
    """The doorway with the reach of one radar set otherwise on its scale.

    Walks that were chalked stay what they are: they were walked at the old reach.

    Args:
        doorway: as described.
        fitting: id of the unit.
        reach: the new setting, 0 to 1.
    """
    return _changed(doorway, fitting, "reach", "lit_reach", reach)


def with_tilt(doorway: Doorway, fitting: str, tilt: Quantity) -> Doorway:
    """The doorway with one radar tilted otherwise (rad); walks as in `with_reach`."""
    return _changed(doorway, fitting, "radar_tilt", "lit_tilt", tilt)


def _changed(
    doorway: Doorway, name: str, setting: str, walked: str, value: Quantity
) -> Doorway:
    units = tuple(
        _set(one, setting, walked, value) if one.id == name else one
        for one in doorway.fitting
    )
    return doorway.model_copy(update={"fitting": units})


def _set(fitting: Fitting, setting: str, walked: str, value: Quantity) -> Fitting:
    was: Quantity | None = getattr(fitting.settings, setting)
    settings = fitting.settings.model_copy(update={setting: value})
    read = fitting.read
    if read.lit_ahead and getattr(read, walked) is None and was is not None:
        read = read.model_copy(update={walked: was})
    return fitting.model_copy(update={"settings": settings, "read": read})
