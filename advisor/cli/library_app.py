"""The commands under `advisor library` and their options."""

from typing import Annotated

import typer

from advisor.cli.app_parts import HELP, Json, Kept, Own, help_alone, screen_for

library_app = typer.Typer(
    rich_markup_mode=None,
    context_settings=HELP,
    help="Keep cases, find them again, and count what really held.",
    epilog="Example: advisor library add our-records/K-117.yaml",
)

Key = Annotated[str | None, typer.Option("--key", metavar="FILE", help="The key that hides names.")]
Case = Annotated[str, typer.Argument(metavar="CASE", help="The first digits of its name.")]
Cause = Annotated[str | None, typer.Option(metavar="KEY", help="Confirmed as this.")]


@library_app.callback(invoke_without_command=True)
def _library(context: typer.Context) -> None:
    help_alone(context)


@library_app.command(epilog="Example: advisor library add our-records/K-117.yaml")
def add(
    context: typer.Context,
    files: Annotated[
        list[str], typer.Argument(metavar="FILE...", help="Records, or folders of them.")
    ],
    *,
    keep_notes: Annotated[
        bool, typer.Option("--keep-notes", help="Keep free text, scrubbed, after your yes.")
    ] = False,
    keep_photos: Annotated[
        bool, typer.Option("--keep-photos", help="Keep photos, as pixels, after your yes.")
    ] = False,
    key: Key = None,
    library: Kept = None,
    knowledge: Own = None,
) -> None:
    """Keep the technical part of records, without people, places and days."""
    from advisor.cli import library_add as command  # noqa: PLC0415

    code = command.add(
        files,
        library=library,
        key=key,
        keep_notes=keep_notes,
        keep_photos=keep_photos,
        folder=knowledge,
        screen=screen_for(context),
    )
    raise typer.Exit(code)


@library_app.command(epilog="Example: advisor library find --kind basement --status reopened")
def find(
    context: typer.Context,
    *,
    kind: Annotated[str | None, typer.Option(metavar="KEY", help="Kind of structure.")] = None,
    cause: Cause = None,
    method: Annotated[str | None, typer.Option(metavar="KEY", help="Repaired so.")] = None,
    status: Annotated[str | None, typer.Option(metavar="WORD", help="Such as reopened.")] = None,
    since: Annotated[str | None, typer.Option(metavar="QUARTER", help="Such as 2029-Q1.")] = None,
    until: Annotated[str | None, typer.Option(metavar="QUARTER")] = None,
    words: Annotated[str | None, typer.Option(help="Words anywhere in the case.")] = None,
    limit: Annotated[int, typer.Option(min=1, max=1000, help="At most so many.")] = 20,
    json: Json = False,
    library: Kept = None,
    knowledge: Own = None,
) -> None:
    """List cases, last added first."""
    from advisor.cli import library as command  # noqa: PLC0415

    asked = {"kind": kind, "cause": cause, "method": method, "status": status, "words": words}
    asked |= {"quarter_from": since, "quarter_to": until}
    code = command.find(
        {name: value for name, value in asked.items() if value is not None},
        limit=limit,
        json=json,
        library=library,
        folder=knowledge,
        screen=screen_for(context),
    )
    raise typer.Exit(code)


@library_app.command(epilog="Example: advisor library show 3fa94c12")
def show(
    context: typer.Context,
    case: Case,
    *,
    history: Annotated[bool, typer.Option("--history", help="All forms it has had.")] = False,
    photos: Annotated[
        str | None, typer.Option(metavar="DIR", help="Write its photos there.")
    ] = None,
    json: Json = False,
    library: Kept = None,
    knowledge: Own = None,
) -> None:
    """One case as it is kept."""
    from advisor.cli import library as command  # noqa: PLC0415

    code = command.show(
        case,
        history=history,
        photos=photos,
        json=json,
        library=library,
        folder=knowledge,
        screen=screen_for(context),
    )
    raise typer.Exit(code)


@library_app.command(epilog="Example: advisor library forget 3fa94c12")
def forget(
    context: typer.Context, case: Case, *, library: Kept = None, knowledge: Own = None
) -> None:
    """Erase a case and every trace of it. A hold forbids it."""
    from datetime import date  # noqa: PLC0415

    from advisor.cli import library as command  # noqa: PLC0415

    code = command.forget(
        case,
        day=date.today(),
        library=library,
        folder=knowledge,
        screen=screen_for(context),
    )
    raise typer.Exit(code)


@library_app.command(
    epilog="Example: advisor library hold 3fa94c12 --who 'legal' --why dispute --review 2032-01-31"
)
def hold(
    context: typer.Context,
    case: Annotated[
        str | None, typer.Argument(metavar="[CASE]", help="None: the list of all holds.")
    ] = None,
    *,
    who: Annotated[str | None, typer.Option(help="Who holds it, as a role.")] = None,
    why: Annotated[str | None, typer.Option(help="For which reason.")] = None,
    review: Annotated[str | None, typer.Option(metavar="DATE", help="Look at it again.")] = None,
    lift: Annotated[bool, typer.Option("--lift", help="End the hold.")] = False,
    library: Kept = None,
    knowledge: Own = None,
) -> None:
    """Keep a case from being erased, or list what is held."""
    from advisor.cli import library as command  # noqa: PLC0415

    code = command.hold(
        case,
        who=who,
        why=why,
        review=review,
        lift=lift,
        library=library,
        folder=knowledge,
        screen=screen_for(context),
    )
    raise typer.Exit(code)


