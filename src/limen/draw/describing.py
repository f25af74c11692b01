"""A drawing in sentences, for those who do not see it."""

from limen.draw.bodies import along, dead_units, label_of, nearer_post, pose_of
from limen.draw.outline import Outline
from limen.draw.phrases import Tongue
from limen.draw.plan_units import unit_name
from limen.draw.section import gap_of
from limen.findings import Finding, Pose, Study, Target


def describe(
    study: Study,
    outline: Outline,
    finding: Finding | None,
    tongue: Tongue,
    targets: tuple[Target, ...],
) -> str:
    """Say what is drawn: opening, rows, gap, the body's place, the target lines."""
    said = _doorway(study, outline, dead_units(finding, study), tongue)
    if finding is None:
        return " ".join(said + _targets(targets, tongue))
    pose = pose_of(finding)
    if pose is not None:
        said += _body(finding, pose, outline, tongue)
    if finding.witness is not None and finding.witness.kind == "mounting":
        said.append(tongue.say("note.mounting"))
    said += _walk(finding, tongue)
    return " ".join(said + _targets(targets, tongue))


def _doorway(
    study: Study, outline: Outline, dead: frozenset[str], tongue: Tongue
) -> list[str]:
    wide, high = tongue.length(2 * outline.half), tongue.length(outline.high)
    said = [tongue.say("says.opening", wide=wide, high=high)]
    for unit in study.units:
        gone = unit.fitting in dead
        name = unit_name(unit, tongue, dead=gone).capitalize()
        if gone:
            said.append(f"{name}.")
            continue
        for row in unit.rows:
            far = tongue.length(row.from_leaf)
            said.append(tongue.say("says.row", unit=name, row=row.row, far=far))
    gap = gap_of(study, outline, dead)
    if gap is not None:
        said.append(tongue.say("says.gap", far=tongue.length(gap)))
    return said


def _body(finding: Finding, pose: Pose, outline: Outline, tongue: Tongue) -> list[str]:
    if finding.witness is None:
        return []
    text = label_of(finding, pose, tongue).replace("\n", ", ").capitalize()
    verdict = tongue.verdict(finding.verdict.value)
    _, end, far = along(finding.witness, pose, outline)
    part = "edge" if end != pose.x else "place" if far >= 0 else "beyond"
    hand = nearer_post(pose)
    return [
        tongue.say("says.body", body=text, verdict=verdict),
        tongue.say(f"says.{part}.{hand}", far=tongue.length(abs(far))),
    ]


def _walk(finding: Finding, tongue: Tongue) -> list[str]:
    """Where the walk of a witness begins."""
    if finding.witness is None or "start_out" not in finding.witness.printed:
        return []
    printed = finding.witness.printed
    along = printed["start_along"]
    hand = "right" if along > 0 else "left"
    out, far = tongue.length(printed["start_out"]), tongue.length(abs(along))
    return [tongue.say(f"says.walk.{hand}", out=out, far=far)]


def _targets(targets: tuple[Target, ...], tongue: Tongue) -> list[str]:
    return [
        tongue.say(
            "says.target",
            row=target.row,
            fitting=target.fitting,
            best=tongue.length(target.best),
            window=tongue.window(target.least, target.most),
        )
        for target in targets
    ]
