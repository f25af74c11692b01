"""Doorway and findings as drawings: plan, front and section.

`scene` makes a drawing in metres, without ink; `svg` gives it a sheet, places its
words and writes it.  Other outputs may take the scene or the laid-out sheet.
"""

from limen.draw.layout import lay_out
from limen.draw.parts import Part
from limen.draw.scene import Scene, View
from limen.draw.sheet import Sheet
from limen.draw.svg import svg, write_sheet
from limen.draw.views import scene

__all__ = [
    "Part",
    "Scene",
    "Sheet",
    "View",
    "lay_out",
    "scene",
    "svg",
    "write_sheet",
]
