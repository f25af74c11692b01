"""What journeys through the desk are made of: a server, a person, a page."""

from browsing.pages import (
    GONE,
    LOOKS,
    THEMES,
    WIDTHS,
    Opened,
    OpenPage,
    Theme,
    Units,
    axe,
    chromium,
    person,
    rested,
    saved,
    told,
)
from browsing.server import DAY, Desk, Refused, demo_text, running

__all__ = [
    "DAY",
    "GONE",
    "LOOKS",
    "THEMES",
    "WIDTHS",
    "Desk",
    "OpenPage",
    "Opened",
    "Refused",
    "Theme",
    "Units",
    "axe",
    "chromium",
    "demo_text",
    "person",
    "rested",
    "running",
    "saved",
    "told",
]
