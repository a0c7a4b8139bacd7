"""The commands and their options. What they do is loaded when one is called."""

from collections.abc import Sequence
from typing import Annotated

import typer

from advisor.cli.app_parts import HELP, Asked, History, Json, Kept, Own, help_alone, screen_for
from advisor.cli.exits import DONE
from advisor.version import __version__

app = typer.Typer(
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings=HELP,
    help="What causes a wet place in concrete, and why.",
    epilog="Example: advisor assess callout.yaml",
)
knowledge_app = typer.Typer(
    rich_markup_mode=None,
    context_settings=HELP,
    help="Check, list or show what the advisor knows.",
    epilog="Example: advisor knowledge show wall-foot-joint",
)
cases_app = typer.Typer(
    rich_markup_mode=None,
    context_settings=HELP,
    help="Check how well worked cases are answered.",
    epilog="Example: advisor cases check",
)
app.add_typer(knowledge_app, name="knowledge")
app.add_typer(cases_app, name="cases")


def app_for(words: Sequence[str]) -> typer.Typer:
    """The app of a call. `assess` has to start fast, and does without the library's commands."""
    if list(words[:1]) != ["assess"] and not any(
        g.name == "library" for g in app.registered_groups
    ):
        from advisor.cli.library_app import library_app  # noqa: PLC0415

        app.add_typer(library_app, name="library")
    return app


@app.callback(invoke_without_command=True)
def _root(
    context: typer.Context,
    *,
    version: Annotated[bool, typer.Option("--version", help="Print the version.")] = False,
    no_color: Annotated[  # noqa: ARG001 - `main` takes it off wherever it stands; for the help
        bool, typer.Option("--no-color", help="No colour, also with NO_COLOR set.")
    ] = False,
) -> None:
    if version:
        print(f"advisor {__version__}")
        raise typer.Exit(DONE)
    help_alone(context)


@knowledge_app.callback(invoke_without_command=True)
def _knowledge(context: typer.Context) -> None:
    help_alone(context)


@cases_app.callback(invoke_without_command=True)
def _cases(context: typer.Context) -> None:
    help_alone(context)


@app.command(epilog="Example: advisor assess callout.yaml --leak L1 --reasons")
def assess(
    context: typer.Context,
    files: Annotated[
        list[str], typer.Argument(metavar="FILE...", help="Callout files; - is standard input.")
    ],
    *,
    json: Json = False,
    leak: Annotated[
        str | None, typer.Option(metavar="ID", help="Only the wet place of this name.")
    ] = None,
    reasons: Annotated[
        bool, typer.Option("--reasons", help="All that is for and against every cause.")
    ] = False,
    brief: Annotated[
        bool, typer.Option("--brief", help="Five lines a wet place, to forward.")
    ] = False,
    similar: Annotated[
        bool, typer.Option("--similar", help="Past places like it, from the case library.")
    ] = False,
    own_history: History = False,
    library: Kept = None,
    knowledge: Own = None,
) -> None:
    """The causes of each wet place, what speaks for and against each, and the next looks."""
    from advisor.cli import assess as command  # noqa: PLC0415

    forms = {"--json": json, "--reasons": reasons, "--brief": brief}
    chosen = [name for name, on in forms.items() if on]
    if len(chosen) > 1:
        raise typer.BadParameter(f"choose one of {' and '.join(chosen)}.")
    code = command.assess_files(
        files,
        form=chosen[0].removeprefix("--") if chosen else "screen",
        leak=leak,
        folder=knowledge,
        screen=screen_for(context),
        library=Asked(similar=similar, own_history=own_history, file=library),
    )
    raise typer.Exit(code)


@app.command(epilog="Example: advisor plan callout.yaml --leak L1 --firm our-van")
def plan(
    context: typer.Context,
    file: Annotated[
        str, typer.Argument(metavar="FILE", help="A callout file; - is standard input.")
    ],
    *,
    leak: Annotated[
        str | None, typer.Option(metavar="ID", help="Only the wet place of this name.")
    ] = None,
    method: Annotated[
        str | None, typer.Option(metavar="KEY", help="This method, though another is advised.")
    ] = None,
    firm: Annotated[
        str | None,
        typer.Option(metavar="DIR", help="packs, prices, van and crew of your own, as YAML."),
    ] = None,
    json: Json = False,
    own_history: History = False,
    library: Kept = None,
    knowledge: Own = None,
) -> None:
    """The repair sheet: stops, plan, quantities, cautions, proof, and what rules methods out."""
    from advisor.cli import plan as command  # noqa: PLC0415

    code = command.plan_repair(
        file,
        leak=leak,
        method=method,
        firm=firm,
        json=json,
        folder=knowledge,
        screen=screen_for(context),
        library=Asked(own_history=own_history, file=library),
    )
    raise typer.Exit(code)


