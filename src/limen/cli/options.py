"""Arguments and options that several commands take."""

from datetime import date
from pathlib import Path
from typing import Annotated, Literal

import typer

Units = Literal["metric", "feet"]
PaperName = Literal["a4", "letter"]

SiteFile = Annotated[Path, typer.Argument(metavar="SITE.toml", help="The site file.")]
Doorway = Annotated[
    str | None, typer.Option(metavar="ID", help="Only this doorway of the site.")
]
InUnits = Annotated[Units, typer.Option(help="Units to read in.")]
OutFolder = Annotated[Path, typer.Option(metavar="DIR", help="Folder for drawings.")]
Book = Annotated[
    str | None, typer.Option(metavar="NAME", help="Rulebook; see: limen rules.")
]
Edition = Annotated[
    str | None, typer.Option(metavar="YEAR", help="Edition; else that of the date.")
]


def day_of(text: str) -> date:
    """A day that was typed."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        said = f"{text} is not read as a day; write year-month-day: 2026-03-01"
        raise typer.BadParameter(said) from None


def _language(text: str) -> str:
    from limen.words import languages

    if text not in languages():
        said = f"there are no words in {text}; there are: {', '.join(languages())}"
        raise typer.BadParameter(said)
    return text


InLanguage = Annotated[
    str,
    typer.Option(
        metavar="TAG",
        parser=_language,
        envvar="LIMEN_LANGUAGE",
        help="Language to read in: en, de, fr.",
    ),
]
