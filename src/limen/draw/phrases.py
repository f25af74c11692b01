"""The reader's language and units, as a drawing needs them."""

from dataclasses import dataclass

from limen.quantity import Dimension, Show, show, show_length
from limen.words.catalogue import catalogue


@dataclass(frozen=True, slots=True)
class Tongue:
    """The reader's language and units."""

    language: str = "en"
    system: Show = Show.METRIC

    def say(self, key: str, **values: object) -> str:
        """The words under a key of the catalogue's drawing part, gaps filled.

        Raises:
            WordsError: there is no catalogue for the language, or no such key.
        """
        sentence = catalogue(self.language).sentence(f"drawing.{key}")
        return sentence.format_map(values)

    def verdict(self, name: str) -> str:
        """A verdict in words."""
        return catalogue(self.language).sentence(f"verdict.{name}")

    def length(self, metres: float) -> str:
        """A length for people (m)."""
        return show_length(metres, self.system)

    def angle(self, radians: float) -> str:
        """An angle for people (rad)."""
        return show(radians, Dimension.ANGLE, self.system)

    def window(self, least: float, most: float) -> str:
        """A range of lengths (m), the unit said once where it is the same."""
        low, high = self.length(least), self.length(most)
        number, _, unit = low.rpartition(" ")
        if unit == high.rpartition(" ")[2] and "ft" not in low + high:
            low = number
        return self.say("window", least=low, most=high)
