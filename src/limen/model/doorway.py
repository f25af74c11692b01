"""One automatic sliding door in its wall, and what stands around it."""

from datetime import date
from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from limen.model.fields import (
    Id,
    Length,
    Mass,
    Name,
    Offset,
    Ratio,
    Speed,
    Stated,
    Time,
    length,
)
from limen.model.fitting import Fitting, Side
from limen.quantity import Quantity

Hand = Literal["left", "right"]
SMALL = length(0.0, 0.5, "0 to 500 mm")


class Leaves(Stated):
    """The moving panels.

    ``hand`` is the side to which a single leaf opens, seen from outside.
    ``planes`` are the leaf mid-planes' distances from the mid-plane of all of
    them, positive outside; one plane unless the door is telescopic.
    """

    kind: Literal["single", "bi-parting"]
    hand: Hand | None = None
    thickness: Annotated[Quantity, length(0.005, 0.3, "5 to 300 mm")]
    planes: tuple[Offset, ...] = Field(default=(), max_length=4)
    sway: Annotated[Quantity, SMALL] | None = None
    handle_depth: Annotated[Quantity, SMALL] | None = None
    mass: Mass | None = None

    @model_validator(mode="after")
    def _single_has_a_hand(self) -> "Leaves":
        if (self.kind == "single") == (self.hand is not None):
            return self
        raise PydanticCustomError(
            "hand",
            "a single leaf names the side to which it opens; two leaves do not",
            {"accepted": 'hand = "left" or "right", for a single leaf only'},
        )


class Header(Stated):
    """The beam above the opening: how far its faces stand out from the leaf faces."""

    outside: Length
    inside: Length
    underside: Length | None = None


class Reveal(Stated):
    """Depth of wall beside the opening, from the leaf face, on each side."""

    outside: Length
    inside: Length


class SideSpace(Stated):
    """The space that a leaf opens into, at one end of the opening.

    ``gap`` is between the leaf face and the nearest fixed part; ``depth`` from
    the leaf face to what stands beside it; ``clearance`` from the trailing
    edge, leaf open, to the fixed part or thing behind it; ``to_post`` from the
    leading edge, leaf open, to the post.
    """

    side: Hand
    gap: Length | None = None
    depth: Length | None = None
    clearance: Length | None = None
    to_post: Length | None = None
    behind: Name | None = None
    guarded: bool = False


class Motion(Stated):
    """How the leaves move, as set or as timed with the stopwatch."""

    opening_speed: Speed | None = None
    closing_speed: Speed | None = None
    opening_time: Time | None = None
    closing_time: Time | None = None
    hold_open: Time | None = None


class Thing(Stated):
    """Something that stands or moves near the door: a stand, a plant, a flag.

    ``along`` and ``out`` give its middle from the middle of the opening and
    from the leaf face on its side.
    """

    name: Name
    side: Side
    along: Offset
    out: Length
    width: Length
    depth: Length
    height: Length
    moves: bool = False


class Facing(Stated):
    """Another doorway of the site that this one faces, as in a vestibule."""

    doorway: Id
    side: Side
    distance: Length
    shift: Offset | None = None


class Use(Stated):
    """Who uses the door, and for what."""

    escape_route: bool = False
    many_frail_or_small: bool | None = None
    public: bool | None = None


class Floor(Stated):
    """The floor under the door."""

    evenness: Annotated[Quantity, length(0.0, 0.05, "0 to 50 mm")] | None = None
    reflectance: Ratio | None = None


class Doorway(Stated):
    """One doorway.  What is left out is unknown, and is said to be."""

    id: Id
    name: Name
    commissioned: date | None = None
    edition: str | None = None
    clear_width: Annotated[
        Quantity, length(0.5, 12.0, "0.5 to 12 m: wider than the test body")
    ]
    clear_height: Annotated[Quantity, length(1.5, 8.0, "1.5 to 8 m")]
    leaves: Leaves
    header: Header
    reveal: Reveal
    motion: Motion = Motion()
    presence_ignored_below: Length | None = None
    modes: tuple[
        Literal["automatic", "exit only", "hold open", "night", "reduced"], ...
    ] = ("automatic",)
    reduced_width: Length | None = None
    floor: Floor = Floor()
    use: Use = Use()
    side_space: tuple[SideSpace, ...] = ()
    thing: tuple[Thing, ...] = ()
    facing: tuple[Facing, ...] = ()
    fitting: tuple[Fitting, ...] = ()

    @model_validator(mode="after")
    def _reduced_is_narrower(self) -> "Doorway":
        width = self.reduced_width
        if width is None and "reduced" not in self.modes:
            return self
        if width is not None and 0.1 <= width.value < self.clear_width.value:
            return self
        raise PydanticCustomError(
            "reduced_width",
            "the reduced width is missing or not narrower than the clear width",
            {"accepted": "100 mm up to less than clear_width", "example": "1000 mm"},
        )

    @model_validator(mode="after")
    def _one_space_a_side(self) -> "Doorway":
        sides = [space.side for space in self.side_space]
        if len(sides) == len(set(sides)):
            return self
        raise PydanticCustomError(
            "side_space",
            "one side of the opening is described twice",
            {"accepted": "at most one [[doorway.side_space]] left and one right"},
        )
