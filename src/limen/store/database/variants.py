"""Variants of a doorway: settings kept under a name, as a text of their own."""

from dataclasses import dataclass

from sqlalchemy import Row, insert, select, update

from limen.store.database.connecting import writing
from limen.store.database.library import Library
from limen.store.database.tables import VARIANT


class NoSuchVariantError(LookupError):
    """There is no variant under this id."""

    def __init__(self, variant_id: str) -> None:
        """Say which."""
        super().__init__(f'there is no variant "{variant_id}"')


@dataclass(frozen=True, slots=True)
class KeptVariant:
    """A variant as it is kept.

    Attributes:
        id: what it is called in addresses; never changes.
        site, doorway: of what it is a variant.
        name: what people call it.
        text: its settings, TOML: by key, as a site file takes them.
        changed: when it was kept, ISO 8601.
        away: whether it was put away.
    """

    id: str
    site: str
    doorway: str
    name: str
    text: str
    changed: str
    away: bool


def keep_variant(
    library: Library, site_id: str, doorway: str, name: str, text: str
) -> KeptVariant:
    """Keep settings under a name.

    Args:
        library: where.
        site_id: the site.
        doorway: id of the doorway.
        name: what people call it.
        text: the settings.

    Raises:
        NoSuchSiteError: there is no such site.
    """
    library.read(site_id)
    kept = KeptVariant(
        library.draw_id(),
        site_id,
        doorway,
        name,
        text,
        library.clock().isoformat(timespec="seconds"),
        away=False,
    )
    values = {name: getattr(kept, name) for name in VARIANT.c.keys()}  # noqa: SIM118 - columns
    with writing(library.engine).begin() as connection:
        connection.execute(insert(VARIANT).values(values))
    return kept


def variants_of(
    library: Library, site_id: str, doorway: str
) -> tuple[KeptVariant, ...]:
    """Every variant of a doorway in the order in which they were kept."""
    there = (VARIANT.c.site == site_id) & (VARIANT.c.doorway == doorway)
    rows = select(VARIANT).where(there).order_by(VARIANT.c.changed, VARIANT.c.name)
    with library.engine.connect() as connection:
        return tuple(_kept(row) for row in connection.execute(rows))


def variant_of(
    library: Library, site_id: str, doorway: str, variant_id: str
) -> KeptVariant:
    """One variant of a doorway.

    Raises:
        NoSuchVariantError: there is none.
    """
    found = variants_of(library, site_id, doorway)
    for one in found:
        if one.id == variant_id:
            return one
    raise NoSuchVariantError(variant_id)


def put_variant_away(library: Library, variant_id: str, *, away: bool) -> None:
    """Put a variant away, or take it out again; nothing of it is lost."""
    there = VARIANT.c.id == variant_id
    with writing(library.engine).begin() as connection:
        connection.execute(update(VARIANT).where(there).values(away=away))


def _kept(row: "Row[tuple[object, ...]]") -> KeptVariant:
    return KeptVariant(
        row.id,
        row.site,
        row.doorway,
        row.name,
        row.text,
        row.changed,
        away=bool(row.away),
    )
