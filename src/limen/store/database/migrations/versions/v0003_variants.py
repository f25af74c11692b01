"""Variants of doorways: settings under a name."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    """Make the table of variants."""
    op.create_table(
        "variant",
        sa.Column("id", sa.String, primary_key=True),
        sa.Column("site", sa.String, sa.ForeignKey("site.id"), nullable=False),
        sa.Column("doorway", sa.String, nullable=False),
        sa.Column("name", sa.String, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("changed", sa.String, nullable=False),
        sa.Column("away", sa.Boolean, nullable=False),
    )
    op.create_index("variant_of", "variant", ["site", "doorway"])
