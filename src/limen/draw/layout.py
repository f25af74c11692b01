"""Lay a scene out on a sheet: dimensions, labels, corner words, scale bar."""

from dataclasses import dataclass, replace
from itertools import pairwise, product
from math import inf

from limen.draw.boxes import Rect, Segment
from limen.draw.dimensions import BOLD, Measured, measured, shown, words_of
from limen.draw.lettering import LINE, extent_of, wrapped
from limen.draw.parts import Part
from limen.draw.placing import Anchor, Place, Room, place_at, place_near
from limen.draw.scene import Area, Dots, Label, Line, Scene, Shape, Sign
from limen.draw.sheet import MARGIN, Fit, Panel, Sheet, Stroke, Text, fits_of
from limen.draw.themes import KEEP_OFF, STYLES

INSET = 14.0
OVER_THINGS = 2.0  # how much dearer it is to put a corner's word on something
CORNER_COLUMNS, CORNER_ROWS = 12, 24  # places tried from a corner on
DEAREST = {2: 95.0, 3: 60.0}  # px that a place may cost words that can be left out
BACKED_FROM = 6.0  # cost of a place from which on paper is laid under words
EDGE = 12.0
LEVEL = 4.0  # radii that a row of discs may be high to count as level
MANY = 12  # points from which on a straight line is taken as one
SHOULD = 2  # importance that still follows the sheet's edge
SIGN = 5.0  # px from a sign's middle to its edge


def lay_out(scene: Scene, width: float) -> Sheet:
    """Find the scale and a place for everything.

    Args:
        scene: what is drawn.
        width: of the sheet, px; below 600 px it is the narrow drawing.
    """
    fits = _lowered(scene, fits_of(scene, width))
    spans = [_spans(scene, fits, fit) for fit in fits]
    bottom = max(_bottom(fit, own) for fit, own in zip(fits, spans, strict=True))
    panels = tuple(
        Panel(fit, Rect(fit.left, 0.0, fit.left + fit.width, bottom)) for fit in fits
    )
    words = [
        _worded(scene, panel, own, _own_labels(scene, fits, panel.fit))
        for panel, own in zip(panels, spans, strict=True)
    ]
    below = [text for each in words for text in each.homeless]
    foot, bars, height = _foot(scene, panels, below)
    return Sheet(
        scene,
        width,
        height,
        fits[0].size,
        panels,
        tuple(text for each in words for text in each.texts) + tuple(foot),
        tuple(stroke for each in words for stroke in each.strokes) + tuple(bars),
        tuple(lost for each in words for lost in each.lost),
    )


@dataclass(frozen=True, slots=True)
class _Words:
    texts: tuple[Text, ...]
    strokes: tuple[Stroke, ...]
    lost: tuple[str, ...]
    homeless: tuple[str, ...]


def _worded(
    scene: Scene, panel: Panel, spans: list[Measured], labels: list[Label]
) -> _Words:
    """The words of one panel, the most important first."""
    room = _room(scene, panel, spans)
    corners, room = _corners(scene, panel.fit, room)
    figures, leaders, room, lost = _figures(spans, panel.fit, room)
    texts, lines, missing, homeless = _labels(labels, panel.fit, room)
    strokes = [stroke for span in spans for stroke in span.strokes]
    return _Words(
        tuple(corners + figures + texts),
        tuple(strokes + leaders + lines),
        tuple(missing),
        tuple(lost + homeless),
    )


def _spans(scene: Scene, fits: tuple[Fit, ...], fit: Fit) -> list[Measured]:
    """The dimensions of one panel: each stands in the last panel that shows it."""
    return [
        measured(span, fit)
        for span in scene.content.spans
        if fit is _last(tuple(one for one in fits if shown(span, one)))
    ]


def _own_labels(scene: Scene, fits: tuple[Fit, ...], fit: Fit) -> list[Label]:
    """The labels of one panel, likewise; those beyond every edge are the first's."""
    return [
        label
        for label in scene.content.labels
        if fit is (_last(tuple(f for f in fits if f.frame.holds(label.at))) or fits[0])
    ]


def _last(fits: tuple[Fit, ...]) -> Fit | None:
    return fits[-1] if fits else None


def _lowered(scene: Scene, fits: tuple[Fit, ...]) -> tuple[Fit, ...]:
    """The panels moved down, all alike, to leave room for dimensions above."""
    high = [
        min(line.ay, line.by) - 1.6 * fit.size
        for fit in fits
        for span in _spans(scene, fits, fit)
        for line in span.lines
    ]
    lack = max(0.0, MARGIN / 2 - min(high, default=MARGIN))
    return tuple(replace(fit, top=fit.top + lack) for fit in fits)


def _bottom(fit: Fit, spans: list[Measured]) -> float:
    """Where the frame ends, or the dimensions below it."""
    low = [max(line.ay, line.by) for span in spans for line in span.lines]
    ends = [fit.y(fit.frame.bottom), *(y + 1.6 * fit.size for y in low)]
    return max(ends) + MARGIN / 2


# What is in the way -----------------------------------------------------------


