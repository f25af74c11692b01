"""`limen fleet take-in`: doors from a list of another program."""

from pathlib import Path
from typing import Annotated

import typer

from limen.cli.guard import guarded
from limen.cli.options import InLanguage


@guarded
def take_in(
    source: Annotated[
        Path, typer.Argument(metavar="FILE", help="A list: CSV, or Excel (.xlsx).")
    ],
    mapping: Annotated[
        Path | None,
        typer.Option(
            "--map", metavar="MAP.toml", help="What columns become; written if lacking."
        ),
    ] = None,
    out: Annotated[
        Path | None, typer.Option(metavar="DIR", help="Folder for the site files.")
    ] = None,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Say what would be; write nothing.")
    ] = False,
    sheet: Annotated[
        str, typer.Option(metavar="NAME", help="Sheet of a workbook; else the first.")
    ] = "",
    encoding: Annotated[
        str, typer.Option(metavar="NAME", help="Encoding; else the likely one.")
    ] = "",
    separator: Annotated[
        str, typer.Option(metavar="SIGN", help="What parts cells: ; , | or tab.")
    ] = "",
    header: Annotated[
        int | None,
        typer.Option(metavar="LINE", min=1, help="Line that names the columns."),
    ] = None,
    every: Annotated[
        bool, typer.Option("--all", help="Every row that is refused, not the first 50.")
    ] = False,
    language: InLanguage = "en",
) -> int:
    """Take doors in from a list: each row is taken, or refused with its reasons."""
    from limen.cli import take_in_told as told
    from limen.desk import taking_in as desk
    from limen.words import read_in

    read_in(language)
    table = desk.look(
        desk.bytes_of(source), desk.How(encoding, separator, sheet, header)
    )
    if mapping is not None and not mapping.exists():
        desk.write_suggested(mapping, table)
        return told.map_written(table, mapping)
    asked = desk.suggested(table) if mapping is None else desk.map_of(mapping)
    seen = mapping is not None and not dry_run
    if seen and out is None:
        return told.no_folder()
    tried = desk.try_in_folder(table, asked, out, source.name)
    if mapping is None:
        told.suggestion(table, asked)
    if not seen or out is None:
        return told.tried(tried, every=every)
    return told.written(tried, desk.write(tried, out, source), every=every)
