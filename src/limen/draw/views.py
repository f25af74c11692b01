"""A study and a view in, a scene out."""

from typing import NamedTuple, assert_never

from limen.draw.describing import describe
from limen.draw.front import front_content, front_frames
from limen.draw.outline import Outline, outline_of
from limen.draw.phrases import Tongue
from limen.draw.plan import plan_content, plan_frames
from limen.draw.plan_figures import targets_of
from limen.draw.scene import Content, Frame, Scene, View
from limen.draw.section import section_content, section_frames
from limen.findings import Finding, Study, Target
from limen.quantity import Show
from limen.words import reading

FOOT = 0.3048


def scene(
    study: Study,
    view: View,
    *,
    finding: Finding | None = None,
    targets: tuple[Target, ...] | None = None,
    language: str | None = None,
    system: Show = Show.METRIC,
) -> Scene:
    """Make one drawing of a doorway, in metres and without ink.

    Args:
        study: the study; its doorway and units are drawn.
        view: plan, front or section.
        finding: the finding whose witness, figures and remedy are drawn too.
        targets: target lines that are drawn; those of the remedy if None.
        language: of the words on it; the reader's if None.
        system: in which units lengths are written.

    Raises:
        KeyError: there is no catalogue for the language.
    """
    tongue = Tongue(language or reading(), system)
    gap = finding.witness.gap if finding and finding.witness else None
    outline = outline_of(study.doorway, gap)
    aimed = targets_of(finding) if targets is None else targets
    seen = _Seen(study, outline, finding, aimed)
    content, frame, close = _content(seen, view, tongue)
    return Scene(
        view=view,
        title=tongue.say(f"title.{view}", door=study.doorway.name),
        description=describe(study, outline, finding, tongue, aimed),
        language=tongue.language,
        content=content,
        frame=frame,
        close=close,
        corners=_corners(view, tongue),
        inside=Frame(-1e3, 1e3, 0.0, 1e3) if view == "plan" else None,
        note=_note(view, finding, tongue),
        scale=_scale(tongue),
        enlarged=view == "section",
    )


class _Seen(NamedTuple):
    """What a drawing is made from."""

    study: Study
    outline: Outline
    finding: Finding | None
    targets: tuple[Target, ...]


def _content(seen: _Seen, view: View, tongue: Tongue) -> tuple[Content, Frame, Frame]:
    study, outline, finding, targets = seen
    match view:
        case "plan":
            content = plan_content(study, outline, finding, tongue, targets)
            return content, *plan_frames(content, outline, finding)
        case "front":
            content = front_content(study, outline, finding, tongue)
            return content, *front_frames(outline, study, finding)
        case "section":
            content = section_content(study, outline, finding, tongue, targets)
            return content, *section_frames(content, outline, finding)
        case _:
            assert_never(view)


def _note(view: View, finding: Finding | None, tongue: Tongue) -> str:
    """How the drawing is to be read."""
    note = tongue.say(f"note.{view}")
    witness = finding.witness if finding else None
    if witness is not None and witness.kind == "mounting":
        note += " " + tongue.say("note.mounting")
    return note


def _corners(view: View, tongue: Tongue) -> tuple[str, str, str]:
    outside, inside = tongue.say("outside"), tongue.say("inside")
    match view:
        case "plan":
            return inside, "", outside
        case "front":
            return "", "", ""
        case "section":
            return outside, inside, ""
        case _:
            assert_never(view)


def _scale(tongue: Tongue) -> tuple[float, str]:
    if tongue.system is Show.FEET:
        return FOOT, tongue.length(FOOT)
    bar = 0.5
    return bar, tongue.length(bar)