@app.command(epilog="Example: advisor log callout.yaml --set looked=tight --set water-up=yes")
def log(
    context: typer.Context,
    file: Annotated[str, typer.Argument(metavar="FILE", help="The record: a callout file.")],
    *,
    leak: Annotated[
        str | None, typer.Option(metavar="ID", help="The wet place, where there are several.")
    ] = None,
    answers: Annotated[
        list[str] | None,
        typer.Option("--set", metavar="KEY=VALUE", help="An answer; without any it asks."),
    ] = None,
    knowledge: Own = None,
) -> None:
    """Write down what was done, what was confirmed, and how it looks later."""
    from advisor.cli import log as command  # noqa: PLC0415

    code = command.log_outcome(
        file, answers or [], leak=leak, folder=knowledge, screen=screen_for(context)
    )
    raise typer.Exit(code)


@app.command(epilog="Example: advisor due our-records --by 2031-06-30")
def due(
    context: typer.Context,
    paths: Annotated[
        list[str], typer.Argument(metavar="PATH...", help="Records, or folders of them.")
    ],
    *,
    by: Annotated[
        str | None, typer.Option(metavar="DATE", help="Only looks due by this day.")
    ] = None,
    json: Json = False,
    knowledge: Own = None,
) -> None:
    """Where each wet place stands, which looks are due, and what a closing still asks."""
    from advisor.cli import due as command  # noqa: PLC0415

    code = command.show_due(paths, by=by, json=json, folder=knowledge, screen=screen_for(context))
    raise typer.Exit(code)


@app.command(
    name="work-out",
    context_settings={"help_option_names": []},
    epilog="Example: advisor work-out dew-point air-temperature='20 °C' air-humidity='60 %'",
)
def work_out(
    context: typer.Context,
    subject: Annotated[
        str | None, typer.Argument(metavar="[SUBJECT]", help="What to work out; none: the list.")
    ] = None,
    given: Annotated[
        list[str] | None,
        typer.Argument(metavar="[ATTRIBUTE=VALUE]...", help="What is known, with units."),
    ] = None,
    *,
    json: Json = False,
    explain: Annotated[
        bool, typer.Option("--help", "-h", help="This help; after a subject, what it needs.")
    ] = False,
    knowledge: Own = None,
) -> None:
    """The sums of a leak by hand: dew point, crack flow, healing, uplift, level tests and more."""
    from advisor.cli import work_out as command  # noqa: PLC0415

    if subject is None:
        if explain:
            print(context.get_help())
            raise typer.Exit(DONE)
        code = command.list_subjects(json=json, folder=knowledge, screen=screen_for(context))
    else:
        code = command.work_out_subject(
            subject,
            given or [],
            json=json,
            explain=explain,
            folder=knowledge,
            screen=screen_for(context),
        )
    raise typer.Exit(code)


@app.command(epilog="Example: advisor schema > callout.schema.json")
def schema(
    result: Annotated[
        bool, typer.Option("--result", help="Of the result that `assess --json` prints.")
    ] = False,
    knowledge: Own = None,
) -> None:
    """The JSON Schema of a callout file, for editors."""
    from advisor.cli import schema as command  # noqa: PLC0415

    raise typer.Exit(command.print_schema(result=result, folder=knowledge))


@knowledge_app.command(epilog="Example: advisor knowledge check --knowledge our-own")
def check(
    context: typer.Context,
    separation: Annotated[
        bool, typer.Option("--separation", help="How far each pair of causes is told apart.")
    ] = False,
    knowledge: Own = None,
) -> None:
    """All faults and remarks of the knowledge."""
    from advisor.cli import knowledge as command  # noqa: PLC0415

    code = command.check(folder=knowledge, separation=separation, screen=screen_for(context))
    raise typer.Exit(code)


@knowledge_app.command(name="list", epilog="Example: advisor knowledge list --json")
def list_all(context: typer.Context, json: Json = False, knowledge: Own = None) -> None:
    """All keys and what they stand for."""
    from advisor.cli import knowledge as command  # noqa: PLC0415

    raise typer.Exit(command.list_all(folder=knowledge, json=json, screen=screen_for(context)))


@knowledge_app.command(epilog="Example: advisor knowledge show wall-foot-joint")
def show(
    context: typer.Context,
    key: Annotated[str, typer.Argument(metavar="KEY", help="Any key that `list` prints.")],
    knowledge: Own = None,
) -> None:
    """One entry: what it is, its reasons and its sources."""
    from advisor.cli import knowledge as command  # noqa: PLC0415

    raise typer.Exit(command.show(key, folder=knowledge, screen=screen_for(context)))


@cases_app.command(name="check", epilog="Example: advisor cases check our-cases --json")
def check_cases(
    context: typer.Context,
    paths: Annotated[
        list[str] | None,
        typer.Argument(metavar="[PATH]...", help="Files or folders; else the shipped cases."),
    ] = None,
    json: Json = False,
    knowledge: Own = None,
) -> None:
    """How well worked cases are answered: callouts whose cause was found out."""
    from advisor.cli import cases as command  # noqa: PLC0415

    code = command.check(paths or [], json=json, folder=knowledge, screen=screen_for(context))
    raise typer.Exit(code)
