"""How a reader wants the pages: light or dark, metric or feet."""

from collections.abc import Mapping
from dataclasses import dataclass

from limen.quantity import Show

THEMES = ("device", "paper", "slate")
UNITS: Mapping[str, Show] = {"metric": Show.METRIC, "feet": Show.FEET}


@dataclass(frozen=True, slots=True)
class Look:
    """A reader's choices, as their browser keeps them.

    Attributes:
        theme: ``paper`` (light), ``slate`` (dark), or what the device says.
        units: ``metric`` or ``feet``.
    """

    theme: str = "device"
    units: str = "metric"

    @property
    def system(self) -> Show:
        """In which units lengths are written."""
        return UNITS[self.units]


def look_of(cookies: Mapping[str, str]) -> Look:
    """Read the choices from a request's cookies.

    A cookie may hold anything; one that names no choice counts as none.
    """
    theme, units = cookies.get("limen_theme", ""), cookies.get("limen_units", "")
    return Look(
        theme=theme if theme in THEMES else "device",
        units=units if units in UNITS else "metric",
    )
