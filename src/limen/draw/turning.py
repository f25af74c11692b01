"""The plan turned by half a turn, for someone who stands inside."""

from collections.abc import Mapping
from dataclasses import replace

from limen.draw.scene import (
    Area,
    Content,
    Dots,
    Frame,
    Label,
    Line,
    Point,
    Scene,
    Shape,
    Side,
    Sign,
    Span,
)
from limen.words import catalogue

_ACROSS: Mapping[Side, Side] = {
    "left": "right",
    "right": "left",
    "above": "below",
    "below": "above",
}


def seen_from_inside(plan: Scene) -> Scene:
    """Turn a plan so that the inside is at its lower edge.

    It is turned, never mirrored: the left post stays what it is called from outside,
    and the sheet says so.  Words stay upright.

    Args:
        plan: the plan as seen from outside.

    Raises:
        ValueError: it is no plan; the other drawings have no such other side.
    """
    if plan.view != "plan":
        raise ValueError(f"a {plan.view} cannot be turned about the vertical")
    said = catalogue(plan.language).sentence("drawing.note.plan_turned")
    upper_left, upper_right, lower_left = plan.corners
    return replace(
        plan,
        content=_content(plan.content),
        frame=_frame(plan.frame),
        close=_frame(plan.close),
        inside=_frame(plan.inside) if plan.inside else None,
        corners=(lower_left, upper_right, upper_left),
        note=f"{said} {plan.note}",
    )


def _content(content: Content) -> Content:
    return Content(
        tuple(map(_shape, content.shapes)),
        tuple(map(_span, content.spans)),
        tuple(map(_label, content.labels)),
    )


def _shape(shape: Shape) -> Shape:
    match shape:
        case Area():
            return replace(shape, corners=tuple(map(_point, shape.corners)))
        case Line():
            return replace(shape, points=tuple(map(_point, shape.points)))
        case Dots():
            return replace(shape, middles=tuple(map(_point, shape.middles)))
        case Sign():
            return replace(shape, at=_point(shape.at))


def _span(span: Span) -> Span:
    return replace(
        span,
        start=_point(span.start),
        end=_point(span.end),
        base=-span.base,
        side=_ACROSS[span.side],
    )


def _label(label: Label) -> Label:
    return replace(label, at=_point(label.at), prefer=_ACROSS[label.prefer])


def _frame(frame: Frame) -> Frame:
    return Frame(-frame.right, -frame.left, -frame.top, -frame.bottom)


def _point(point: Point) -> Point:
    u, v = point
    return -u, -v
