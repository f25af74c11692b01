"""Drawings of studies, written as SVG files."""

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from limen.desk.refusal import refusing

if TYPE_CHECKING:
    from limen.desk.checking import Checked
    from limen.findings import Finding, Study

View = Literal["plan", "section", "front"]
Units = Literal["metric", "feet"]
VIEWS: tuple[View, ...] = ("plan", "section", "front")
WIDTH_PX = 1200


def draw(
    checked: "Checked",
    out: str | Path,
    *,
    views: Sequence[View] = VIEWS,
    width: int = WIDTH_PX,
    units: Units = "metric",
) -> list[Path]:
    """Draw doorways with the worst that was found there.

    Args:
        checked: the site and its studies.
        out: the folder; made if it is not there.
        views: which views.
        width: of a drawing, in pixels.
        units: in which lengths are written.

    Returns:
        The files, ``<doorway>-<view>.svg``; files of these names are replaced.

    Raises:
        Refusal: the folder or a file cannot be written.
    """
    folder = Path(out)
    with refusing():
        folder.mkdir(parents=True, exist_ok=True)
        return [
            _written(study, view, folder, width, units)
            for study in checked.studies
            for view in dict.fromkeys(views)
        ]


def first_witness(study: "Study") -> "Finding | None":
    """The first finding that fails with a place to show for it, musts first."""
    from limen.findings import Verdict

    failing = (*study.musts(Verdict.FAILS), *study.of(Verdict.FAILS))
    return _first(one for one in failing if one.witness and one.witness.pose)


def first_to_mend(study: "Study") -> "Finding | None":
    """What a drawing shows unasked: a place first, else figures, musts first.

    Never advice, such as what one dead unit would leave open: a cross on a
    drawing is read as a fault of the door.
    """
    from limen.findings import Verdict
    from limen.rules import Weight

    failing = (*study.musts(Verdict.FAILS), *study.of(Verdict.FAILS))
    faults = [one for one in failing if one.weight is not Weight.ADVICE]
    placed = _first(one for one in faults if one.witness and one.witness.pose)
    return placed or _first(one for one in faults if one.figures)


def _first(findings: "Iterable[Finding]") -> "Finding | None":
    return next(iter(findings), None)


def _written(
    study: "Study", view: View, folder: Path, width: int, units: Units
) -> Path:
    from limen.draw.svg import svg
    from limen.draw.views import scene
    from limen.quantity import Show

    found = first_to_mend(study)
    drawn = svg(scene(study, view, finding=found, system=Show(units)), width_px=width)
    path = folder / f"{study.doorway.id}-{view}.svg"
    path.write_text(drawn, encoding="utf-8")
    return path
