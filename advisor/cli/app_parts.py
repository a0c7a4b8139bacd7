"""What the apps of the command line share: options, the help, the screen of a call."""

from dataclasses import dataclass
from typing import Annotated, Final

import typer

from advisor.cli.exits import DONE
from advisor.cli.screen import Screen

HELP: Final = {"help_option_names": ["--help", "-h"]}

Own = Annotated[
    str | None,
    typer.Option(
        "--knowledge", metavar="DIR", help="A folder of your own, laid over the shipped knowledge."
    ),
]
Kept = Annotated[
    str | None,
    typer.Option("--library", metavar="FILE", help="Another library; also ADVISOR_LIBRARY."),
]
Json = Annotated[bool, typer.Option("--json", help="One JSON document, for programs.")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What `assess` asks of the case library. file: another than the user's own."""

    similar: bool = False
    own_history: bool = False
    file: str | None = None


NOTHING: Final = Asked()
History = Annotated[
    bool,
    typer.Option(
        "--with-library",
        envvar="ADVISOR_WITH_LIBRARY",
        help="Count your own history in; also ADVISOR_WITH_LIBRARY=1.",
    ),
]


def screen_for(context: typer.Context) -> Screen:
    """The screen that `main` has found."""
    screen = context.obj
    assert isinstance(screen, Screen)
    return screen


def help_alone(context: typer.Context) -> None:
    """Nothing asked: the help, and all is well."""
    if context.invoked_subcommand is None:
        print(context.get_help())
        raise typer.Exit(DONE)
