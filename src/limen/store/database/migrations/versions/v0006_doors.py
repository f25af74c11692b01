"""All doorways as a list shows them: worked out, and quick to ask."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"


def upgrade() -> None:
    """Make the tables of what lists say of doorways, empty."""
    op.create_table(
        "door_site",
        sa.Column("site", sa.String, sa.ForeignKey("site.id"), primary_key=True),
        sa.Column("digest", sa.String, nullable=False),
        sa.Column("key", sa.String, nullable=False),
        sa.Column("unread", sa.Boolean, nullable=False),
    )
    _doors()
    _answers()
    _met()


def _doors() -> None:
    texts = ("name", "place", "rulebook", "person", "route")
    texts += ("by_name", "by_site", "by_place", "sought")
    texts += ("key", "studied", "due_key", "due")
    op.create_table(
        "door",
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("site", sa.String, sa.ForeignKey("site.id"), nullable=False),
        sa.Column("doorway", sa.String, nullable=False),
        *(sa.Column(name, sa.String, nullable=False) for name in texts),
        sa.Column("judged", sa.Boolean, nullable=False),
        *(
            sa.Column(name, sa.Integer, nullable=False)
            for name in ("mend", "measure", "office")
        ),
        sa.Column("due_day", sa.String, nullable=True),
        sa.Column("due_must", sa.Boolean, nullable=False),
        sa.UniqueConstraint("site", "doorway"),
    )
    for name in ("rulebook", "person", "route"):
        op.create_index(f"ix_door_{name}", "door", [name])


def _answers() -> None:
    op.create_table(
        "door_answer",
        sa.Column("question", sa.String, nullable=False),
        sa.Column("verdict", sa.String, nullable=False),
        sa.Column("door", sa.Integer, sa.ForeignKey("door.number"), nullable=False),
        sa.PrimaryKeyConstraint("question", "verdict", "door"),
        sqlite_with_rowid=False,
    )
    op.create_index("ix_door_answer_door", "door_answer", ["door"])


def _met() -> None:
    op.create_table(
        "door_met",
        sa.Column("site", sa.String, sa.ForeignKey("site.id"), nullable=False),
        sa.Column("doorway", sa.String, nullable=False),
        sa.Column("visits", sa.Integer, nullable=False),
        sa.Column("visit", sa.String, nullable=True),
        sa.Column("begun", sa.String, nullable=False),
        sa.Column("left_as", sa.String, nullable=False),
        sa.Column("open", sa.Integer, nullable=False),
        sa.Column("upto", sa.Integer, nullable=False),
        sa.Column("upto_said", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("site", "doorway"),
        sqlite_with_rowid=False,
    )
    op.create_index("ix_door_met_upto", "door_met", ["upto"])
    op.create_index("ix_door_met_upto_said", "door_met", ["upto_said"])
