"""Visits: events, what was refused of them, sealed records, photos."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    """Make the tables of visits, empty."""
    _events()
    _refused()
    _records()
    op.create_table(
        "photo",
        sa.Column("sha256", sa.String, primary_key=True),
        sa.Column("bytes", sa.Integer, nullable=False),
        sa.Column("kind", sa.String, nullable=False),
        sa.Column("width", sa.Integer, nullable=False),
        sa.Column("height", sa.Integer, nullable=False),
        sa.Column("came", sa.String, nullable=False),
    )


def _events() -> None:
    op.create_table(
        "visit_event",
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("id", sa.String, nullable=False, unique=True),
        sa.Column("device", sa.String, nullable=False),
        sa.Column("seq", sa.Integer, nullable=False),
        sa.Column("visit", sa.String, nullable=False),
        sa.Column("site", sa.String, sa.ForeignKey("site.id"), nullable=False),
        sa.Column("doorway", sa.String, nullable=False),
        sa.Column("kind", sa.String, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("came", sa.String, nullable=False),
        sa.UniqueConstraint("device", "seq"),
    )
    op.create_index("ix_visit_event_visit", "visit_event", ["visit"])
    op.create_index("ix_visit_event_site", "visit_event", ["site", "doorway"])


def _refused() -> None:
    op.create_table(
        "visit_refused",
        sa.Column("digest", sa.String, primary_key=True),
        sa.Column("device", sa.String, nullable=False),
        sa.Column("seq", sa.Integer, nullable=False),
        sa.Column("visit", sa.String, nullable=False),
        sa.Column("site", sa.String, sa.ForeignKey("site.id"), nullable=False),
        sa.Column("doorway", sa.String, nullable=False),
        sa.Column("why", sa.String, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("came", sa.String, nullable=False),
    )
    op.create_index("ix_visit_refused_visit", "visit_refused", ["visit"])


def _records() -> None:
    op.create_table(
        "record",
        sa.Column("digest", sa.String, primary_key=True),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("visit", sa.String, nullable=True, unique=True),
        sa.Column("site", sa.String, sa.ForeignKey("site.id"), nullable=False),
        sa.Column("doorway", sa.String, nullable=False),
        sa.Column("sealed", sa.LargeBinary, nullable=False),
        sa.Column("paper", sa.LargeBinary, nullable=True),
        sa.Column("upto", sa.Integer, nullable=False),
        sa.Column("kept", sa.String, nullable=False),
        sa.UniqueConstraint("site", "number"),
    )
