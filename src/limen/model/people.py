"""Who uses the door, from where, and how quickly."""

from typing import Annotated, Literal

from pydantic import Field

from limen.model.fields import Id, Length, Name, Speed, Stated, angle
from limen.quantity import Quantity

Side = Literal["outside", "inside"]
Heading = Annotated[Quantity, angle(0.0, 1.5708, "0 to 90 deg")]


class Use(Stated):
    """Who uses the door, and for what."""

    escape_route: bool | None = None
    """Whether the doorway lies on an escape route."""
    escape_from: tuple[Side, ...] = ()
    """The sides from which people escape."""
    breaks_out: bool | None = None
    """Whether leaves swing out when pushed: break-out."""
    many_frail_or_small: bool | None = None
    """Whether many users are old, frail, disabled or small children."""
    public: bool | None = None
    """Whether the public uses it."""
    one_way: Side | None = None
    """The side from which people come, where they only pass one way."""
    groups: tuple[Id, ...] = Field(default=(), max_length=20)
    """Groups of people to be served, by name."""
    fastest: Speed | None = None
    """Walking speed up to which nobody may find the door late."""


class Approach(Stated):
    """From where people come to one side of the door.

    Headings are counted from straight at the door: one who comes from the left,
    seen from outside, counts to ``from_left``.
    """

    side: Side
    """The side of the doorway."""
    from_left: Heading
    """How far from the left people may come; 90 deg is along the wall."""
    from_right: Heading
    """How far from the right."""
    starts: Length | None = None
    """Where the shortest way begins: a corner, a lift; from the leaf face."""
    because: Name | None = None
    """What settles it: a corridor, a railing."""
