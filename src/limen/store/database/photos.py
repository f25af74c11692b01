"""Which photos are whole, and what they are."""

from dataclasses import asdict, dataclass

from sqlalchemy import select
from sqlalchemy.dialects.sqlite import insert

from limen.store.database.connecting import writing
from limen.store.database.library import Library
from limen.store.database.tables import PHOTO
from limen.store.picture_heads import Picture


@dataclass(frozen=True, slots=True)
class KeptPhoto:
    """A photo that is whole.

    Attributes:
        sha256: of its bytes.
        bytes: how many there are.
        kind: its media type.
        width, height: in pixels.
        came: when it was whole, ISO 8601.
    """

    sha256: str
    bytes: int
    kind: str
    width: int
    height: int
    came: str


def keep_photo(library: Library, sha256: str, size: int, found: Picture) -> KeptPhoto:
    """Know a photo as whole, once its bytes are on the disk.

    Raises:
        NotKeptError: the disk does not take it.
    """
    came = library.clock().isoformat(timespec="seconds")
    made = KeptPhoto(sha256, size, found.kind, found.width, found.height, came)
    with writing(library.engine).begin() as connection:
        row = insert(PHOTO).values(asdict(made))
        connection.execute(row.on_conflict_do_nothing())
    return made


def photo_of(library: Library, sha256: str) -> KeptPhoto | None:
    """A photo that is whole; None if it is not, or not yet."""
    rows = select(PHOTO).where(PHOTO.c.sha256 == sha256)
    with library.engine.connect() as connection:
        row = connection.execute(rows).one_or_none()
    if row is None:
        return None
    return KeptPhoto(row.sha256, row.bytes, row.kind, row.width, row.height, row.came)
