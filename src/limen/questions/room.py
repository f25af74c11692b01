"""Room beside and behind the leaves: trailing edges, finger gaps."""

from collections.abc import Mapping
from dataclasses import replace

from limen.findings import (
    Change,
    Finding,
    Measure,
    Message,
    Polygon,
    Remedy,
    Role,
    Verdict,
)
from limen.findings.message import length
from limen.geometry.boxes import Box
from limen.model.doorway import Hand, SideSpace
from limen.physics.plan import Plan
from limen.physics.reach import Ground, on_path, rest_faces
from limen.quantity import (
    Comparison,
    Dimension,
    Outcome,
    Quantity,
    at_least,
    at_most,
)
from limen.questions.asking import (
    WORST_FIRST,
    Asked,
    compared,
    graded,
    lack,
    margin_of,
    too_weak,
)
from limen.questions.coverage import Case, hold_everywhere
from limen.questions.presence import BODY, pausing
from limen.questions.wiring_ends import lacks_wires, stops_opening

FINGER = ("finger_small", "finger_large")
ROOM = ("shallow_depth", "clearance_shallow", "clearance_deep")


def side_screen(asked: Asked) -> tuple[Finding, ...]:
    """Is there room behind each opening leaf for whoever stands there?

    Where the leaf passes close to what stands beside it (depth up to
    ``shallow_depth``) its trailing edge must stop ``clearance_shallow`` short
    of the fixed part; where a body can enter, ``clearance_deep``.  A guard
    settles it, and so does a presence unit whose beams reach the test body
    wherever the trailing edge could meet it (proved like the leaf path).

    Args:
        asked: limits ``shallow_depth``, ``clearance_shallow``,
            ``clearance_deep``, and the body (m).

    Returns:
        One finding for each side to which a leaf opens.  Margin in m.

    Source:
        The rulebook's figures; a comparison.
    """
    return tuple(_screen(asked, side) for side in opening_sides(asked))


def opening_sides(asked: Asked) -> tuple[Hand, ...]:
    """The sides to which leaves open."""
    hand = asked.doorway.leaves.hand
    return (hand,) if hand else ("left", "right")


def space_at(asked: Asked, side: Hand) -> SideSpace | None:
    """What is known of the space on one side; None if nobody described it."""
    return next((s for s in asked.doorway.side_space if s.side == side), None)


def _screen(asked: Asked, side: Hand) -> Finding:
    space = space_at(asked, side)
    where = f"side_space[{side}]"
    if space is None:
        missing = lack("lack.side_space", where, {"side": side})
        because = Message("side_screen.unknown", {"side": _side(side)})
        return asked.answer(Verdict.NOT_SHOWN, because, case=side, lacking=(missing,))
    if space.guarded:
        because = Message("side_screen.guarded", {"side": _side(side)})
        return asked.answer(Verdict.HOLDS, because, case=side)
    if space.clearance is None:
        missing = lack("lack.clearance", f"{where}.clearance", {"side": side})
        because = Message("side_screen.unknown", {"side": _side(side)})
        return asked.answer(Verdict.NOT_SHOWN, because, case=side, lacking=(missing,))
    return _cleared(asked, space, space.clearance)


def _cleared(asked: Asked, space: SideSpace, clearance: Quantity) -> Finding:
    """Hold the clearance against the figure for this depth; deep if unknown."""
    shallow, unsure = is_shallow(asked, space.depth)
    limit = asked.rule.limit("clearance_shallow" if shallow else "clearance_deep")
    comparison = at_least(clearance, limit)
    where = f"side_space[{space.side}]"
    named = "clearance_shallow" if shallow else "clearance_deep"
    weak = asked.weak((f"{where}.clearance", clearance), named)
    told = compared(comparison, weak)
    verdict, lacking = told.verdict, told.lacking
    if verdict is Verdict.FAILS and watched(asked, space, clearance):
        return _watched(asked, space, clearance)
    if unsure and verdict is Verdict.FAILS and _enough_if_shallow(asked, clearance):
        verdict = Verdict.NOT_SHOWN
        lacking = (lack("lack.depth", f"{where}.depth", {"side": space.side}),)
    said = {
        "side": _side(space.side),
        "clearance": length(clearance.value),
        "limit": length(limit.value),
        "behind": _behind(space),
    }
    return asked.answer(
        verdict,
        Message(f"side_screen.{verdict.key}", said),
        case=space.side,
        margin=margin_of(comparison, Dimension.LENGTH),
        needed=Message("side_screen.needed", {"limit": length(limit.value)}),
        remedy=_make_room(space, limit) if verdict is Verdict.FAILS else None,
        lacking=lacking,
        to_confirm=told.to_confirm or _confirm_depth(asked, verdict, shallow=shallow),
        figures=(_pinch(asked, space.side, clearance.value),),
    )


