"""The generic sensor sheets that ship with limen."""

from dataclasses import dataclass
from importlib.resources import files
from typing import TYPE_CHECKING

from limen.desk.refusal import Refusal

if TYPE_CHECKING:
    from limen.model.sheet import Sheet


@dataclass(frozen=True, slots=True)
class ShippedSheet:
    """A sheet that a site file can name.

    Attributes:
        name: the name to write in a file.
        text: its file, as it stands.
        sheet: what it says.
    """

    name: str
    text: str
    sheet: "Sheet"


def sheets(name: str | None = None) -> list[ShippedSheet]:
    """All sheets, or the one asked for.

    Raises:
        Refusal: there is no such sheet; those that are there are listed.
    """
    folder = files("limen").joinpath("sheets")
    found = sorted(
        one.name.removesuffix(".toml")
        for one in folder.iterdir()
        if one.name.endswith(".toml")
    )
    if name is not None and name not in found:
        raise Refusal([f'no sheet "{name}"; there are: {", ".join(found)}'])
    return [_sheet(one) for one in ([name] if name else found)]


def _sheet(name: str) -> ShippedSheet:
    from limen.store.sheetfile import parse_sheet

    text = files("limen").joinpath("sheets", f"{name}.toml").read_text("utf-8")
    return ShippedSheet(name, text, parse_sheet(text, name=name))
