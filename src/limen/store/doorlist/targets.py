"""What a column can become: keys of a site and of a doorway in short."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Kind = Literal["text", "id", "choice", "flag", "length", "mass", "day", "sheet"]

LEAVES = ("bi-parting", "single left", "single right")
RULEBOOKS = ("en", "us", "de", "uk", "fr", "au")
FLAGS = ("yes", "no")
UNITS: Mapping[str, tuple[str, ...]] = {
    "length": ("mm", "cm", "m", "in", "ft"),
    "mass": ("kg", "lb"),
}
"""Units that a column can be in."""
DAYS = ("y-m-d", "d.m.y", "d/m/y", "m/d/y", "d-m-y", "d.m.yy", "d/m/yy", "m/d/yy")
"""Ways to write a day; `yy` is a year of this century in two digits."""


@dataclass(frozen=True, slots=True)
class Target:
    """One thing that a column can become.

    Attributes:
        kind: what stands in it.
        needed: whether a row without it is refused.
        accepted: values that are accepted, where there are only some.
    """

    kind: Kind
    needed: bool = False
    accepted: tuple[str, ...] = ()


TARGETS: Mapping[str, Target] = {
    "site.name": Target("text", needed=True),
    "site.place": Target("text"),
    "site.rulebook": Target("choice", accepted=RULEBOOKS),
    "door.id": Target("id"),
    "door.name": Target("text"),
    "leaves": Target("choice", needed=True, accepted=LEAVES),
    "clear_width": Target("length", needed=True),
    "clear_height": Target("length"),
    "leaf_mass": Target("mass"),
    "lens_height": Target("length"),
    "unit_outside": Target("sheet"),
    "unit_inside": Target("sheet"),
    "escape_route": Target("flag", accepted=FLAGS),
    "many_frail_or_small": Target("flag", accepted=FLAGS),
    "public": Target("flag", accepted=FLAGS),
    "commissioned": Target("day"),
    "kept.checked": Target("day"),
    "kept.by": Target("text"),
    "kept.route": Target("text"),
}
"""Every target by its key, in the order in which they are offered."""
PAIRS: Mapping[str, tuple[str, ...]] = {
    "size": ("clear_width", "clear_height"),
    "units": ("unit_outside", "unit_inside"),
}
"""Several targets that one column often holds, by the name that suggests them."""


def dimension_units(targets: tuple[str, ...]) -> tuple[str, ...]:
    """The units in which a column of these targets can be; empty without measure."""
    return UNITS.get(TARGETS[targets[0]].kind, ()) if targets else ()
