"""The tables as they are after the newest migration."""

from sqlalchemy import (
    Boolean,
    Column,
    ForeignKey,
    Integer,
    LargeBinary,
    MetaData,
    PrimaryKeyConstraint,
    String,
    Table,
    Text,
    UniqueConstraint,
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

VISIT_EVENT = Table(
    "visit_event",
    METADATA,
    # The order in which events came in; says nothing about when they happened.
    Column("number", Integer, primary_key=True),
    Column("id", String, nullable=False, unique=True),
    Column("device", String, nullable=False),
    Column("seq", Integer, nullable=False),
    Column("visit", String, nullable=False, index=True),
    Column("site", String, ForeignKey("site.id"), nullable=False),
    Column("doorway", String, nullable=False),
    Column("kind", String, nullable=False),
    Column("text", Text, nullable=False),
    Column("came", String, nullable=False),
    UniqueConstraint("device", "seq"),
)
"""What was tapped at doors; rows are added and never changed."""

VISIT_REFUSED = Table(
    "visit_refused",
    METADATA,
    Column("digest", String, primary_key=True),
    Column("device", String, nullable=False),
    Column("seq", Integer, nullable=False),
    Column("visit", String, nullable=False, index=True),
    Column("site", String, ForeignKey("site.id"), nullable=False),
    Column("doorway", String, nullable=False),
    Column("why", String, nullable=False),
    Column("text", Text, nullable=False),
    Column("came", String, nullable=False),
)
"""Events that came under a number or an id that was taken: shown, never counted."""

RECORD = Table(
    "record",
    METADATA,
    Column("digest", String, primary_key=True),
    Column("number", Integer, nullable=False),
    # One record a visit; a record without a visit is of the doorway on a day.
    Column("visit", String, nullable=True, unique=True),
    Column("site", String, ForeignKey("site.id"), nullable=False),
    Column("doorway", String, nullable=False),
    Column("sealed", LargeBinary, nullable=False),
    Column("paper", LargeBinary, nullable=True),
    # The last event of the visit, by its number here, that is in it.
    Column("upto", Integer, nullable=False),
    Column("kept", String, nullable=False),
    UniqueConstraint("site", "number"),
)
"""Sealed records, byte for byte; numbers count up at each site."""

PHOTO = Table(
    "photo",
    METADATA,
    Column("sha256", String, primary_key=True),
    Column("bytes", Integer, nullable=False),
    Column("kind", String, nullable=False),
    Column("width", Integer, nullable=False),
    Column("height", Integer, nullable=False),
    Column("came", String, nullable=False),
)
"""Photos whose bytes lie beside the database, each under its digest."""

KEEPING_EVENT = Table(
    "keeping_event",
    METADATA,
    # The order in which they came in.
    Column("number", Integer, primary_key=True),
    Column("id", String, nullable=False, unique=True),
    # What it is said of: an attendance that is planned, a fault that was reported.
    Column("about", String, nullable=False, index=True),
    Column("site", String, ForeignKey("site.id"), nullable=False),
    Column("doorway", String, nullable=False),
    Column("kind", String, nullable=False),
    Column("text", Text, nullable=False),
    Column("came", String, nullable=False),
)
"""What is said of a door between visits; rows are added and never changed."""

DOOR_SITE = Table(
    "door_site",
    METADATA,
    Column("site", String, ForeignKey("site.id"), primary_key=True),
    # SHA-256 of the text from which its doorways were read.
    Column("digest", String, nullable=False),
    # What else reading it rests on; asked only where it could not be read.
    Column("key", String, nullable=False),
    Column("unread", Boolean, nullable=False),
)
"""Of which text the doorways of a site are in `door`; it can be thrown away."""

DOOR = Table(
    "door",
    METADATA,
    Column("number", Integer, primary_key=True),
    Column("site", String, ForeignKey("site.id"), nullable=False),
    Column("doorway", String, nullable=False),
    Column("name", String, nullable=False),
    Column("place", String, nullable=False),
    Column("rulebook", String, nullable=False, index=True),
    Column("person", String, nullable=False, index=True),
    Column("route", String, nullable=False, index=True),
    # By what names are put in order, and all words by which it is found.
    Column("by_name", String, nullable=False),
    Column("by_site", String, nullable=False),
    Column("by_place", String, nullable=False),
    Column("sought", Text, nullable=False),
    # What its findings rest on beside the text and the day; empty: not studied.
    Column("key", String, nullable=False),
    Column("studied", String, nullable=False),
    Column("judged", Boolean, nullable=False),
    Column("mend", Integer, nullable=False),
    Column("measure", Integer, nullable=False),
    Column("office", Integer, nullable=False),
    Column("due_must", Boolean, nullable=False),
    # The next check, which records and reports decide too; empty key: not known yet.
    Column("due_key", String, nullable=False),
    Column("due", String, nullable=False),
    Column("due_day", String, nullable=True),
    UniqueConstraint("site", "doorway"),
)
"""Every doorway as a list shows it, worked out once; it can be thrown away."""

DOOR_ANSWER = Table(
    "door_answer",
    METADATA,
    Column("question", String, nullable=False),
    Column("verdict", String, nullable=False),
    Column("door", Integer, ForeignKey("door.number"), nullable=False, index=True),
    PrimaryKeyConstraint("question", "verdict", "door"),
    sqlite_with_rowid=False,
)
"""Which questions fail, or are not shown, at which doorway."""

DOOR_MET = Table(
    "door_met",
    METADATA,
    Column("site", String, ForeignKey("site.id"), nullable=False),
    Column("doorway", String, nullable=False),
    Column("visits", Integer, nullable=False),
    Column("visit", String, nullable=True),
    Column("begun", String, nullable=False),
    Column("left_as", String, nullable=False),
    Column("open", Integer, nullable=False),
    # All that had come in of visits and between them when this was worked out.
    Column("upto", Integer, nullable=False, index=True),
    Column("upto_said", Integer, nullable=False, index=True),
    PrimaryKeyConstraint("site", "doorway"),
    sqlite_with_rowid=False,
)
"""What visits, and what was said between them, come to at each doorway."""
