"""What is said of a door between visits: planned, refused, reported, followed up."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    """Make the table of what is said between visits, empty."""
    op.create_table(
        "keeping_event",
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("id", sa.String, nullable=False, unique=True),
        sa.Column("about", sa.String, nullable=False),
        sa.Column("site", sa.String, sa.ForeignKey("site.id"), nullable=False),
        sa.Column("doorway", sa.String, nullable=False),
        sa.Column("kind", sa.String, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("came", sa.String, nullable=False),
    )
    op.create_index("ix_keeping_event_about", "keeping_event", ["about"])
    op.create_index("ix_keeping_event_site", "keeping_event", ["site", "doorway"])
