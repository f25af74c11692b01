"""The plan without its words, near the leaves: the ground on which a map is laid."""

from dataclasses import replace

from limen.draw.outline import outline_of
from limen.draw.parts import Part
from limen.draw.scene import Content, Frame, Scene
from limen.findings import Study

BESIDE = 0.22  # m shown beyond the posts
BEHIND = 0.05  # m shown beyond the open leaves
DEEP = 0.36  # m shown on either side
LEFT_OUT = frozenset(
    {
        Part.BODY_FAILS,
        Part.BODY_HOLDS,
        Part.BODY_NOT_SHOWN,
        Part.SIGN_FAILS,
        Part.SIGN_HOLDS,
        Part.SIGN_NOT_SHOWN,
        Part.TARGET,
        Part.WINDOW,
        Part.PRESENCE,
        Part.PINCH,
        Part.APPROACH,
        Part.FIELD,
        Part.WALK,
        Part.LATE,
        Part.PASSER,
    }
)
"""What a finding draws: on a map it would hide what is mapped."""


def bare(plan: Scene, study: Study, *, whole: bool = False) -> Scene:
    """A plan without words, dimensions and what a finding shows.

    Its piece of floor does not change with what is drawn, so that a map stays where it
    was while a unit is moved.

    Args:
        plan: the plan, as seen from outside.
        study: of the same doorway.
        whole: whether the room behind the open leaves is shown too.

    Raises:
        ValueError: it is no plan.
    """
    if plan.view != "plan":
        raise ValueError(f"nothing is mapped on a {plan.view}")
    outline = outline_of(study.doorway, None)
    left, right = -outline.half - BESIDE, outline.half + BESIDE
    if whole:
        left, right = (
            min(left, outline.reach[0] - BEHIND),
            max(right, outline.reach[1] + BEHIND),
        )
    frame = Frame(left, right, -DEEP, DEEP)
    shapes = tuple(one for one in plan.content.shapes if one.part not in LEFT_OUT)
    return replace(
        plan, content=Content(shapes), frame=frame, close=frame, enlarged=False, note=""
    )
