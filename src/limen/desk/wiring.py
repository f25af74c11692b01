"""The wiring of doorways: terminal plans, drawn and printed."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from limen.desk.refusal import Refusal, refusing
from limen.quantity import Show

if TYPE_CHECKING:
    from limen.desk.checking import Checked
    from limen.desk.drawing import Units
    from limen.desk.exporting import Exported
    from limen.desk.library import Clash, Desk, Opened, Stored
    from limen.desk.reporting import Paper
    from limen.findings import Study
    from limen.findings.wires import WirePlan

WIDE, NARROW = 800.0, 344.0
"""px for which the drawings of the page are laid out."""


@dataclass(frozen=True, slots=True)
class Wired:
    """A doorway and its terminal plan.

    Attributes:
        study: all that was found of the doorway.
        plan: its terminals and wires.
    """

    study: "Study"
    plan: "WirePlan"

    def drawn(self, width: float, system: Show = Show.METRIC) -> str:
        """The plan as SVG, in the reader's language; stacked below 600 px."""
        from limen.draw.wires import WirePicture, draw_wires

        return draw_wires(WirePicture(self.study.doorway, self.plan, system), width)


def wired(checked: "Checked") -> tuple[Wired, ...]:
    """The terminal plan of every doorway that was studied."""
    from limen.study.wire_plan import wire_plan

    pairs = zip(checked.studies, checked.rulebooks, strict=True)
    return tuple(Wired(one, wire_plan(one, book)) for one, book in pairs)


def wiring_of(desk: "Desk", opened: "Opened", doorway_id: str) -> Wired:
    """The terminal plan of a doorway that is kept.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
    """
    from limen.desk.library import book_of, study_of
    from limen.study.wire_plan import wire_plan

    door = opened.doorway(doorway_id)
    study = study_of(desk, opened, doorway_id)
    return Wired(study, wire_plan(study, book_of(desk, opened.site, door)))


def wires_file(
    checked: "Checked",
    out: str | Path,
    *,
    paper: "Paper | None" = None,
    units: "Units" = "metric",
) -> Path:
    """Print terminal plans as PDF, a page a doorway.

    Args:
        checked: the site and its studies.
        out: the file; one that is there is replaced once the new one is whole.
        paper: size of its pages; that of the rulebook's country if not given.
        units: in which lengths are written.

    Returns:
        The file.

    Raises:
        Refusal: the file cannot be written, or a letter of it not be printed.
    """
    from limen.desk.reporting import put_whole

    target = Path(out)
    made = _set(checked, wired(checked), paper, units)
    with refusing():
        put_whole(target, made)
    return target


def wiring_paper(
    desk: "Desk",
    opened: "Opened",
    doorway_id: str,
    *,
    paper: "Paper | None" = None,
    units: "Units" = "metric",
) -> "Exported":
    """The terminal plan of a doorway that is kept, as PDF.

    Raises:
        Refusal: there is no such doorway, nothing settles its edition, or a letter
            cannot be printed.
    """
    from limen.desk.exporting import Exported, studied

    checked = studied(desk, opened, doorway_id)
    one = wiring_of(desk, opened, doorway_id)
    made = _set(checked, (one,), paper, units)
    name = f"{_name(opened, doorway_id)}-{desk.day().isoformat()}"
    return Exported(f"{name}.pdf", "application/pdf", made)


def take_proposals(
    desk: "Desk", opened: "Opened", doorway_id: str, base_version: int
) -> "Stored | Clash":
    """Write the wires that are proposed into the site's text.

    Whether their tests are on is not written: nobody has switched them on yet.

    Args:
        desk: the desk.
        opened: the site.
        doorway_id: one of its doorways, written in full.
        base_version: the version whose proposals were read.

    Returns:
        The site as it is kept now; a `Clash` where somebody else has saved since.

    Raises:
        Refusal: there is no such doorway, nothing is proposed for it, or it is
            written in short.
    """
    from limen.desk.dragging import in_full
    from limen.desk.fact_edits import FactFaults, set_facts
    from limen.desk.library import Clash
    from limen.findings import Message
    from limen.words import say

    typed = _typed(wiring_of(desk, opened, doorway_id))
    if not typed or not in_full(desk, opened, doorway_id):
        raise Refusal([say(Message("desk_wiring.take.none"))])
    stored = opened.stored
    if base_version != stored.version:
        return Clash(stored.text, base_version, stored)
    try:
        kept = set_facts(desk, stored.id, doorway_id, typed, base_version)
    except FactFaults as faults:
        raise Refusal([*faults.by_key.values(), *faults.others]) from faults
    return kept if isinstance(kept, Clash) else kept[0]


def _typed(one: Wired) -> dict[str, list[str]]:
    """Proposed wires as somebody would type them, behind those that are there."""
    typed: dict[str, list[str]] = {}
    for place, fitting in enumerate(one.study.doorway.fitting):
        proposed = [w for w in one.plan.of(fitting.id) if w.way == "proposed"]
        for at, wire in enumerate(proposed, len(fitting.wires)):
            if wire.terminal is not None:
                key = f"fitting.{place}.wires.{at}"
                typed[f"{key}.output"] = [wire.signal]
                typed[f"{key}.to"] = [one.plan.terminals[wire.terminal].name]
    return typed


def wiring_drawing(
    desk: "Desk", opened: "Opened", doorway_id: str, units: "Units" = "metric"
) -> "Exported":
    """The terminal plan of a doorway that is kept, as SVG: ink on paper.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
    """
    from limen.desk.exporting import Exported

    drawn = wiring_of(desk, opened, doorway_id).drawn(WIDE, Show(units))
    name = _name(opened, doorway_id)
    return Exported(f"{name}.svg", "image/svg+xml", drawn.encode())


def _name(opened: "Opened", doorway_id: str) -> str:
    """Building, doorway and what it is."""
    from limen.desk.library_sites import file_name

    return f"{file_name(opened.stored.name)}-{doorway_id}-wiring"


def _set(
    checked: "Checked",
    plans: tuple[Wired, ...],
    paper: "Paper | None",
    units: "Units",
) -> bytes:
    from limen.desk.clock import today
    from limen.desk.reporting import usual_paper
    from limen.report import ReportError
    from limen.report.tongue import Tongue
    from limen.report.wiring import WireSheet, wiring_pdf

    try:
        return wiring_pdf(
            [WireSheet(one.study, one.plan) for one in plans],
            site=checked.site.name,
            on=checked.studies[0].on or today(),
            paper=paper or usual_paper(checked),
            tongue=Tongue(system=Show(units)),
        )
    except ReportError as error:
        raise Refusal([str(error)]) from error
