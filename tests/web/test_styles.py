"""The style sheets say in both lights what the drawings say."""

import re
from pathlib import Path

import pytest

from limen.draw.themes import PAPER, SLATE

STYLES = Path(__file__).parents[2] / "web" / "src" / "styles"
READABLE = 4.5  # WCAG 2.2, 1.4.3: letters against what lies under them
VISIBLE = 3.0  # WCAG 2.2, 1.4.11: edges and marks


def tokens() -> dict[str, tuple[str, str]]:
    text = (STYLES / "palette.css").read_text("utf-8")
    pairs = re.findall(r"--([\w-]+): light-dark\((#\w{6}), (#\w{6})\)", text)
    return {name: (light.upper(), dark.upper()) for name, light, dark in pairs}


def contrast(one: str, other: str) -> float:
    """Contrast ratio as in WCAG 2.2, definition of relative luminance."""

    def luminance(colour: str) -> float:
        parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        r, g, b = (
            p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts
        )
        return 0.2126 * r + 0.7152 * g + 0.0722 * b

    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("ink", PAPER)
def test_pages_and_drawings_share_each_ink_in_both_lights(ink: str) -> None:
    assert tokens()[ink.replace(" ", "-")] == (PAPER[ink], SLATE[ink])


@pytest.mark.parametrize("ink", PAPER)
@pytest.mark.parametrize("part", ["fill", "stroke"])
def test_a_drawing_changes_its_light_with_the_page(ink: str, part: str) -> None:
    rule = f'[{part}="{PAPER[ink]}"] {{ {part}: var(--{ink.replace(" ", "-")}); }}'
    assert rule in (STYLES / "drawing.css").read_text("utf-8")


@pytest.mark.parametrize("light", [0, 1], ids=["paper", "slate"])
def test_letters_can_be_read_on_all_that_lies_under_them(light: int) -> None:
    said = tokens()
    for under in ("paper", "inside", "sheet"):
        for letters in ("ink", "quiet"):
            ratio = contrast(said[letters][light], said[under][light])
            assert ratio >= READABLE, (letters, under)


@pytest.mark.parametrize("light", [0, 1], ids=["paper", "slate"])
def test_edges_rings_and_marks_can_be_made_out(light: int) -> None:
    said = tokens()
    lies_on = {"paper": ("fails", "holds"), "sheet": (), "inside": ()}
    for under, marks in lies_on.items():
        for edge in ("rim", "ring", "line", *marks):
            ratio = contrast(said[edge][light], said[under][light])
            assert ratio >= VISIBLE, (edge, under)


def test_every_style_sheet_is_taken_in() -> None:
    index = (STYLES / "index.css").read_text("utf-8")
    others = {path.name for path in STYLES.glob("*.css")} - {"index.css"}
    assert set(re.findall(r'@import "\./([\w-]+\.css)"', index)) == others
