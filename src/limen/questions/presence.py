"""The presence zone: the rulebook's, and the whole path of the leaves."""

from collections.abc import Iterable
from dataclasses import replace
from math import pi

from limen.findings import (
    Figure,
    Finding,
    Lack,
    Measure,
    Message,
    Polygon,
    Remedy,
    Role,
    Verdict,
)
from limen.findings.message import length, turn
from limen.geometry.boxes import Box
from limen.physics.plan import free
from limen.physics.reach import Body, Place, Placed, on_path, rest_faces, row_distance
from limen.quantity import Dimension, Outcome, Quantity, at_most
from limen.questions.asking import (
    Asked,
    compared,
    graded,
    lack,
    margin_of,
    too_weak,
)
from limen.questions.coverage import Case, Shown, shows, within
from limen.questions.doubting import doubted
from limen.rules.rule import Weight

BODY = ("body_height", "body_length", "body_depth")
HAIR = 1e-9
PAUSES = "sheet.presence.rows.pauses_while_moving"
GEOMETRY_ONLY = Message("owed.geometry_only")


def threshold(asked: Asked) -> tuple[Finding, ...]:
    """Is the test body reached wherever its middle is on the line of the leaves?

    Branch and bound over every place and turn of the body on each of its three
    rest faces, its centre within ``zone_reach`` of the leaf faces and between
    the posts.

    Args:
        asked: limits ``body_height``, ``body_length``, ``body_depth`` and
            ``zone_reach`` (m).

    Returns:
        One finding for each rest face.  Margin: by how much every side of the
        body could be smaller and still be reached (m).

    Source:
        Proof of `limen.physics.coverage`; derivation in docs/method/coverage.md.
        Left out: whether a beam that reaches the body is also returned by it.
    """
    return _findings(asked, threshold_cases(asked), (*BODY, "zone_reach"))


def leaf_path(asked: Asked) -> tuple[Finding, ...]:
    """Is the test body reached at every place where a closing leaf could strike it?

    Every pose in which the body meets the volume that the leaves sweep, sway
    included, and stands clear of walls.  Rows that pause while the leaf moves,
    a reduced opening and each unit dead in turn are cases of their own; so is
    the last part of closing, in which the operator may ignore presence.

    Args:
        asked: limits ``body_height``, ``body_length``, ``body_depth``, and
            ``ignored_gap`` where the rulebook has one (m).

    Returns:
        One finding for each rest face and state.  Margin as in `threshold`.

    Source:
        As `threshold`.  A beam counts beyond its own leaf's face only where no
        leaf can be.  Left out: a body in motion.
    """
    found = _findings(asked, path_cases(asked), BODY)
    return (*found, *_one_dead(asked), near_closed(asked))


def near_closed(asked: Asked) -> Finding:
    """Is presence still heeded in the last part of closing?

    The gap below which the operator ignores presence is held against the
    rulebook's figure; without a figure only a gap of nothing holds.
    """
    gap = asked.doorway.presence_ignored_below
    case = "near closed"
    if gap is None:
        missing = lack("lack.ignored_gap", "presence_ignored_below")
        because = Message("near_closed.unknown")
        return _near(asked, Outcome.NOT_SHOWN, because, lacking=(missing,))
    if gap.high <= 0:
        because = Message("near_closed.never")
        return _near(asked, Outcome.HOLDS, because, figures=(gap,))
    said = {"gap": length(gap.value)}
    if not asked.rule.has("ignored_gap"):
        missing = lack("lack.ignored_rule", asked.figure("ignored_gap"))
        because = Message("near_closed.no_figure", said)
        return _near(asked, Outcome.NOT_SHOWN, because, lacking=(missing,))
    limit = asked.rule.limit("ignored_gap")
    comparison = at_most(gap, limit)
    figure = ("presence_ignored_below", gap)
    told = compared(comparison, asked.weak(figure, "ignored_gap"))
    down_to = {"limit": length(limit.value)}
    heed = Remedy(Message("remedy.near_closed", down_to))
    return asked.answer(
        told.verdict,
        Message(f"near_closed.{told.verdict.key}", said),
        case=case,
        margin=margin_of(comparison, Dimension.LENGTH),
        needed=Message("near_closed.needed", down_to),
        remedy=heed if told.verdict is Verdict.FAILS else None,
        to_confirm=told.to_confirm,
        lacking=told.lacking,
    )


def _near(
    asked: Asked,
    outcome: Outcome,
    because: Message,
    *,
    lacking: tuple[Lack, ...] = (),
    figures: tuple[Quantity, ...] = (),
) -> Finding:
    grades = (*asked.limits_graded(), *(figure.grade for figure in figures))
    told = graded(outcome, grades, "presence_ignored_below")
    return asked.answer(
        told.verdict,
        because,
        case="near closed",
        to_confirm=told.to_confirm,
        lacking=(*lacking, *told.lacking),
    )


