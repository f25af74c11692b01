"""What is drawn of a terminal plan, and the words of the picture."""

from dataclasses import dataclass

from limen.findings import Message
from limen.findings.wires import WirePlan, WireShown
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.quantity import Show
from limen.words import reading, say


@dataclass(frozen=True, slots=True)
class WirePicture:
    """What is drawn.

    Attributes:
        doorway: its name and operator are told.
        plan: terminals and wires.
        system: in which lengths are written.
        language: of its words.
    """

    doorway: Doorway
    plan: WirePlan
    system: Show = Show.METRIC
    language: str = ""

    @property
    def spoken(self) -> str:
        """The language of its words."""
        return self.language or reading()

    def word(self, key: str, **values: str | Message) -> str:
        """A word of the picture."""
        said = Message(f"desk_wiring.picture.{key}", dict(values))
        return say(said, system=self.system, language=self.spoken)

    def named(self, unit: Fitting) -> str:
        """A unit, with its side where its name does not say it."""
        if unit.id == unit.side:
            return self.word("unit_alone", fitting=unit.id)
        side = Message(f"side.{unit.side}")
        return self.word("unit", fitting=unit.id, side=side)


Drawn = tuple[float, list[str]]
"""How high a plan comes (px), and its strokes."""


def nowhere(wire: WireShown) -> str:
    """The word for an output at whose other end nothing stands."""
    match wire.way:
        case "left alone":
            return "left_alone"
        case "open":
            return "nobody"
        case "wired" | "proposed":
            return "no_end"
