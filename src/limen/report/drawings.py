"""The drawings of a doorway, for paper: larger type, white ground."""

from collections.abc import Mapping

from limen.draw import Scene, lay_out, scene, write_sheet
from limen.draw.themes import PAPER
from limen.report.contents import Contents, Part
from limen.report.tongue import Plain

WIDTHS: Mapping[str, int] = {"plan": 800, "section": 640, "front": 330}
"""Pixels a drawing is laid out for: the fewer, the larger its words on paper."""

_WHITE = {PAPER["paper"]: "#FFFFFF", PAPER["inside"]: "#F4F2EC"}


def drawings(part: Part, contents: Contents) -> tuple[list[Plain], dict[str, bytes]]:
    """Plan, section and front of a doorway.

    Returns:
        What the page needs to know of each (file, title, words for those who do
        not see it), and the files by name.
    """
    said: list[Plain] = []
    files: dict[str, bytes] = {}
    for view in ("plan", "section", "front"):
        drawn = scene(
            part.study,
            view,
            finding=part.shown,
            language=contents.language,
            system=contents.system,
        )
        name = f"{part.study.doorway.id}-{view}.svg"
        sheet = lay_out(drawn, WIDTHS[view])
        files[name] = _on_white(write_sheet(sheet)).encode()
        said.append({**_said(drawn, name), "ratio": sheet.height / sheet.width})
    return said, files


def _said(drawn: Scene, name: str) -> Plain:
    words = f"{drawn.title}. {drawn.description} {drawn.note}"
    return {"file": name, "view": drawn.view, "title": drawn.title, "words": words}


def _on_white(text: str) -> str:
    """The drawing without the tint that stands for paper on a screen."""
    for tint, white in _WHITE.items():
        text = text.replace(tint, white)
    return text
