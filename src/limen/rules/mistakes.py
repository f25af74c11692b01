"""What is wrong with a rulebook: all of it at once, each with its place."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Self


@dataclass(frozen=True, slots=True)
class Mistake:
    """One thing to mend in a rulebook or in a firm's values file.

    Attributes:
        file: the file it stands in, or the rulebook when no file is meant.
        rule: the rule, as its id or its place in the file; empty outside rules.
        key: the key path inside the rule or file.
        why: what is wrong, and what is accepted.
    """

    file: str
    rule: str
    key: str
    why: str

    def __str__(self) -> str:
        """One line: place, then reason."""
        place = ", ".join(part for part in (self.file, self.rule, self.key) if part)
        return f"{place}: {self.why}"


class RulebookError(ValueError):
    """A rulebook cannot be used as it stands; the fault is the rulebook's.

    Attributes:
        mistakes: everything that is wrong, in the order it was found.
    """

    def __init__(self, mistakes: Iterable[Mistake]) -> None:
        self.mistakes = tuple(mistakes)
        super().__init__("\n".join(str(mistake) for mistake in self.mistakes))

    @classmethod
    def of(cls, file: str, rule: str, key: str, why: str) -> Self:
        """The error that holds a single mistake."""
        return cls([Mistake(file, rule, key, why)])

    def __reduce__(self) -> tuple[type[Self], tuple[tuple[Mistake, ...]]]:
        """Cross a process border whole, so that a pool can report it."""
        return type(self), (self.mistakes,)