@library_app.command(epilog="Example: advisor library export cases.jsonl")
def export(
    file: Annotated[
        str, typer.Argument(metavar="FILE", help="Ending .jsonl or .csv; - is the screen.")
    ],
    *,
    csv: Annotated[bool, typer.Option("--csv", help="One row a wet place.")] = False,
    library: Kept = None,
    knowledge: Own = None,
) -> None:
    """All cases to a file, without labels."""
    from advisor.cli import library_moves as command  # noqa: PLC0415

    raise typer.Exit(command.export(file, csv=csv, library=library, folder=knowledge))


@library_app.command(
    name="import", epilog="Example: advisor library import old.csv --mapping our-words.yaml"
)
def load(
    context: typer.Context,
    file: Annotated[str, typer.Argument(metavar="FILE", help="Cases as .jsonl or .csv.")],
    *,
    mapping: Annotated[
        str | None, typer.Option(metavar="FILE", help="Your columns and words, as YAML.")
    ] = None,
    draft: Annotated[
        bool, typer.Option("--draft", help="Print a mapping to fill in; nothing is taken.")
    ] = False,
    remembered: Annotated[
        bool, typer.Option("--remembered", help="From memory, not from records.")
    ] = False,
    all_or_nothing: Annotated[
        bool, typer.Option("--all-or-nothing", help="None, unless all fit.")
    ] = False,
    key: Key = None,
    library: Kept = None,
    knowledge: Own = None,
) -> None:
    """Take in cases. Rows that do not fit are told by number and reason."""
    from advisor.cli import library_moves as command  # noqa: PLC0415

    code = command.load(
        file,
        mapping=mapping,
        draft=draft,
        origin="remembered" if remembered else "from-records",
        key=key,
        all_or_nothing=all_or_nothing,
        library=library,
        folder=knowledge,
        screen=screen_for(context),
    )
    raise typer.Exit(code)


@library_app.command(epilog="Example: advisor library backfill --set kind=basement --set cause=…")
def backfill(
    context: typer.Context,
    *,
    answers: Annotated[
        list[str] | None,
        typer.Option("--set", metavar="KEY=VALUE", help="An answer; without any it asks."),
    ] = None,
    remembered: Annotated[
        bool, typer.Option("--remembered", help="From memory, not from records.")
    ] = False,
    library: Kept = None,
    knowledge: Own = None,
) -> None:
    """Write up an old case in twelve answers. It weighs less than one logged as it went."""
    from advisor.cli import backfill as command  # noqa: PLC0415

    code = command.backfill(
        answers or [],
        remembered=remembered,
        library=library,
        folder=knowledge,
        screen=screen_for(context),
    )
    raise typer.Exit(code)


@library_app.command(epilog="Example: advisor library similar K-117.yaml --leak L1")
def similar(
    context: typer.Context,
    file: Annotated[str, typer.Argument(metavar="FILE", help="A callout file.")],
    *,
    leak: Annotated[
        str | None, typer.Option(metavar="ID", help="Only the wet place of this name.")
    ] = None,
    json: Json = False,
    key: Key = None,
    library: Kept = None,
    knowledge: Own = None,
) -> None:
    """The five past places most like one of now, and whether their repairs held."""
    from advisor.cli import similar as command  # noqa: PLC0415

    code = command.similar(
        file,
        leak=leak,
        json=json,
        key=key,
        library=library,
        folder=knowledge,
        screen=screen_for(context),
    )
    raise typer.Exit(code)


@library_app.command(epilog="Example: advisor library facts --plots pictures")
def facts(
    context: typer.Context,
    *,
    json: Json = False,
    plots: Annotated[
        str | None, typer.Option(metavar="DIR", help="Write the pictures there, as SVG.")
    ] = None,
    png: Annotated[bool, typer.Option("--png", help="Pictures as PNG.")] = False,
    supplied: Annotated[
        str | None, typer.Option(metavar="FILE", help="What was supplied, as CSV.")
    ] = None,
    library: Kept = None,
    knowledge: Own = None,
) -> None:
    """What really held, for how long, and how often the first answer was right."""
    from advisor.cli import library_facts as command  # noqa: PLC0415

    code = command.facts(
        json=json,
        plots=plots,
        ending=".png" if png else ".svg",
        supplied=supplied,
        library=library,
        folder=knowledge,
        screen=screen_for(context),
    )
    raise typer.Exit(code)


@library_app.command(epilog="Example: advisor library demo")
def demo(context: typer.Context, *, library: Kept = None, knowledge: Own = None) -> None:
    """Load 320 invented cases beside your own library, never into it."""
    from advisor.cli import library as command  # noqa: PLC0415

    code = command.demo(library=library, folder=knowledge, screen=screen_for(context))
    raise typer.Exit(code)
