"""Sites and all their texts."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make the tables of sites and of their texts."""
    op.create_table(
        "site",
        sa.Column("id", sa.String, primary_key=True),
        sa.Column("name", sa.String, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("archived", sa.Boolean, nullable=False),
    )
    op.create_table(
        "version",
        sa.Column("site", sa.String, sa.ForeignKey("site.id"), nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("name", sa.String, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("digest", sa.String, nullable=False),
        sa.Column("why", sa.String, nullable=False),
        sa.Column("changed", sa.String, nullable=False),
        sa.Column("origin", sa.Integer, nullable=False),
        sa.Column("parent", sa.Integer, nullable=True),
        sa.PrimaryKeyConstraint("site", "number"),
    )
