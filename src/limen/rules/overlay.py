"""An overlay: what one country says otherwise, or says too, than a rulebook.

It names a base and holds only what differs. Where base and overlay give a figure
for the same limit the stricter one is in force and both are cited.
"""

from dataclasses import dataclass

from limen.rules.rule import Rule, Weight
from limen.rules.rulebook import Document


@dataclass(frozen=True, slots=True)
class Layer:
    """One rule of an overlay.

    Attributes:
        rule: as it stands in the overlay: its own figures, source, cases and
            conditions; ``asks`` is empty where the base's sentence serves.
        over: name of the base's rule it is laid on, question and variant; empty
            where it is a rule of its own.
        weight: how much hangs on it, where it says so.
    """

    rule: Rule
    over: str
    weight: Weight | None = None


@dataclass(frozen=True, slots=True)
class Overlay:
    """An overlay, read for one edition of its base.

    Attributes:
        id: its name, as the folder is named.
        base: id of the rulebook it is laid on.
        title: its title.
        layers: its rules, in the order of its files.
        notes: what must be printed wherever it is used.
        documents: what it rests on.
        stands_in: why the base's rules are used though nobody there asks for
            them; empty where they are the law of the place.
    """

    id: str
    base: str
    title: str
    layers: tuple[Layer, ...]
    notes: tuple[str, ...] = ()
    documents: tuple[Document, ...] = ()
    stands_in: str = ""
