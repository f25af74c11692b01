"""The reader's language and units, as a drawing needs them."""

from dataclasses import dataclass, field

from limen.quantity import Dimension, Show, show
from limen.words import numbered, reading, say_length, say_unit
from limen.words.catalogue import catalogue


@dataclass(frozen=True, slots=True)
class Tongue:
    """The reader's language and units."""

    language: str = field(default_factory=reading)
    system: Show = Show.METRIC

    def say(self, key: str, **values: object) -> str:
        """The words under a key of the catalogue's drawing part, gaps filled.

        Raises:
            WordsError: there is no catalogue for the language, or no such key.
        """
        sentence = catalogue(self.language).sentence(f"drawing.{key}")
        if "fitting" in values:
            unit = say_unit(str(values["fitting"]), language=self.language)
            values = {**values, "fitting": unit}
        return sentence.format_map(values)

    def verdict(self, name: str) -> str:
        """A verdict in words."""
        return catalogue(self.language).sentence(f"verdict.{name}")

    def length(self, metres: float) -> str:
        """A length for people (m)."""
        return say_length(metres, self.system, language=self.language)

    def angle(self, radians: float) -> str:
        """An angle for people (rad)."""
        return numbered(show(radians, Dimension.ANGLE, self.system), self.language)

    def window(self, least: float, most: float) -> str:
        """A range of lengths (m), the unit said once where it is the same."""
        low, high = self.length(least), self.length(most)
        number, _, unit = low.rpartition(" ")
        if unit == high.rpartition(" ")[2] and "ft" not in low + high:
            low = number
        return self.say("window", least=low, most=high)