def _behind(space: SideSpace) -> Message:
    """What stands behind the open leaf, as it is called in a sentence."""
    if space.behind is None:
        return Message("side_screen.something")
    return Message("side_screen.named", {"name": space.behind})


def _confirm_depth(asked: Asked, verdict: Verdict, *, shallow: bool) -> bool:
    """Whether it holds only since the depth counts as shallow, to be confirmed."""
    grade = asked.rule.limit("shallow_depth").grade
    return verdict is Verdict.HOLDS and shallow and grade.to_confirm


def _watched(asked: Asked, space: SideSpace, clearance: Quantity) -> Finding:
    """Presence beams stand in for the room, where they stop an opening leaf."""
    operator, fittings = asked.doorway.operator, asked.doorway.fitting
    stops = {one.id: stops_opening(operator, one) for one in fittings}
    deaf = frozenset(name for name, said in stops.items() if said is False)
    unsure = frozenset(name for name, said in stops.items() if said is None)
    if watched(asked, space, clearance, muted=deaf | unsure):
        return _watched_over(asked, space, clearance)
    said = {"side": _side(space.side)}
    if not watched(asked, space, clearance, muted=deaf):
        return asked.answer(
            Verdict.FAILS,
            Message("side_screen.not_stopped", said),
            case=space.side,
            remedy=Remedy(Message("remedy.wiring.stop_opening", said)),
            figures=(_pinch(asked, space.side, clearance.value),),
        )
    named = (one for one in fittings if one.id in unsure)
    return asked.answer(
        Verdict.NOT_SHOWN,
        Message("side_screen.stop_unknown", said),
        case=space.side,
        assumed=asked.settled.all_assumed(),
        lacking=tuple(lacks_wires(one, "presence") for one in named),
    )


def _watched_over(asked: Asked, space: SideSpace, clearance: Quantity) -> Finding:
    """It holds, as far as the figures of the beams carry."""
    where = f"side_space[{space.side}]."
    figures = [*asked.settled.all_figures(), (where + "clearance", clearance)]
    figures += [(where + "gap", space.gap)] if space.gap is not None else []
    grades = (*asked.limits_graded(*BODY), *(figure.grade for _, figure in figures))
    weak = (*asked.weak_limits(*BODY), *too_weak(figures))
    told = graded(Outcome.HOLDS, grades, weak)
    return asked.answer(
        told.verdict,
        Message("side_screen.watched", {"side": _side(space.side)}),
        case=space.side,
        lacking=told.lacking,
        assumed=asked.settled.all_assumed(),
        to_confirm=told.verdict is Verdict.HOLDS,
    )


def watched(
    asked: Asked,
    space: SideSpace,
    clearance: Quantity,
    *,
    muted: frozenset[str] = frozenset(),
) -> bool:
    """Whether presence beams reach the body all along the trailing edge's path.

    The leaf moves: rows that pause meanwhile, or may, are not counted.

    Args:
        asked: limits of the body (m).
        space: where the leaf opens into.
        clearance: behind the open leaf (m).
        muted: units that are not counted, by id.
    """
    settled = asked.settled
    if space.gap is None:  # how near the wall keeps people off is not known
        return False
    plan = trailing_plan(settled.plan, space, clearance.high)
    bodies = rest_faces(*(asked.rule.limit(name).value for name in BODY))
    pauses = pausing(asked, unknown=True)
    cases = [
        Case(b.face, b, on_path(plan.leaf_path, b), muted=muted, pausing=pauses)
        for b in bodies
    ]
    doubt = settled.ground.doubt
    loose = replace(doubt, reveal=doubt.reveal + space.gap.u)
    ground = Ground(plan, settled.ground.evenness, loose)
    return hold_everywhere(cases, settled.ways(), ground)


def trailing_plan(plan: Plan, space: SideSpace, clearance: float) -> Plan:
    """The plan beside the opening: the trailing edge's path and what stands there.

    The path runs from the opening's edge to the thing behind the open leaf.  The
    wall beyond the leaf's gap, and the thing itself, are where nobody stands.
    """
    leaf = plan.half * (2.0 if plan.hand else 1.0)
    end = plan.half + leaf + clearance
    path = plan.leaf_path._replace(left=plan.half, right=end)
    gap = space.gap.value if space.gap else 0.0
    wall = plan.walls[1]
    beyond = [Box(end, wall.right + end, wall.near, wall.far)]
    outside = Box(plan.half, wall.right, plan.outside.face + gap, wall.far)
    inside = Box(plan.half, wall.right, wall.near, -plan.inside.face - gap)
    boxes = [*beyond, *(box for box in (outside, inside) if box.near < box.far)]
    if space.side == "left":
        path = path._replace(left=-path.right, right=-path.left)
        boxes = [box._replace(left=-box.right, right=-box.left) for box in boxes]
    return replace(plan, leaf_path=path, walls=tuple(boxes))