def _room(scene: Scene, panel: Panel, spans: list[Measured]) -> Room:
    lines = tuple(line for span in spans for line in span.lines)
    room = Room(panel.drawn.grown(-6.0), lines=lines)
    for shape in scene.content.shapes:
        room = _in_the_way(room, shape, panel.fit)
    return room


def _in_the_way(room: Room, shape: Shape, fit: Fit) -> Room:
    weight = STYLES[shape.part].weight
    if weight == 0.0:
        return room
    match shape:
        case Area():
            return _area_in_the_way(room, shape, fit, weight)
        case Line():
            paths = _segments(shape.points, fit, weight)
            return replace(room, paths=room.paths + paths)
        case Dots() if shape.radius > 0.0:
            return _band_in_the_way(room, shape, fit, weight)
        case Dots():
            paths = _segments(tuple(sorted(shape.middles)), fit, weight)
            return replace(room, paths=room.paths + paths)
        case Sign():
            x, y = fit.at(shape.at)
            costs = (*room.costs, (Rect(x, y, x, y).grown(SIGN), weight))
            return replace(room, costs=costs)


def _band_in_the_way(room: Room, dots: Dots, fit: Fit, weight: float) -> Room:
    """A row of discs as the band they fill, if it is level; else each disc."""
    reach = dots.radius * fit.scale
    points = [fit.at(middle) for middle in dots.middles]
    rects = [Rect(x - reach, y - reach, x + reach, y + reach) for x, y in points]
    band = Rect(
        min(rect.left for rect in rects),
        min(rect.top for rect in rects),
        max(rect.right for rect in rects),
        max(rect.bottom for rect in rects),
    )
    if band.bottom - band.top < LEVEL * reach:
        rects = [band]
    costs = tuple((rect, weight) for rect in rects)
    return replace(room, costs=room.costs + costs)


def _area_in_the_way(room: Room, area: Area, fit: Fit, weight: float) -> Room:
    points = [fit.at(corner) for corner in area.corners]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    box = Rect(min(xs), min(ys), max(xs), max(ys))
    if weight == KEEP_OFF:
        return replace(room, boxes=(*room.boxes, box.grown(3.0)))
    open_ones = (
        Part.APPROACH,
        Part.FIELD,
        Part.WALK,
        Part.PRESENCE,
        Part.HEADER,
        Part.OPENING,
    )
    if area.part in open_ones:
        closed = (*area.corners, area.corners[0])
        return replace(room, paths=room.paths + _segments(closed, fit, weight))
    if area.part is Part.WALL:
        closed = (*area.corners, area.corners[0])
        room = replace(room, paths=room.paths + _segments(closed, fit, EDGE))
    return replace(room, costs=(*room.costs, (box, weight)))


def _segments(
    points: tuple[tuple[float, float], ...], fit: Fit, weight: float
) -> tuple[tuple[Segment, float], ...]:
    on_sheet = [fit.at(point) for point in points]
    if len(on_sheet) > MANY and _straight(on_sheet):
        on_sheet = [on_sheet[0], on_sheet[-1]]
    return tuple((Segment(*a, *b), weight) for a, b in pairwise(on_sheet))


def _straight(points: list[tuple[float, float]]) -> bool:
    (ax, ay), (bx, by) = points[0], points[-1]
    long = max(abs(bx - ax), abs(by - ay), 1.0)
    return all(
        abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) < 3.0 * long for x, y in points
    )


# Words ------------------------------------------------------------------------


def _corners(scene: Scene, fit: Fit, room: Room) -> tuple[list[Text], Room]:
    """Outside and inside, each in its corner or as near to it as there is room."""
    texts: list[Text] = []
    size = fit.size * 1.05
    for words, right, low in zip(
        scene.corners, (False, True, False), (False, False, True), strict=True
    ):
        if not words:
            continue
        wide, high = extent_of(words, size)
        x = fit.left + (fit.width - INSET - wide if right else INSET)
        top = room.sheet.bottom - high - 6 if low else room.sheet.top + 8
        way = (-1.0 if right else 1.0, -1.0 if low else 1.0)
        box = _from_corner(Rect(x, top, x + wide, top + high), way, room)
        if box is not None:
            place = Place(box, "end" if right else "start")
            room = room.taken(place)
            texts.append(Text((words,), box, place.anchor, size, quiet=True))
    return texts, room


def _from_corner(corner: Rect, way: tuple[float, float], room: Room) -> Rect | None:
    """The cheapest free box near a corner: what it costs is the way there (px)."""
    step = (corner.bottom - corner.top) / 2
    best, least = None, inf
    for across, along in product(range(CORNER_COLUMNS), range(CORNER_ROWS)):
        i, j = way[0] * across * step, way[1] * along * step
        box = Rect(corner.left + i, corner.top + j, corner.right + i, corner.bottom + j)
        cost = (across + along) * step
        if cost < least and room.free(box):
            best, least = min(
                (best, least),
                (box, cost + OVER_THINGS * room.cost(box)),
                key=lambda found: found[1],
            )
    return best


