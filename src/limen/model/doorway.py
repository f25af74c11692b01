"""One automatic sliding door in its wall, and what stands around it."""

from collections.abc import Sequence
from datetime import date
from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from limen.model.air import Air
from limen.model.fields import (
    Id,
    Length,
    Mass,
    Name,
    Offset,
    Ratio,
    Stated,
    length,
)
from limen.model.fitting import Fitting
from limen.model.keeping import Kept
from limen.model.movement import Impact, Mechanics, Motion, PowerLoss
from limen.model.people import Approach, Side, Use
from limen.model.surroundings import Exposure, Marking
from limen.model.traffic import Traffic
from limen.model.wiring import Document, Operator
from limen.quantity import Quantity

Hand = Literal["left", "right"]
SMALL = length(0.0, 0.5, "0 to 500 mm")
NARROWEST = 0.1  # m, a reduced width below this is a slip of the pen


class Leaves(Stated):
    """The moving panels.

    ``hand`` is the side to which a single leaf opens, seen from outside.
    ``planes`` are the leaf mid-planes' distances from the mid-plane of all of
    them, positive outside; one plane unless the door is telescopic.
    """

    kind: Literal["single", "bi-parting"]
    """One leaf, or two that part in the middle."""
    hand: Hand | None = None
    """The side to which a single leaf opens, seen from outside."""
    thickness: Annotated[Quantity, length(0.005, 0.3, "5 to 300 mm")]
    """Thickness of a leaf, face to face."""
    planes: tuple[Offset, ...] = Field(default=(), max_length=4)
    """Leaf mid-planes from the mid-plane of all, positive outside: telescopic doors."""
    sway: Annotated[Quantity, SMALL] | None = None
    """How far a leaf can be pushed across, to each side."""
    handle_depth: Annotated[Quantity, SMALL] | None = None
    """How far handles stand out from the leaf face."""
    mass: Mass | None = None
    """Mass of one leaf."""
    glass: Length | None = None
    """Thickness of all its glass together, where its mass is not known."""
    width: Length | None = None
    """Width of one leaf."""
    height: Length | None = None
    """Height of one leaf."""
    travel: Length | None = None
    """Way of one leaf from closed to open; the clear width's share if left out."""

    @model_validator(mode="after")
    def _single_has_a_hand(self) -> "Leaves":
        if (self.kind == "single") == (self.hand is not None):
            return self
        raise PydanticCustomError(
            "hand",
            "a single leaf names the side to which it opens; two leaves do not",
            {
                "at": ("hand",),
                "accepted": "left or right, for a single leaf only",
                "example": 'hand = "left"',
            },
        )


class Header(Stated):
    """The beam above the opening: how far its faces stand out from the leaf faces."""

    outside: Length
    """How far its outside face stands out from the leaf face."""
    inside: Length
    """How far its inside face stands out from the leaf face."""
    underside: Length | None = None
    """Height of its underside above the floor; the clear height if left out."""


class Reveal(Stated):
    """Depth of wall beside the opening, from the leaf face, on each side."""

    outside: Length
    """Depth of wall outside, from the leaf face."""
    inside: Length
    """Depth of wall inside, from the leaf face."""


class SideSpace(Stated):
    """The space that a leaf opens into, at one end of the opening.

    ``gap`` is between the leaf face and the nearest fixed part; ``depth`` from
    the leaf face to what stands beside it; ``clearance`` from the trailing
    edge, leaf open, to the fixed part or thing behind it; ``to_post`` from the
    leading edge, leaf open, to the post.
    """

    side: Hand
    """The end of the opening, seen from outside."""
    gap: Length | None = None
    """Between the leaf face and the nearest fixed part."""
    depth: Length | None = None
    """From the leaf face to what stands beside it."""
    clearance: Length | None = None
    """From the trailing edge, leaf open, to what is behind it."""
    to_post: Length | None = None
    """From the leading edge, leaf open, to the post."""
    behind: Name | None = None
    """What was set down behind the opening leaf, if anything was."""
    guarded: bool = False
    """Whether a screen keeps people out of the space."""


class Thing(Stated):
    """Something that stands or moves near the door: a stand, a plant, a flag.

    ``along`` and ``out`` give its middle from the middle of the opening and
    from the leaf face on its side.
    """

    name: Name
    """What it is."""
    side: Side
    """The side on which it stands."""
    along: Offset
    """Its middle along the opening, positive to the right seen from outside."""
    out: Length
    """Its middle from the leaf face."""
    width: Length
    """Its size along the opening."""
    depth: Length
    """Its size away from the door."""
    height: Length
    """How high it stands."""
    moves: bool = False
    """Whether it moves by itself: a flag, a plant in the wind."""


class Facing(Stated):
    """Another doorway of the site that this one faces, as in a vestibule."""

    doorway: Id
    """Id of the other doorway."""
    side: Side
    """The side of this doorway that looks at it."""
    distance: Length
    """From the middle of this door's leaves to the middle of the other's."""
    shift: Offset | None = None
    """The other opening's middle, positive to the right seen from outside."""


