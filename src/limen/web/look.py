"""How a reader wants the pages: light or dark, metric or feet, seen from which side."""

from collections.abc import Mapping
from dataclasses import dataclass

from limen.quantity import Show

THEMES = ("device", "paper", "slate")
SIDES = ("outside", "inside")
UNITS: Mapping[str, Show] = {"metric": Show.METRIC, "feet": Show.FEET}


@dataclass(frozen=True, slots=True)
class Look:
    """A reader's choices, as their browser keeps them.

    Attributes:
        theme: ``paper`` (light), ``slate`` (dark), or what the device says.
        units: ``metric`` or ``feet``.
        side: which side is at the lower edge of a plan: ``outside`` or ``inside``.
    """

    theme: str = "device"
    units: str = "metric"
    side: str = "outside"

    @property
    def system(self) -> Show:
        """In which units lengths are written."""
        return UNITS[self.units]

    @property
    def turned(self) -> bool:
        """Whether plans are turned, for someone who stands inside."""
        return self.side == "inside"


def look_of(cookies: Mapping[str, str]) -> Look:
    """Read the choices from a request's cookies.

    A cookie may hold anything; one that names no choice counts as none.
    """
    theme, units, side = (
        cookies.get(f"limen_{name}", "") for name in ("theme", "units", "side")
    )
    return Look(
        theme=theme if theme in THEMES else "device",
        units=units if units in UNITS else "metric",
        side=side if side in SIDES else "outside",
    )
