"""The `advisor` command: reads what was asked, writes the answer, says how it ended."""

from advisor.cli.main import main

__all__ = ["main"]