class Beside(Stated):
    """Another doorway of the site in the same wall, or in one that runs along it."""

    doorway: Id
    """Id of the other doorway."""
    along: Offset
    """Its opening's middle from this one's, positive to the right seen from outside."""
    out: Offset | None = None
    """Its leaves further out than these; in line, within 50 mm, if left out."""


class Spaces(Stated):
    """The spaces that a doorway joins, by names of one's own: hall, yard, lobby.

    Walls let no light through: units in spaces of different names cannot reach each
    other, but through the leaf of a doorway.
    """

    outside: Name | None = None
    """The space outside."""
    inside: Name | None = None
    """The space inside."""


class Floor(Stated):
    """The floor under the door."""

    evenness: Annotated[Quantity, length(0.0, 0.05, "0 to 50 mm")] | None = None
    """How far the floor is off level near the door."""
    reflectance: Ratio | None = None
    """How much of the light the floor returns."""


class Doorway(Stated):
    """One doorway.  What is left out is unknown, and is said to be."""

    id: Id
    """Short name: small letters, digits and hyphens."""
    name: Name
    """Name as people say it."""
    commissioned: date | None = None
    """The day it was put into use; it chooses the edition."""
    edition: str | None = None
    """The edition to judge by, if a person has chosen one."""
    clear_width: Annotated[
        Quantity, length(0.5, 12.0, "0.5 to 12 m: wider than the test body")
    ]
    """Free width with the leaves open."""
    clear_height: Annotated[Quantity, length(1.5, 8.0, "1.5 to 8 m")]
    """Free height with the leaves open."""
    leaves: Leaves
    """The moving panels."""
    header: Header
    """The beam above the opening that carries operator and units."""
    reveal: Reveal
    """Wall beside the opening."""
    motion: Motion = Motion()
    """How the leaves move."""
    impact: tuple[Impact, ...] = Field(default=(), max_length=30)
    """Forces of a closing leaf that were measured."""
    power_loss: PowerLoss | None = None
    """What the door does without power."""
    mechanics: Mechanics = Mechanics()
    """What was looked at with the leaves pushed by hand."""
    operator: Operator = Operator()
    """The operator's inputs and supply."""
    document: tuple[Document, ...] = Field(default=(), max_length=40)
    """Papers that say what cannot be seen."""
    presence_ignored_below: Length | None = None
    """Gap near closed in which the operator ignores presence; 0 mm if it never does."""
    modes: tuple[
        Literal["automatic", "exit only", "hold open", "night", "reduced"], ...
    ] = ("automatic",)
    """The modes that people can choose at the door."""
    reduced_width: Length | None = None
    """Free width in the reduced mode."""
    mode_switch: Literal["key or code", "free"] | None = None
    """Who can change the mode: with a key or code, or anybody."""
    floor: Floor = Floor()
    """The floor near the door."""
    exposure: Exposure = Exposure()
    """Weather at the door."""
    marking: Marking = Marking()
    """What makes it seen."""
    use: Use = Use()
    """Who uses it."""
    traffic: Traffic = Traffic()
    """How many walk through it and past it."""
    air: Air = Air()
    """What divides the air of the building from the weather."""
    kept: Kept = Kept()
    """When it was last checked, changed or at fault."""
    approach: tuple[Approach, ...] = Field(default=(), max_length=2)
    """From where people come."""
    side_space: tuple[SideSpace, ...] = ()
    """The spaces that the leaves open into."""
    thing: tuple[Thing, ...] = ()
    """What stands or moves near the door."""
    facing: tuple[Facing, ...] = ()
    """Other doorways that this one faces."""
    beside: tuple[Beside, ...] = Field(default=(), max_length=20)
    """Other doorways in the same wall."""
    spaces: Spaces = Spaces()
    """The spaces that it joins."""
    fitting: tuple[Fitting, ...] = ()
    """The units at the doorway."""

    @model_validator(mode="after")
    def _reduced_is_narrower(self) -> "Doorway":
        width = self.reduced_width
        if width is None and "reduced" not in self.modes:
            return self
        if width is not None and NARROWEST <= width.value < self.clear_width.value:
            return self
        raise PydanticCustomError(
            "reduced_width",
            "the reduced width is missing or not narrower than the clear width",
            {
                "at": ("reduced_width",),
                "accepted": "100 mm up to less than clear_width",
                "example": 'reduced_width = "1000 mm"',
            },
        )

    @model_validator(mode="after")
    def _each_told_once(self) -> "Doorway":
        """Findings tell spaces, things and faced doorways apart by these."""
        _refuse_twice("side_space", "side", [space.side for space in self.side_space])
        _refuse_twice("thing", "name", [thing.name for thing in self.thing])
        _refuse_twice("facing", "doorway", [other.doorway for other in self.facing])
        _refuse_twice("beside", "doorway", [other.doorway for other in self.beside])
        _refuse_twice("approach", "side", [way.side for way in self.approach])
        return self


def _refuse_twice(table: str, key: str, told: Sequence[str]) -> None:
    for number, item in enumerate(told):
        if item in told[:number]:
            raise PydanticCustomError(
                "twice",
                "the same one is described twice",
                {
                    "found": item,
                    "at": (table, number, key),
                    "accepted": f"at most one [[doorway.{table}]] with this {key}",
                },
            )