def is_shallow(asked: Asked, depth: Quantity | None) -> tuple[bool, bool]:
    """Whether only a head can enter, and whether that is in doubt."""
    if depth is None:
        return False, True
    comparison = at_most(depth, asked.rule.limit("shallow_depth"))
    return comparison.outcome is Outcome.HOLDS, comparison.outcome is Outcome.NOT_SHOWN


def _enough_if_shallow(asked: Asked, clearance: Quantity) -> bool:
    comparison = at_least(clearance, asked.rule.limit("clearance_shallow"))
    return comparison.outcome is not Outcome.FAILS


def _make_room(space: SideSpace, limit: Quantity) -> Remedy:
    need = f"{limit.value * 1000:.0f} mm"
    change = Change("", f"side_space[{space.side}].clearance", need)
    said = {
        "behind": _behind(space),
        "limit": length(limit.value),
        "side": _side(space.side),
    }
    return Remedy(Message("remedy.make_room", said), (change,))


def _pinch(asked: Asked, side: Hand, clearance: float) -> Polygon:
    """The floor between the open leaf's trailing edge and what stands behind."""
    plan = asked.settled.plan
    leaf = plan.half * (2.0 if plan.hand else 1.0)
    start = plan.half + leaf
    box = Box(start, start + clearance, -plan.inside.face, plan.outside.face)
    return Polygon(Role.PINCH, (box if side == "right" else box.turned()).corners())


def gaps(asked: Asked) -> tuple[Finding, ...]:
    """Can a finger be caught beside a moving leaf?

    The gap between leaf face and fixed part is at most ``finger_small`` or at
    least ``finger_large``; the leading edge, leaf open, stops ``leading_edge``
    or more from the post.

    Args:
        asked: limits ``finger_small``, ``finger_large``, ``leading_edge`` (m).

    Returns:
        Two findings for each side to which a leaf opens: gap and leading edge.

    Source:
        The rulebook's figures; a comparison.
    """
    found: list[Finding] = []
    for side in opening_sides(asked):
        space = space_at(asked, side)
        gap = space.gap if space else None
        post = space.to_post if space else None
        found.append(_finger(asked, side, gap))
        found.append(_leading(asked, side, post))
    return tuple(found)


def _finger(asked: Asked, side: Hand, gap: Quantity | None) -> Finding:
    case, where = f"gap, {side}", f"side_space[{side}].gap"
    if gap is None:
        missing = lack("lack.gap", where, {"side": side})
        because = Message("gaps.unknown", {"side": _side(side)})
        return asked.answer(Verdict.NOT_SHOWN, because, case=case, lacking=(missing,))
    small, large = asked.rule.limit("finger_small"), asked.rule.limit("finger_large")
    either = (at_most(gap, small), at_least(gap, large))
    best = max(either, key=_standing)
    said = {
        "side": _side(side),
        "gap": length(gap.value),
        "small": length(small.value),
        "large": length(large.value),
    }
    return _compared(asked, best, "gaps.finger", said, (case, where), gap, *FINGER)


def _standing(comparison: Comparison) -> tuple[int, float]:
    return WORST_FIRST.index(comparison.outcome), comparison.margin


def _leading(asked: Asked, side: Hand, post: Quantity | None) -> Finding:
    case, where = f"leading edge, {side}", f"side_space[{side}].to_post"
    if post is None:
        missing = lack("lack.to_post", where, {"side": side})
        because = Message("gaps.unknown_post", {"side": _side(side)})
        return asked.answer(Verdict.NOT_SHOWN, because, case=case, lacking=(missing,))
    limit = asked.rule.limit("leading_edge")
    said = {
        "side": _side(side),
        "gap": length(post.value),
        "limit": length(limit.value),
    }
    return _compared(
        asked,
        at_least(post, limit),
        "gaps.leading",
        said,
        (case, where),
        post,
        "leading_edge",
    )


def _compared(
    asked: Asked,
    comparison: Comparison,
    key: str,
    said: Mapping[str, Measure | Message],
    case_and_where: tuple[str, str],
    found: Quantity,
    *limits: str,
) -> Finding:
    case, where = case_and_where
    told = compared(comparison, asked.weak((where, found), *limits))
    fails = told.verdict is Verdict.FAILS
    wanted = said.get("limit", said.get("large"))
    message = Message(f"remedy.{key}", said)
    value = wanted.value if isinstance(wanted, Measure) else 0.0
    change = Change("", where, f"{value * 1000:.6g} mm")
    return asked.answer(
        told.verdict,
        Message(f"{key}.{told.verdict.key}", said),
        case=case,
        margin=margin_of(comparison, Dimension.LENGTH),
        remedy=Remedy(message, (change,)) if fails else None,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )


def _side(side: Hand) -> Message:
    return Message(f"side.{side}")