def _bodies(asked: Asked) -> tuple[Body, ...]:
    return rest_faces(*(asked.rule.limit(name).value for name in BODY))


def threshold_cases(asked: Asked) -> list[Case]:
    """Rest faces with their middle on the line of the leaves."""
    plan, reach = asked.settled.plan, asked.rule.limit("zone_reach").value
    near, far = -plan.inside.face - reach, plan.outside.face + reach
    zone = Box(-plan.half, plan.half, near, far)
    return [
        Case(body.face, body, Place(zone, None), path=zone) for body in _bodies(asked)
    ]


def path_cases(asked: Asked) -> list[Case]:
    """Rest faces in every state of the doorway that the rule asks for."""
    plan = asked.settled.plan
    paths: list[tuple[str, Box]] = [("", plan.leaf_path)]
    reduced = asked.doorway.reduced_width
    if reduced is not None:
        paths.append((", reduced width", free(plan, reduced.value)))
    pauses, surely = pausing(asked, unknown=True), pausing(asked, unknown=False)
    cases: list[Case] = []
    for body in _bodies(asked):
        for suffix, path in paths:
            case = Case(body.face + suffix, body, on_path(path, body), path=path)
            cases.append(case)
            if pauses:
                name = f"{case.name}, while the leaf moves"
                cases.append(replace(case, name=name, pausing=pauses, surely=surely))
    return cases


def pausing(asked: Asked, *, unknown: bool) -> tuple[tuple[str, tuple[int, ...]], ...]:
    """Rows that pause while the leaf moves, by fitting; those that may, if unknown."""
    found: list[tuple[str, tuple[int, ...]]] = []
    for fitting in asked.doorway.fitting:
        presence = fitting.unit.presence if fitting.unit else None
        rows = presence.rows if presence else ()
        each = (row.pauses_while_moving for row in rows)
        paused = tuple(n for n, p in enumerate(each) if p or (unknown and p is None))
        if paused:
            found.append((fitting.id, paused))
    return tuple(found)


def _one_dead(asked: Asked) -> tuple[Finding, ...]:
    """What is left when one unit is dead: advice, as no rule asks for it."""
    units = [facts.fitting.id for facts in asked.settled.units if facts.choices]
    if len(units) < 2:  # noqa: PLR2004  # with one unit nothing is left
        return ()
    body = _bodies(asked)[0]
    place = on_path(asked.settled.plan.leaf_path, body)
    cases = [
        Case(f"upright, {unit} dead", body, place, muted=frozenset({unit}))
        for unit in units
    ]
    return tuple(
        replace(
            _finding(asked, case, _shown(asked, case, plain=False), BODY),
            weight=Weight.ADVICE,
            stricter=True,
        )
        for case in cases
    )


def _shown(asked: Asked, case: Case, *, plain: bool = True) -> Shown:
    settled = asked.settled
    ways, lacks = settled.ways(), settled.all_lacks()
    shown = shows(case, ways, settled.ground, lacks, margins=plain, hunt=plain)
    if case.known.pausing == case.pausing or shown.outcome is Outcome.HOLDS:
        return shown
    known = shows(case.known, ways, settled.ground, lacks, margins=plain, hunt=plain)
    if known.outcome is not Outcome.HOLDS:
        return known
    return Shown(Outcome.NOT_SHOWN, "pauses", lacking=(lack("lack.pauses", PAUSES),))


def at_a_glance(asked: Asked, cases: list[Case]) -> tuple[Finding, ...]:
    """What cases show while a unit is moved: no margins, no hunt for mountings.

    What holds or fails here holds or fails for good; what is not shown between the
    two proofs may still fail once mountings within the tolerance are tried.

    Args:
        asked: the limits as in `threshold` or `leaf_path`, whichever the cases are of.
        cases: what is asked.
    """
    own = [name for name in ("zone_reach",) if asked.rule.has(name)]
    shown = _all_shown(asked, cases, plain=False)
    return tuple(_finding(asked, case, what, (*BODY, *own)) for case, what in shown)


def _all_shown(
    asked: Asked, cases: list[Case], *, plain: bool = True
) -> list[tuple[Case, Shown]]:
    """What each case shows; one that a holding case contains holds with it."""
    shown: list[tuple[Case, Shown]] = []
    for case in cases:
        held = (
            what
            for other, what in shown
            if what.outcome is Outcome.HOLDS and within(case, other)
        )
        shown.append((case, next(held, None) or _shown(asked, case, plain=plain)))
    return shown


def _findings(
    asked: Asked, cases: list[Case], limits: tuple[str, ...]
) -> tuple[Finding, ...]:
    """One finding a case."""
    return tuple(
        _finding(asked, case, what, limits) for case, what in _all_shown(asked, cases)
    )


