"""The demo: an invented building, by the same path as any file of a user's."""

from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from limen.desk.checking import Checked, check
from limen.desk.drawing import Units, draw, first_witness
from limen.desk.refusal import refusing
from limen.desk.reporting import report

if TYPE_CHECKING:
    from limen.findings import Finding

FOUND_ON = date(2026, 11, 12)
CORRECTED_ON = date(2026, 12, 3)


@dataclass(frozen=True, slots=True)
class Demo:
    """The demo's two states and where it was drawn.

    Attributes:
        found: as found.
        corrected: as corrected.
        files: the site files, copied where they can be changed.
        drawings: the drawings.
        reports: a report of each state, as an owner would receive it.
    """

    found: Checked
    corrected: Checked
    files: tuple[Path, ...]
    drawings: tuple[Path, ...]
    reports: tuple[Path, ...]

    @property
    def witness(self) -> "Finding | None":
        """The first failure that can be shown at a place, as found."""
        return first_witness(self.found.studies[0])


def demo(out: str | Path, units: Units = "metric") -> Demo:
    """Check, draw and report the invented building in both states.

    Args:
        out: a folder for its site files, drawings and reports; made if it is not
            there.
        units: in which lengths are written on drawings and in reports.

    Raises:
        Refusal: the folder cannot be written to.
    """
    folder = Path(out)
    states = [_state(name) for name in ("as-found", "corrected")]
    copies = [_copied(source, folder) for source in states]
    found = check(states[0], on=FOUND_ON)
    corrected = check(states[1], on=CORRECTED_ON)
    drawings = (
        *draw(found, folder / "as-found", units=units),
        *draw(corrected, folder / "corrected", units=units),
    )
    reports = (
        report(found, folder / "as-found.pdf", units=units),
        report(corrected, folder / "corrected.pdf", units=units),
    )
    return Demo(found, corrected, tuple(copies), drawings, reports)


def _state(name: str) -> Path:
    """A site file of the demo's, where limen is installed."""
    return Path(str(files("limen").joinpath("demo", f"alder-quay-{name}.toml")))


def _copied(source: Path, folder: Path) -> Path:
    """A copy to read and to try things on; one that is there stays as it is."""
    target = folder / source.name
    with refusing(), suppress(FileExistsError):
        folder.mkdir(parents=True, exist_ok=True)
        with target.open("xb") as file:
            file.write(source.read_bytes())
    return target
