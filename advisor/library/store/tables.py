"""The tables of a library. A change here needs a new version in `migrations/versions/`.

What is stored beside a case's body only repeats it, for finding and counting; photos alone stand
nowhere else. Words are keys of
the knowledge; days count from the first visit; numbers that are yes or no are 1 or 0.
"""

from sqlalchemy import REAL, Column, ForeignKey, Index, Integer, LargeBinary, MetaData, Table, Text

metadata = MetaData()


def _of(table: str) -> ForeignKey:
    return ForeignKey(f"{table}.id", ondelete="CASCADE")


cases = Table(
    "cases",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("token", Text, nullable=False, unique=True),
    Column("checksum", Text, nullable=False),  # sha256 of the body
    Column("format", Integer, nullable=False),
    Column("origin", Text, nullable=False),
    Column("invented", Integer, nullable=False),
    Column("kind", Text, nullable=False),
    Column("quarter", Text),
    Column("site", Text, nullable=False),  # its label, the token where there is none
    Column("visits", Integer, nullable=False),
    Column("places", Integer, nullable=False),
    Column("version", Integer, nullable=False),  # 1 when first added
    Index("cases_by_kind", "kind", "quarter"),
    Index("cases_by_quarter", "quarter"),
    Index("cases_by_origin", "origin"),
    sqlite_strict=True,
)

# Apart from what is told of them: that is looked through without reading these.
bodies = Table(
    "bodies",
    metadata,
    Column("case_id", Integer, _of("cases"), primary_key=True),
    Column("body", Text, nullable=False),
    sqlite_strict=True,
)

places = Table(
    "places",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("case_id", Integer, _of("cases"), nullable=False),
    Column("place", Integer, nullable=False),
    Column("status", Text, nullable=False),
    Column("cause", Text),  # confirmed
    Column("how", Text),
    Column("contributors", Text),  # with a space between them
    Column("method", Text),  # of the last repair
    Column("closed_because", Text),
    Column("reopened", Integer, nullable=False),
    Column("first_day", Integer, nullable=False),
    Column("closed_day", Integer),
    Column("shown_best", Text),  # the cause that led when the advisor answered
    Column("shown_rank", Integer),  # of the confirmed cause then; 1: it led
    Column("shown_confidence", REAL),  # of the one that led
    Column("packed", LargeBinary, nullable=False),
    Index("places_by_case", "case_id"),
    Index("places_by_cause", "cause", "case_id", "status"),
    Index("places_by_status", "status", "case_id"),
    sqlite_strict=True,
)

repairs = Table(
    "repairs",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("case_id", Integer, _of("cases"), nullable=False),
    Column("place_id", Integer, _of("places"), nullable=False),
    Column("method", Text, nullable=False),
    Column("held", Integer, nullable=False),
    Column("failed", Integer),
    Index("repairs_by_case", "case_id"),
    Index("repairs_by_place", "place_id", "method"),
    Index("repairs_by_method", "method", "case_id"),
    sqlite_strict=True,
)

photos = Table(
    "photos",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("place_id", Integer, _of("places"), nullable=False),
    Column("number", Integer, nullable=False),  # from 1 at each place
    Column("ending", Text, nullable=False),  # jpg or png
    Column("picture", LargeBinary, nullable=False),
    Index("photos_by_place", "place_id", "number", unique=True),
    sqlite_strict=True,
)

earlier = Table(
    "earlier",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("case_id", Integer, _of("cases"), nullable=False),
    Column("version", Integer, nullable=False),
    Column("checksum", Text, nullable=False),
    Column("body", Text, nullable=False),
    Index("earlier_by_case", "case_id", "version", unique=True),
    sqlite_strict=True,
)

holds = Table(
    "holds",
    metadata,
    Column("id", Integer, primary_key=True),
    # No cascade: what is held cannot be erased, not even by a fault of the program.
    Column("case_id", Integer, ForeignKey("cases.id"), nullable=False, unique=True),
    Column("who", Text, nullable=False),
    Column("why", Text, nullable=False),
    Column("review", Text, nullable=False),  # a day, as 2031-04-16
    sqlite_strict=True,
)

names = Table(
    "names",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", Text, nullable=False, unique=True),
    sqlite_strict=True,
)

erased = Table(
    "erased",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("day", Text, nullable=False),
    Column("count", Integer, nullable=False),
    sqlite_strict=True,
)

about = Table(
    "about",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("invented", Integer, nullable=False),  # a demonstration
    Column("rinse", Integer, nullable=False),  # traces of erased cases may be left in the files
    Column("packed_as", Text, nullable=False),  # by which attributes the findings are packed
    sqlite_strict=True,
)