def _figures(
    spans: list[Measured], fit: Fit, room: Room
) -> tuple[list[Text], list[Stroke], Room, list[str]]:
    """The figures of the dimensions, the most important first."""
    texts: list[Text] = []
    leaders: list[Stroke] = []
    lost: list[str] = []
    for each in sorted(spans, key=lambda each: each.span.importance):
        text = words_of(each.span, fit)
        place = place_at(each.places, room) or _beside(each, text, fit, room)
        if place is None:
            lost.append(text)
            continue
        bold = each.span.importance == 1
        texts.append(_text(text, place, fit.size, room, bold=bold))
        room = room.taken(place)
        if place.leader is not None:
            leaders.append(Stroke("leader", place.leader))
    return texts, leaders, room, lost


def _beside(each: Measured, text: str, fit: Fit, room: Room) -> Place | None:
    """A place for a figure that fits nowhere at its line."""
    line = each.lines[0]
    middle = (line.ax + line.bx) / 2, (line.ay + line.by) / 2
    wide, high = extent_of(text, fit.size)
    return place_near(middle, (BOLD * wide, high), "right", room)


def _labels(
    labels: list[Label], fit: Fit, room: Room
) -> tuple[list[Text], list[Stroke], list[str], list[str]]:
    """The labels, the most important first, and the lines that lead to them.

    What found no room is told too: words that may be left out, and such as must
    be read and go below the drawing.
    """
    texts: list[Text] = []
    lines: list[Stroke] = []
    lost: list[str] = []
    homeless: list[str] = []
    for label in sorted(labels, key=lambda label: label.importance):
        words = label.narrow if fit.narrow else label.text
        if not words:
            continue
        place = _near(label, _broken(words, fit), fit, room)
        if place is None:
            (homeless if label.importance == 1 else lost).append(words)
            continue
        broken = _broken(words, fit)
        texts.append(_text(broken, place, fit.size, room, quiet=label.quiet))
        room = room.taken(place)
        if place.leader is not None:
            lines.append(Stroke("leader", place.leader))
    return texts, lines, lost, homeless


def _near(label: Label, words: str, fit: Fit, room: Room) -> Place | None:
    at = _anchor(label, fit)
    if at is None:
        return None
    most = DEAREST.get(label.importance, inf)
    return place_near(at, extent_of(words, fit.size), label.prefer, room, most)


def _broken(words: str, fit: Fit) -> str:
    most = fit.width * (0.5 if fit.narrow else 0.3)
    return "\n".join(wrapped(line, fit.size, most) for line in words.split("\n"))


def _anchor(label: Label, fit: Fit) -> tuple[float, float] | None:
    """The label's point; pulled in along the sheet's edge if it must be read."""
    u, v = label.at
    if fit.frame.holds(label.at):
        return fit.at(label.at)
    if label.importance > SHOULD or not fit.frame.bottom <= v <= fit.frame.top:
        return None
    inner = min(max(u, fit.frame.left), fit.frame.right)
    return fit.at((inner, v))


def _text(
    words: str,
    place: Place,
    size: float,
    room: Room,
    *,
    quiet: bool = False,
    bold: bool = False,
) -> Text:
    backed = room.cost(place.box) >= BACKED_FROM
    lines = tuple(words.split("\n"))
    return Text(lines, place.box, place.anchor, size, quiet, bold, backed)


# The foot ---------------------------------------------------------------------


def _foot(
    scene: Scene, panels: tuple[Panel, ...], below: list[str]
) -> tuple[list[Text], list[Stroke], float]:
    """A scale bar for each panel, words without room, how the drawing is read."""
    fit = panels[0].fit
    size = fit.size * (0.95 if fit.narrow else 0.9)
    top = panels[0].drawn.bottom + 12.0
    length, words = scene.scale
    wide, high = extent_of(words, size)
    texts: list[Text] = []
    bars: list[Stroke] = []
    for panel in panels:
        start = panel.fit.left + INSET
        end = start + length * panel.fit.scale
        level = top + high / 2
        bars.append(Stroke("scale", Segment(start, level, end, level)))
        texts.append(
            _plain(words, Rect(end + 8, top, end + 8 + wide, top + high), size)
        )
    notes = [" ".join(text.split()) for text in below] + [scene.note]
    texts.append(_notes(notes, texts[-1].box, panels, size))
    return texts, bars, texts[-1].box.bottom + 12.0


def _notes(
    notes: list[str], beside: Rect, panels: tuple[Panel, ...], size: float
) -> Text:
    """The notes at the foot: beside the scale bar if they fit there, else below."""
    width = panels[-1].drawn.right
    text = "\n".join(wrapped(note, size, width - 2 * INSET) for note in notes)
    wide, high = extent_of(text, size)
    left = width - INSET - wide
    if left < beside.right + 20:
        top = beside.bottom + 4
        return _plain(text, Rect(INSET, top, INSET + wide, top + high), size)
    box = Rect(left, beside.top, left + wide, beside.top + high)
    return _plain(text, box, size, "end")


def _plain(words: str, box: Rect, size: float, anchor: Anchor = "start") -> Text:
    return Text(tuple(words.split("\n")), box, anchor, size, quiet=True)


def leading(size: float) -> float:
    """From one baseline to the next (px)."""
    return LINE * size
