"""The tables as they are after the newest migration."""

from sqlalchemy import (
    Boolean,
    Column,
    ForeignKey,
    Integer,
    MetaData,
    PrimaryKeyConstraint,
    String,
    Table,
    Text,
)

METADATA = MetaData()

SITE = Table(
    "site",
    METADATA,
    Column("id", String, primary_key=True),
    Column("name", String, nullable=False),
    Column("version", Integer, nullable=False),
    Column("archived", Boolean, nullable=False),
)
"""A site, and which version of it counts."""

VERSION = Table(
    "version",
    METADATA,
    Column("site", String, ForeignKey("site.id"), nullable=False),
    Column("number", Integer, nullable=False),
    Column("name", String, nullable=False),
    Column("text", Text, nullable=False),
    Column("digest", String, nullable=False),
    Column("why", String, nullable=False),
    Column("changed", String, nullable=False),
    # Undo brings an earlier text back as a new version: whose text it is.
    Column("origin", Integer, nullable=False),
    # The origin that was in place when a text was written: where undo leads.
    Column("parent", Integer, nullable=True),
    PrimaryKeyConstraint("site", "number"),
)
"""Every text that a site ever had; rows are added and never changed."""

KNOWN = Table(
    "known",
    METADATA,
    Column("site", String, ForeignKey("site.id"), primary_key=True),
    Column("digest", String, nullable=False),
    Column("key", String, nullable=False),
    Column("said", Text, nullable=False),
)
"""What a list says of a site, worked out once; it can be thrown away."""

VARIANT = Table(
    "variant",
    METADATA,
    Column("id", String, primary_key=True),
    Column("site", String, ForeignKey("site.id"), nullable=False),
    Column("doorway", String, nullable=False),
    Column("name", String, nullable=False),
    Column("text", Text, nullable=False),
    Column("changed", String, nullable=False),
    Column("away", Boolean, nullable=False),
)
"""Settings of a doorway under a name; their text is never changed."""
