"""A scene as SVG 1.1: self-contained, no script, no style sheet, text as text.

Only presentation attributes are used, so that the drawing also works where a page
forbids inline styles.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import hypot
from typing import Literal
from xml.sax.saxutils import escape, quoteattr
from zlib import crc32

from limen.draw.boxes import Rect, Segment
from limen.draw.layout import lay_out, leading
from limen.draw.scene import Area, Dots, Line, Scene, Shape, Sign
from limen.draw.sheet import Fit, Panel, Sheet, Stroke, Text
from limen.draw.signs import sign_marks
from limen.draw.themes import STYLES, THEMES, Style

FONT = "Atkinson Hyperlegible, Atkinson Hyperlegible Next, Arial, sans-serif"
LEAST_LIGHT = 1.0  # px: smaller discs are not worth drawing
ARROW = (8.0, 2.6)

ThemeName = Literal["paper", "slate", "plain"]
Inks = Mapping[str, str]


def svg(scene: Scene, *, width_px: float = 1400, theme: ThemeName = "paper") -> str:
    """Write a scene as SVG.

    Args:
        scene: what is drawn.
        width_px: width of the sheet; below 600 px it is the narrow drawing, with
            fewer words in relatively larger type.
        theme: paper, slate (dark) or plain (one ink).

    Returns:
        The SVG document, without an XML declaration, so that it can stand in a page.
    """
    return write_sheet(lay_out(scene, float(width_px)), theme=theme)


def write_sheet(sheet: Sheet, *, theme: ThemeName = "paper") -> str:
    """Write a scene that has been laid out."""
    inks, scene = THEMES[theme], sheet.scene
    width, height = number(sheet.width), number(sheet.height)
    key = _key(scene, theme, width)
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" '
            f'class="limen-drawing" width="{width}" height="{height}" '
            f'viewBox="0 0 {width} {height}" role="img" '
            f'aria-labelledby="{key}-title {key}-desc" '
            f"xml:lang={quoteattr(scene.language)} font-family={quoteattr(FONT)}>",
            f'<title id="{key}-title">{escape(scene.title)}</title>',
            f'<desc id="{key}-desc">{escape(scene.description)}</desc>',
            *_body(sheet, inks, key),
            "</svg>",
            "",
        )
    )


def _key(scene: Scene, theme: str, width: str) -> str:
    """A name for this drawing, so that several may stand in one page."""
    said = "|".join((theme, width, scene.view, scene.title, scene.description))
    return f"d{crc32(said.encode()):08x}"


def number(value: float) -> str:
    """A coordinate with as many digits as can be seen."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _body(sheet: Sheet, inks: Inks, key: str) -> Iterator[str]:
    yield from _definitions(sheet, inks, key)
    yield _rect(Rect(0, 0, sheet.width, sheet.height), f'fill="{inks["paper"]}"')
    for index, panel in enumerate(sheet.panels):
        yield from _panel(sheet.scene, panel, index, inks, key)
    for stroke in sheet.strokes:
        yield from _stroke(stroke, inks)
    for text in sheet.texts:
        yield from _text(text, inks)


def _panel(
    scene: Scene, panel: Panel, index: int, inks: Inks, key: str
) -> Iterator[str]:
    drawn, fit = panel.drawn, panel.fit
    yield f'<g clip-path="url(#{key}-panel{index})">'
    if scene.inside is not None:
        top, bottom = (
            min(max(fit.y(v), drawn.top), drawn.bottom)
            for v in (scene.inside.top, scene.inside.bottom)
        )
        tinted = drawn._replace(top=top, bottom=bottom)
        yield _rect(tinted, f'fill="{inks["inside"]}"')
    for shape in scene.content.shapes:
        yield from _shape(shape, fit, inks, key)
    yield "</g>"
    if index:
        edge = Segment(drawn.left, drawn.top + 24, drawn.left, drawn.bottom - 24)
        yield _straight(edge, inks["wall"], 1.0)


def _definitions(sheet: Sheet, inks: Inks, key: str) -> Iterator[str]:
    step = 9 if sheet.panels[0].fit.narrow else 12
    yield "<defs>"
    for index, panel in enumerate(sheet.panels):
        clip = _rect(panel.drawn, "")
        yield f'<clipPath id="{key}-panel{index}">{clip}</clipPath>'
    yield (
        f'<pattern id="{key}-hatch" width="{step}" height="{step}" '
        f'patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
        f'<path d="M0 0V{step}" stroke="{inks["approach"]}" stroke-width="1.2"/>'
        "</pattern>"
    )
    yield (
        f'<pattern id="{key}-dots" width="{step}" height="{step}" '
        f'patternUnits="userSpaceOnUse">'
        f'<circle cx="2" cy="2" r="0.9" fill="{inks["presence"]}" '
        f'fill-opacity="0.55"/></pattern>'
    )
    yield "</defs>"


# Shapes -----------------------------------------------------------------------


def _shape(shape: Shape, fit: Fit, inks: Inks, key: str) -> Iterator[str]:
    style = STYLES[shape.part]
    match shape:
        case Area():
            path = _path([fit.at(point) for point in shape.corners], closed=True)
            if style.pattern:
                yield f'<path d="{path}" fill="url(#{key}-{style.pattern})"/>'
            yield f'<path d="{path}" {_ink(style, inks, fit)}/>'
        case Line():
            path = _path([fit.at(point) for point in shape.points])
            yield f'<path d="{path}" {_ink(style, inks, fit)}/>'
        case Dots():
            yield from _dots(shape, fit, inks)
        case Sign():
            x, y = fit.at(shape.at)
            yield from sign_marks(shape.part, x, y, inks, narrow=fit.narrow)


