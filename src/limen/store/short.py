"""The short form of a doorway: what two minutes with tape and stopwatch give.

A ``[[short]]`` holds a dozen figures and is read as a whole doorway.  What else a
doorway needs is taken for it, marked as such and no better than an estimate, so
that nothing can hold by it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from limen.model.doorway import Doorway, Hand, Header, Leaves, Reveal, SideSpace
from limen.model.fields import Id, Length, Mass, Name, Stated, Time, length
from limen.model.fitting import Fitting, Lens
from limen.model.keeping import Kept
from limen.model.movement import Motion
from limen.model.people import Side, Use
from limen.model.site import Site
from limen.model.taken import taken
from limen.quantity import Quantity
from limen.store.tomllines import Path

NOT_KNOWN = "not-known"
"""In the place of a sheet's name: a unit is there, and nobody knows which."""

NONE = "none"
"""In the place of a sheet's name, short form: no unit on this side."""

SIDES: tuple[Side, ...] = ("outside", "inside")
HANDS: tuple[Hand, ...] = ("left", "right")

CLEAR_HEIGHT = 2.1  # m, where not even the lens's height is known
CLEAR_HEIGHT_OFF = 0.1  # m, a lens on the header's face hangs about that low
THICKNESS, THICKNESS_OFF = 0.04, 0.02  # m
FACE, FACE_OFF = 0.1, 0.05  # m, header face where no lens was plumbed
REVEAL, REVEAL_OFF = 0.0, 0.0  # m, leaves that run on the face of the wall

Runs = Annotated[tuple[Time, ...], Field(max_length=9)]


class Behind(Stated):
    """What is behind an opening leaf, and how deep the space beside it is."""

    clearance: Length | None = None
    """From the trailing edge, leaf open, to what is behind it: the smallest."""
    depth: Length | None = None
    """From the leaf face to what stands beside it: the smallest."""


class Short(Stated):
    """A doorway in short.  What is left out is not known."""

    id: Id
    """Short name: small letters, digits and hyphens."""
    name: Name
    """Name as people say it."""
    commissioned: date | None = None
    """The day it was put into use; it chooses the edition."""
    edition: str | None = None
    """The edition to judge by, if a person has chosen one."""
    leaves: Literal["bi-parting", "single left", "single right"]
    """Two leaves, or one and the side to which it opens, seen from outside."""
    clear_width: Annotated[
        Quantity, length(0.5, 12.0, "0.5 to 12 m: wider than the test body")
    ]
    """Free width with the leaves open."""
    clear_height: Annotated[Quantity, length(1.5, 8.0, "1.5 to 8 m")] | None = None
    """Free height with the leaves open; about that of the lens if left out."""
    leaf_mass: Mass | None = None
    """Mass of one leaf."""
    lens_height: Annotated[Quantity, length(1.5, 8.0, "1.5 to 8 m")] | None = None
    """From the floor to the lens of the units above the door."""
    unit_outside: Id | None = None
    """Sensor sheet of the unit outside; not-known, or none if there is no unit."""
    unit_inside: Id | None = None
    """Sensor sheet of the unit inside; not-known, or none if there is no unit."""
    plumb_outside: Annotated[Quantity, length(0.0, 3.0, "0 to 3 m")] | None = None
    """From the leaf face to the mark plumbed below the lens, outside."""
    plumb_inside: Annotated[Quantity, length(0.0, 3.0, "0 to 3 m")] | None = None
    """From the leaf face to the mark plumbed below the lens, inside."""
    opening_runs: Runs = ()
    """Stopwatch, three runs: closed to fully open."""
    closing_runs: Runs = ()
    """Stopwatch, three runs: fully open to closed."""
    behind_left: Behind = Behind()
    """The space behind the leaf that opens to the left."""
    behind_right: Behind = Behind()
    """The space behind the leaf that opens to the right."""
    escape_route: bool | None = None
    """Whether the doorway lies on an escape route."""
    many_frail_or_small: bool | None = None
    """Whether many users are old, frail, disabled or small children."""
    public: bool | None = None
    """Whether the public uses it."""
    kept: Kept = Kept()
    """When it was last checked, changed or at fault."""

    @model_validator(mode="after")
    def _behind_leaves_that_are_there(self) -> "Short":
        hand = hand_of(self)
        for side in HANDS:
            if hand not in (None, side) and f"behind_{side}" in self.model_fields_set:
                why = f"the single leaf opens to the {hand}; none opens to the {side}"
                raise PydanticCustomError(
                    "hand",
                    "{why}",
                    {
                        "why": why,
                        "at": (f"behind_{side}",),
                        "accepted": f"behind_{hand}",
                        "example": f'behind_{hand} = {{ clearance = "220 mm" }}',
                    },
                )
        return self


class Written(Site):
    """One site file, as it is written: doorways in full, in short, or both."""

    doorway: tuple[Doorway, ...] = Field(default=(), max_length=500)
    """Its automatic sliding doors."""
    short: tuple[Short, ...] = Field(default=(), max_length=500)
    """Doorways in the short form: what two minutes at the door give."""

    @model_validator(mode="after")
    def _describes_a_doorway(self) -> "Written":
        if self.doorway or self.short:
            return self
        raise PydanticCustomError(
            "too_few",
            "no doorway is described, and at least 1 is needed",
            {
                "at": ("doorway",),
                "accepted": "one [[doorway]] or [[short]] after the other",
                "example": "[[doorway]]",
            },
        )

    @model_validator(mode="after")
    def _short_ids_differ(self) -> "Written":
        seen = {door.id for door in self.doorway}
        for number, short in enumerate(self.short):
            if short.id in seen:
                raise PydanticCustomError(
                    "twins",
                    "another one has the same id",
                    {
                        "found": short.id,
                        "at": ("short", number, "id"),
                        "accepted": "ids that differ",
                        "example": f'id = "{short.id}-2"',
                    },
                )
            seen.add(short.id)
        return self

    def ids(self) -> set[str]:
        """The ids of all doorways, in full and in short."""
        return super().ids() | {short.id for short in self.short}


