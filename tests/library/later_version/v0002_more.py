"""A step as a later program might bring: several changes, all or none of them."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    op.add_column("cases", sa.Column("more", sa.Integer))
    op.execute("UPDATE cases SET more = places")
    op.create_table(
        "extra",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("place_id", sa.Integer, sa.ForeignKey("places.id", ondelete="CASCADE")),
        sqlite_strict=True,
    )
    op.execute("INSERT INTO extra (place_id) SELECT id FROM places")
    op.create_index("extra_by_place", "extra", ["place_id"])