def _path(points: list[tuple[float, float]], *, closed: bool = False) -> str:
    steps = "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return f"M{steps}{'Z' if closed else ''}"


def _ink(style: Style, inks: Inks, fit: Fit) -> str:
    said: list[str] = []
    said.append(f'fill="{inks[style.fill] if style.fill else "none"}"')
    if style.fill and style.veil < 1.0:
        said.append(f'fill-opacity="{number(style.veil)}"')
    if style.stroke:
        wide = style.wide * (0.85 if fit.narrow else 1.0)
        said.append(f'stroke="{inks[style.stroke]}" stroke-width="{number(wide)}"')
    if style.dash:
        dash = " ".join(number(d * (0.75 if fit.narrow else 1)) for d in style.dash)
        said.append(f'stroke-dasharray="{dash}"')
    if style.stroke and not style.dash:
        said.append('stroke-linejoin="round"')
    return " ".join(said)


def _dots(dots: Dots, fit: Fit, inks: Inks) -> Iterator[str]:
    """Discs to scale; points as dots of one size, so that they survive printing."""
    radius = dots.radius * fit.scale
    if dots.radius == 0.0:
        radius = 2.2 if fit.narrow else 3.2
    if radius < LEAST_LIGHT:
        return
    ink = _ink(replace(STYLES[dots.part], dash=()), inks, fit)
    yield f"<g {ink}>"
    for middle in dots.middles:
        x, y = fit.at(middle)
        yield f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(radius)}"/>'
    yield "</g>"


def _rect(box: Rect, more: str) -> str:
    wide, high = box.right - box.left, box.bottom - box.top
    return (
        f'<rect x="{number(box.left)}" y="{number(box.top)}" '
        f'width="{number(wide)}" height="{number(high)}" {more}/>'
    ).replace(" />", "/>")


# Words and their lines --------------------------------------------------------


def _stroke(stroke: Stroke, inks: Inks) -> Iterator[str]:
    line = stroke.line
    match stroke.rule:
        case "dimension":
            yield _straight(line, inks["ink"], 1.1)
            if stroke.heads[0]:
                yield _arrow(line.bx, line.by, line.ax, line.ay, inks["ink"])
            if stroke.heads[1]:
                yield _arrow(line.ax, line.ay, line.bx, line.by, inks["ink"])
        case "extension":
            yield _straight(line, inks["quiet"], 0.7)
        case "leader":
            yield _straight(line, inks["quiet"], 0.8)
            yield (
                f'<circle cx="{number(line.ax)}" cy="{number(line.ay)}" r="1.8" '
                f'fill="{inks["quiet"]}"/>'
            )
        case "scale":
            yield _straight(line, inks["quiet"], 1.2)
            for x in (line.ax, (line.ax + line.bx) / 2, line.bx):
                tick = Segment(x, line.ay - 5, x, line.ay + 5)
                yield _straight(tick, inks["quiet"], 1.2)


def _straight(line: Segment, ink: str, wide: float) -> str:
    path = _path([(line.ax, line.ay), (line.bx, line.by)])
    return f'<path d="{path}" fill="none" stroke="{ink}" stroke-width="{wide}"/>'


def _arrow(ax: float, ay: float, bx: float, by: float, ink: str) -> str:
    """The head at b of an arrow that comes from a."""
    length = hypot(bx - ax, by - ay) or 1.0
    i, j = (bx - ax) / length, (by - ay) / length
    back, half = ARROW
    x, y = bx - back * i, by - back * j
    corners = [(bx, by), (x - half * j, y + half * i), (x + half * j, y - half * i)]
    return f'<path d="{_path(corners, closed=True)}" fill="{ink}"/>'


def _text(text: Text, inks: Inks) -> Iterator[str]:
    box, size = text.box, text.size
    x = {
        "start": box.left,
        "middle": (box.left + box.right) / 2,
        "end": box.right,
    }[text.anchor]
    if text.backed:
        yield _rect(_under(text), f'fill="{inks["paper"]}" fill-opacity="0.82"')
    ink = inks["quiet" if text.quiet else "ink"]
    spans = "".join(
        f'<tspan x="{number(x)}" y="{number(_baseline(box, size, index))}">'
        f"{escape(line)}</tspan>"
        for index, line in enumerate(text.lines)
    )
    bold = ' font-weight="bold"' if text.bold else ""
    yield (
        f'<text font-size="{number(size)}" text-anchor="{text.anchor}"{bold} '
        f'fill="{ink}">{spans}</text>'
    )


def _under(text: Text) -> Rect:
    """The paper under words: their box, less the room kept for wider faces."""
    box = text.box
    spare = 0.10 * (box.right - box.left)
    match text.anchor:
        case "start":
            return box._replace(left=box.left - 2, right=box.right - spare)
        case "middle":
            return box._replace(left=box.left + spare / 2, right=box.right - spare / 2)
        case "end":
            return box._replace(left=box.left + spare, right=box.right + 2)


def _baseline(box: Rect, size: float, index: int) -> float:
    return box.top + 0.95 * size + index * leading(size)