def _finding(
    asked: Asked, case: Case, shown: Shown, limits: tuple[str, ...]
) -> Finding:
    settled = asked.settled
    grades = (*asked.limits_graded(*limits), *settled.all_grades())
    weak_ones = (*asked.weak_limits(*limits), *too_weak(settled.all_figures()))
    told = graded(shown.outcome, grades, weak_ones)
    weak = shown.outcome is Outcome.HOLDS and told.verdict is not Verdict.HOLDS
    because = (
        Message("coverage.not_shown.grade", {"face": case.body.face})
        if weak
        else _because(case, shown, settled.plan.half)
    )
    return asked.answer(
        told.verdict,
        because,
        case=case.name,
        margin=shown.margin,
        remedy=_when_dead(case) if told.verdict is Verdict.FAILS else None,
        found=_inner_rows(settled.ways()),
        needed=Message("coverage.needed", {"face": case.body.face}),
        witness=shown.witness,
        lacking=(*shown.lacking, *doubted(shown.why, settled.ways()), *told.lacking)
        if told.verdict is Verdict.NOT_SHOWN
        else (),
        assumed=settled.all_assumed(),
        to_confirm=told.to_confirm,
        owed=_owed(asked) if shown.outcome is Outcome.HOLDS else (),
        figures=_figures(case, shown),
    )


def _when_dead(case: Case) -> Remedy | None:
    """What to do where a unit is dead: there is nothing to turn."""
    if not case.muted:
        return None
    return Remedy(Message("remedy.one_dead", {"fitting": ", ".join(case.muted)}))


def _figures(case: Case, shown: Shown) -> tuple[Figure, ...]:
    path = case.path or case.place.zone
    zone: tuple[Figure, ...] = (Polygon(Role.ZONE, path.corners()),)
    pose = shown.witness.pose if shown.witness else None
    return (*zone, pose) if pose else zone


def _because(case: Case, shown: Shown, half: float) -> Message:
    said: dict[str, str | int | Measure | Message] = {"face": case.body.face}
    witness = shown.witness
    if shown.outcome is Outcome.HOLDS:
        if shown.margin is None:
            return Message("coverage.holds_bare", said)
        said["margin"] = length(max(shown.margin.least, 0.0))
        return Message("coverage.holds", said)
    if shown.outcome is Outcome.FAILS and witness and witness.pose:
        pose = witness.pose
        said["along"] = _along(pose.x, half)
        said["turned"] = _turned(pose.yaw)
        said["place"] = _across(pose.y)
        key = (
            "coverage.fails_mounting" if shown.why == "tolerance" else "coverage.fails"
        )
        return Message(key, said)
    why = shown.why.replace(" ", "_") or "resolution"
    return Message(f"coverage.not_shown.{why}", said)


def _turned(yaw: float) -> Message:
    """How the body is turned, as one sets it down."""
    if abs(yaw) < HAIR or abs(yaw - pi) < HAIR:
        return Message("turned.along")
    if abs(yaw - pi / 2) < HAIR:
        return Message("turned.across")
    return Message("turned.clockwise", {"turn": turn(yaw)})


def _along(x: float, half: float) -> Message:
    """The place along the opening, from the nearer post."""
    post = Message("side.left" if x <= 0 else "side.right")
    room = half - abs(x)
    key = "along.from_post" if room >= 0 else "along.beyond_post"
    return Message(key, {"distance": length(abs(room)), "post": post})


def _across(y: float) -> Message:
    if abs(y) < 5e-4:  # noqa: PLR2004  # less than what a tape shows
        return Message("across.on_the_line")
    side = "outside" if y > 0 else "inside"
    return Message(f"across.{side}", {"distance": length(abs(y))})


def _inner_rows(ways: Iterable[tuple[object, ...]]) -> Message | None:
    """How far apart the innermost rows of the two sides land."""
    units = next(iter(ways), ())
    best: dict[str, float] = {}
    for unit in units:
        if isinstance(unit, Placed) and unit.rows_on:
            nearest = min(row_distance(unit, row, 0.0) for row in unit.rows_on)
            best[unit.side] = min(best.get(unit.side, nearest), nearest)
    if len(best) < 2:  # noqa: PLR2004  # one side only
        return None
    return Message("coverage.rows_apart", {"apart": length(sum(best.values()))})


def _owed(asked: Asked) -> tuple[Message, ...]:
    """What the proof asks of the tape: where the first rows are to be read."""
    owed: list[Message] = [GEOMETRY_ONLY]
    for units in asked.settled.ways()[:1]:
        for unit in units:
            if not isinstance(unit, Placed):
                continue
            face = asked.settled.plan.side(unit.side).face
            target = row_distance(unit, 0, face)
            room = unit.errors.floor_y
            values = {
                "fitting": unit.fitting,
                "least": length(target - room),
                "most": length(target + room),
            }
            owed.append(Message("owed.read_first_row", values))
    return tuple(owed)
