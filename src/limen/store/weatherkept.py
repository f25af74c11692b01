"""Years of weather that were read before, kept so that none is read twice.

What is kept is what pvlib made of a file's bytes, behind a digest of itself: one that
was cut or changed is no year, and the weather file is read again.
"""

from dataclasses import dataclass
from hashlib import sha256
from importlib.metadata import version
from io import BytesIO
from pathlib import Path
from tempfile import NamedTemporaryFile

import numpy as np

from limen.model.weather import HOURS, Year

LAYOUT = 1
"""Of what is kept and of the checks that it went through; another is read anew."""
READERS = ("pvlib", "pandas")
MOST_BYTES = 1_000_000
DIGEST = 32  # bytes
MOST_YEARS = 60
"""That are kept; of more the oldest go, and are read again where they are asked for."""


@dataclass(frozen=True, slots=True)
class Kept:
    """Where the year of a file is kept.

    Attributes:
        folder: may be thrown away at any time; made when first needed.
        digest: SHA-256 of the weather file.
        name: its name; the ending says which form it has.
    """

    folder: Path
    digest: str
    name: str

    @property
    def path(self) -> Path:
        """Named after all that the year depends on."""
        ending = Path(self.name).suffix.lower().removeprefix(".")
        readers = "-".join(version(one) for one in READERS)
        return self.folder / f"{self.digest}-{ending}-{LAYOUT}-{readers}.year"

    def read(self) -> Year | None:
        """The year; None if it is not there, or not whole."""
        try:
            written = self.path.read_bytes()
        except OSError:
            return None
        whole, content = written[:DIGEST], written[DIGEST:]
        if len(content) > MOST_BYTES or sha256(content).digest() != whole:
            return None
        with np.load(BytesIO(content), allow_pickle=False) as found:
            hours, place = found["hours"], str(found["place"])
        if hours.shape != (4, HOURS):
            return None
        return Year(self.name, place, self.digest, *hours)

    def write(self, year: Year) -> None:
        """Keep a year, whole or not at all; a folder that cannot be had is no fault."""
        hours = np.stack((year.temperature, year.humidity, year.pressure, year.wind))
        content = BytesIO()
        np.savez(content, hours=hours, place=np.array(year.place))
        whole = content.getvalue()
        try:
            self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            _write(self.path, sha256(whole).digest() + whole)
            _tidy(self.folder)
        except OSError:
            return


def _write(path: Path, data: bytes) -> None:
    with NamedTemporaryFile(dir=path.parent, prefix=".", delete=False) as file:
        place = Path(file.name)
        try:
            file.write(data)
            file.flush()
            place.replace(path)
        except OSError:
            place.unlink(missing_ok=True)
            raise


def _tidy(folder: Path) -> None:
    years = sorted(folder.glob("*.year"), key=lambda one: one.stat().st_mtime)
    for old in years[:-MOST_YEARS]:
        old.unlink(missing_ok=True)