def hand_of(short: Short) -> Hand | None:
    """The side to which a single leaf opens; None for two leaves."""
    match short.leaves:
        case "bi-parting":
            return None
        case "single left":
            return "left"
        case "single right":
            return "right"


def unit_of(short: Short, side: Side) -> str:
    """The sheet of the unit on a side, `NOT_KNOWN`, or `NONE`."""
    return getattr(short, f"unit_{side}") or NOT_KNOWN


def plumb_of(short: Short, side: Side) -> Quantity | None:
    """From the leaf face to the plumbed mark of the lens (m)."""
    plumb: Quantity | None = getattr(short, f"plumb_{side}")
    return plumb


# In full -----------------------------------------------------------------------


def in_full(written: Written) -> Site:
    """The site with every doorway in full; those in short come last.

    Args:
        written: the file, valid by itself.
    """
    told = {key: getattr(written, key) for key in written.model_fields_set & _KEPT}
    doors = (*written.doorway, *(doorway_of(short) for short in written.short))
    return Site.model_validate(told | {"doorway": doors})


_KEPT = frozenset(Site.model_fields) - {"doorway"}


def doorway_of(short: Short) -> Doorway:
    """The doorway that a short form describes, the rest of it taken.

    Args:
        short: the short form, valid by itself.
    """
    return Doorway(
        id=short.id,
        name=short.name,
        commissioned=short.commissioned,
        edition=short.edition,
        clear_width=short.clear_width,
        clear_height=_clear_height(short),
        leaves=_leaves(short),
        header=Header(outside=_face(short, "outside"), inside=_face(short, "inside")),
        reveal=Reveal(
            outside=taken(REVEAL, REVEAL_OFF), inside=taken(REVEAL, REVEAL_OFF)
        ),
        motion=Motion(opening_runs=short.opening_runs, closing_runs=short.closing_runs),
        use=Use(
            escape_route=short.escape_route,
            many_frail_or_small=short.many_frail_or_small,
            public=short.public,
        ),
        kept=short.kept,
        side_space=tuple(_side_spaces(short)),
        fitting=tuple(_fittings(short)),
    )


def _clear_height(short: Short) -> Quantity:
    """As measured; else as high as the lens, which hangs about at the header's edge."""
    if short.clear_height is not None:
        return short.clear_height
    if short.lens_height is None:
        return taken(CLEAR_HEIGHT, CLEAR_HEIGHT_OFF)
    return taken(short.lens_height.value, CLEAR_HEIGHT_OFF)


def _leaves(short: Short) -> Leaves:
    hand = hand_of(short)
    kind = "bi-parting" if hand is None else "single"
    return Leaves(
        kind=kind,
        hand=hand,
        thickness=taken(THICKNESS, THICKNESS_OFF),
        mass=short.leaf_mass,
    )


def _face(short: Short, side: Side) -> Quantity:
    """As far out as the lens; else as the other one; else as headers often are."""
    other: Side = "inside" if side == "outside" else "outside"
    plumbed = plumb_of(short, side) or plumb_of(short, other)
    return taken(plumbed.value if plumbed else FACE, FACE_OFF)


def _side_spaces(short: Short) -> Iterator[SideSpace]:
    hand = hand_of(short)
    for side in HANDS:
        behind: Behind = getattr(short, f"behind_{side}")
        if hand in (None, side):
            yield SideSpace(side=side, clearance=behind.clearance, depth=behind.depth)


def _fittings(short: Short) -> Iterator[Fitting]:
    for side in SIDES:
        sheet, plumb = unit_of(short, side), plumb_of(short, side)
        if sheet == NONE:
            continue
        lens = None
        if plumb is not None and short.lens_height is not None:
            lens = Lens(from_leaf=plumb, height=short.lens_height)
        yield Fitting(id=side, sheet=sheet, side=side, lens=lens)


# Where in the short form ---------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Way:
    """The way to a part of a doorway in full, and to it in short."""

    full: Path
    short: Path


def path_in_short(short: Short, path: Path) -> Path:
    """The way to a key of the short form from the way to it in full.

    Args:
        short: the short form.
        path: the way within the doorway in full.

    Returns:
        The way within the short form; empty where the short form has no such key.
    """
    return next(
        (way.short for way in _ways(short) if path[: len(way.full)] == way.full), ()
    )


def _ways(short: Short) -> Iterator[_Way]:
    sides = [side for side in SIDES if unit_of(short, side) != NONE]
    for place, side in enumerate(sides):
        fitting: Path = ("fitting", place)
        yield _Way((*fitting, "lens", "height"), ("lens_height",))
        yield _Way((*fitting, "lens"), (f"plumb_{side}",))
        yield _Way(fitting, (f"unit_{side}",))
    hand = hand_of(short)
    for place, end in enumerate(one for one in HANDS if hand in (None, one)):
        for key in ("clearance", "depth"):
            yield _Way(("side_space", place, key), (f"behind_{end}", key))
        yield _Way(("side_space", place), (f"behind_{end}",))
    yield _Way(("motion",), ("opening_runs",))
    yield _Way(("leaves", "mass"), ("leaf_mass",))
    for key in ("clear_width", "clear_height", "kept"):
        yield _Way((key,), (key,))
