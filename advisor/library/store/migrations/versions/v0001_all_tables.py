"""The tables as they were first shipped."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    op.create_table(
        "cases",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("token", sa.Text, nullable=False, unique=True),
        sa.Column("checksum", sa.Text, nullable=False),
        sa.Column("format", sa.Integer, nullable=False),
        sa.Column("origin", sa.Text, nullable=False),
        sa.Column("invented", sa.Integer, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("quarter", sa.Text),
        sa.Column("site", sa.Text, nullable=False),
        sa.Column("visits", sa.Integer, nullable=False),
        sa.Column("places", sa.Integer, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sqlite_strict=True,
    )
    op.create_index("cases_by_kind", "cases", ["kind", "quarter"])
    op.create_index("cases_by_quarter", "cases", ["quarter"])
    op.create_index("cases_by_origin", "cases", ["origin"])
    op.create_table(
        "bodies",
        sa.Column("case_id", sa.Integer, _of("cases"), primary_key=True),
        sa.Column("body", sa.Text, nullable=False),
        sqlite_strict=True,
    )
    _places()
    _beside_the_cases()


def _places() -> None:
    op.create_table(
        "places",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("case_id", sa.Integer, _of("cases"), nullable=False),
        sa.Column("place", sa.Integer, nullable=False),
        sa.Column("status", sa.Text, nullable=False),
        sa.Column("cause", sa.Text),
        sa.Column("how", sa.Text),
        sa.Column("contributors", sa.Text),
        sa.Column("method", sa.Text),
        sa.Column("closed_because", sa.Text),
        sa.Column("reopened", sa.Integer, nullable=False),
        sa.Column("first_day", sa.Integer, nullable=False),
        sa.Column("closed_day", sa.Integer),
        sa.Column("shown_best", sa.Text),
        sa.Column("shown_rank", sa.Integer),
        sa.Column("shown_confidence", sa.REAL),
        sa.Column("packed", sa.LargeBinary, nullable=False),
        sqlite_strict=True,
    )
    op.create_index("places_by_case", "places", ["case_id"])
    op.create_index("places_by_cause", "places", ["cause", "case_id", "status"])
    op.create_index("places_by_status", "places", ["status", "case_id"])
    op.create_table(
        "repairs",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("case_id", sa.Integer, _of("cases"), nullable=False),
        sa.Column("place_id", sa.Integer, _of("places"), nullable=False),
        sa.Column("method", sa.Text, nullable=False),
        sa.Column("held", sa.Integer, nullable=False),
        sa.Column("failed", sa.Integer),
        sqlite_strict=True,
    )
    op.create_index("repairs_by_case", "repairs", ["case_id"])
    op.create_index("repairs_by_place", "repairs", ["place_id", "method"])
    op.create_index("repairs_by_method", "repairs", ["method", "case_id"])
    op.create_table(
        "photos",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("place_id", sa.Integer, _of("places"), nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("ending", sa.Text, nullable=False),
        sa.Column("picture", sa.LargeBinary, nullable=False),
        sqlite_strict=True,
    )
    op.create_index("photos_by_place", "photos", ["place_id", "number"], unique=True)


def _beside_the_cases() -> None:
    op.create_table(
        "earlier",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("case_id", sa.Integer, _of("cases"), nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("checksum", sa.Text, nullable=False),
        sa.Column("body", sa.Text, nullable=False),
        sqlite_strict=True,
    )
    op.create_index("earlier_by_case", "earlier", ["case_id", "version"], unique=True)
    op.create_table(
        "holds",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("case_id", sa.Integer, sa.ForeignKey("cases.id"), nullable=False, unique=True),
        sa.Column("who", sa.Text, nullable=False),
        sa.Column("why", sa.Text, nullable=False),
        sa.Column("review", sa.Text, nullable=False),
        sqlite_strict=True,
    )
    op.create_table(
        "names",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("name", sa.Text, nullable=False, unique=True),
        sqlite_strict=True,
    )
    op.create_table(
        "erased",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("day", sa.Text, nullable=False),
        sa.Column("count", sa.Integer, nullable=False),
        sqlite_strict=True,
    )
    op.create_table(
        "about",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("invented", sa.Integer, nullable=False),
        sa.Column("rinse", sa.Integer, nullable=False),
        sa.Column("packed_as", sa.Text, nullable=False),
        sqlite_strict=True,
    )


def _of(table: str) -> sa.ForeignKey:
    return sa.ForeignKey(f"{table}.id", ondelete="CASCADE")
