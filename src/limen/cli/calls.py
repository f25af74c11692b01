"""The command for a door that misbehaves."""

from pathlib import Path
from typing import Annotated

import typer

from limen.cli.guard import guarded
from limen.cli.options import Doorway, InLanguage


@guarded
def trace(
    site: Annotated[
        Path | None,
        typer.Argument(metavar="SITE.toml", help="The site, where there is one."),
    ] = None,
    doorway: Doorway = None,
    answers: Annotated[
        Path | None,
        typer.Option(metavar="FILE.toml", help="Weigh these answers; ask nobody."),
    ] = None,
    save: Annotated[
        Path | None,
        typer.Option(metavar="FILE.toml", help="Keep what was answered here."),
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="For programs.")] = False,
    language: InLanguage = "en",
) -> int:
    """Say why a door misbehaves, and what to ask next."""
    from limen.cli import tracing
    from limen.desk.tracing import trace_file
    from limen.words import read_in

    read_in(language)
    call = trace_file(answers, site, doorway)
    if json:
        return tracing.as_json(call)
    return tracing.as_text(call) if answers else tracing.asked(call, save)
