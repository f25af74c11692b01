"""Arguments and options that several commands take."""

from datetime import date
from pathlib import Path
from typing import Annotated, Literal

import typer
from typer.core import TyperGroup

HELP = ("-h", "--help")
Units = Literal["metric", "feet"]
PaperName = Literal["a4", "letter"]

SiteFile = Annotated[Path, typer.Argument(metavar="SITE.toml", help="The site file.")]
Doorway = Annotated[
    str | None, typer.Option(metavar="ID", help="Only this doorway of the site.")
]
InUnits = Annotated[Units, typer.Option(help="Units to read in.")]
Paper = Annotated[
    PaperName | None,
    typer.Option(help="Its paper; that of the rulebook's country if none."),
]
AsJson = Annotated[bool, typer.Option("--json", help="For programs.")]
OutFolder = Annotated[Path, typer.Option(metavar="DIR", help="Folder for drawings.")]
Book = Annotated[
    str | None, typer.Option(metavar="NAME", help="Rulebook; see: limen rules.")
]
Edition = Annotated[
    str | None, typer.Option(metavar="YEAR", help="Edition; else that of the date.")
]
OwnFigures = Annotated[
    Path | None, typer.Option(metavar="FILE", help="Your firm's own figures.")
]


def day_of(text: str) -> date:
    """A day that was typed."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        said = f"{text} is not read as a day; write year-month-day: 2026-03-01"
        raise typer.BadParameter(said) from None


OnDay = Annotated[
    date | None,
    typer.Option(metavar="DATE", parser=day_of, help="Day; today if none."),
]


def tongue(text: str) -> str:
    """A language that was typed, if there are words in it."""
    from limen.words import languages

    if text not in languages():
        said = f"there are no words in {text}; there are: {', '.join(languages())}"
        raise typer.BadParameter(said)
    return text


InLanguage = Annotated[
    str,
    typer.Option(
        metavar="TAG",
        parser=tongue,
        envvar="LIMEN_LANGUAGE",
        help="Language to read in: en, de, fr.",
    ),
]


def commands(
    name: str,
    said: str,
    *,
    epilog: str | None = None,
    cls: type[TyperGroup] | None = None,
) -> typer.Typer:
    """A group of commands, plain in its help and in its errors as all are."""
    return typer.Typer(
        name=name,
        help=said,
        epilog=epilog,
        cls=cls,
        no_args_is_help=True,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        context_settings={"help_option_names": list(HELP)},
    )
