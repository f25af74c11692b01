"""All findings of one doorway under one rulebook on one date."""

from dataclasses import dataclass
from datetime import date

from limen.findings.figures import Spots
from limen.findings.finding import Finding
from limen.findings.verdict import Verdict
from limen.model.doorway import Doorway
from limen.rules.rule import Weight


@dataclass(frozen=True, slots=True)
class RowOnFloor:
    """One row of a unit as it lands on the floor.

    Attributes:
        row: its number, from 1.
        spots: middles and light radius.
        from_leaf: the row's distance from the leaf face at its middle (m).
    """

    row: int
    spots: Spots
    from_leaf: float


@dataclass(frozen=True, slots=True)
class BeamLine:
    """One beam for the section: from the lens to the floor, (x, y, z) each."""

    row: int
    start: tuple[float, float, float]
    end: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class UnitDrawn:
    """A unit for the drawings.

    Attributes:
        fitting: its id.
        side: outside or inside.
        lens: where it is; None for a light barrier.
        rows: its rows on the floor, for the first reading of the manual.
        beams: the middle beam of each row and both ends of the first.
        barrier: level beams as (y, z) of each.
    """

    fitting: str
    side: str
    lens: tuple[float, float, float] | None
    rows: tuple[RowOnFloor, ...]
    beams: tuple[BeamLine, ...]
    barrier: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Study:
    """Frozen and complete: everything shown later is read from here."""

    doorway: Doorway
    rulebook: str
    edition: str
    digest: str
    on: date | None
    version: str
    findings: tuple[Finding, ...]
    units: tuple[UnitDrawn, ...] = ()
    overrides: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    def of(self, *verdicts: Verdict) -> tuple[Finding, ...]:
        """The findings with one of these verdicts, in order."""
        return tuple(f for f in self.findings if f.verdict in verdicts)

    def musts(self, verdict: Verdict) -> tuple[Finding, ...]:
        """The findings of weight must with this verdict."""
        return tuple(f for f in self.of(verdict) if f.weight is Weight.MUST)
