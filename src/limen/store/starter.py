"""The text of a new site file: it explains itself and checks as it is."""

from importlib.resources import files


def starter_text() -> str:
    """A commented site file with one doorway, to be overwritten line by line."""
    text = files("limen").joinpath("store", "starter.toml")
    return text.read_text(encoding="utf-8")
