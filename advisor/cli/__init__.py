"""The `advisor` command: reads what was asked, writes the answer, says how it ended."""

from collections.abc import Sequence

__all__ = ["main"]


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command. arguments: None for those of the process. Returns the exit code."""
    try:
        # Loaded in here, so that an interruption while it loads is as quiet as any other.
        from advisor.cli.command import main as run  # noqa: PLC0415

        return run(arguments)
    except KeyboardInterrupt:
        from advisor.cli.exits import INTERRUPTED  # noqa: PLC0415

        return INTERRUPTED
