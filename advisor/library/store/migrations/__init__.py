"""How a library of an earlier version is brought up to date. A step, once shipped, never changes.

A new step: a file in `versions/`, its number at the end of `KNOWN`, the change in `tables.py`.
"""

import os
from pathlib import Path

from sqlalchemy import Connection

HERE = Path(__file__).parent
VERSIONS: tuple[Path, ...] = (HERE / "versions",)
KNOWN: tuple[str, ...] = ("0001",)
"""All versions, oldest first; the last is the one that this program writes."""


def upgrade(connection: Connection) -> None:
    """Bring the tables up to date, or create them, inside the caller's transaction."""
    # A third of a second to load, and needed once in years.
    from alembic.command import upgrade as run  # noqa: PLC0415
    from alembic.config import Config  # noqa: PLC0415

    config = Config(attributes={"connection": connection})
    config.set_main_option("path_separator", "os")
    config.set_main_option("script_location", _option(str(HERE)))
    config.set_main_option("version_locations", _option(os.pathsep.join(map(str, VERSIONS))))
    run(config, KNOWN[-1])


def _option(text: str) -> str:
    """A percent sign begins a placeholder in an option."""
    return text.replace("%", "%%")
