"""What a list says of each site, worked out once."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Make a table for it; it is filled as lists are shown."""
    op.create_table(
        "known",
        sa.Column("site", sa.String, sa.ForeignKey("site.id"), primary_key=True),
        sa.Column("digest", sa.String, nullable=False),
        sa.Column("key", sa.String, nullable=False),
        sa.Column("said", sa.Text, nullable=False),
    )
