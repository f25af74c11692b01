"""What the readings typed so far come to: those that can be read are fitted."""

from collections.abc import Mapping
from dataclasses import dataclass

from limen.desk.fitting import FileFaults, fit, fit_at_once, typed
from limen.desk.library import Desk, Opened
from limen.desk.library_sites import file_name
from limen.findings import Change
from limen.findings.fitted import DoorwayFitted, UnitFitted
from limen.model.readings import Readings
from limen.web.readings_form import Filled, Sent, by_field, sent


@dataclass(frozen=True, slots=True)
class Looked:
    """What a form comes to.

    Attributes:
        sent: what of it was fitted, and which fields still want something.
        readings: the same as readings; None where nothing can be read yet.
        units: what they show, unit by unit.
        changes: what of it is written into the site.
        fitted: the same with the door studied so; None if that was not asked.
        faults: what is wrong, by field; under the empty name what has no field.
    """

    sent: Sent
    readings: Readings | None
    units: tuple[UnitFitted, ...]
    changes: tuple[Change, ...]
    fitted: DoorwayFitted | None
    faults: Mapping[str, str]

    @property
    def complete(self) -> bool:
        """Whether all that was typed was fitted."""
        return not self.faults and not self.sent.open


def looked(
    desk: Desk, opened: Opened, doorway: str, form: Filled, *, studied: bool = True
) -> Looked:
    """Fit what can be read of a form; what cannot is told by its field.

    Args:
        desk: the desk.
        opened: the site.
        doorway: one of its doorways.
        form: as it was filled in.
        studied: whether the door is to be studied so, which takes longer.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
    """
    opened.doorway(doorway)
    faults: dict[str, str] = {}
    site = f"{file_name(opened.stored.name)}.toml"
    while True:
        told = sent(form, site, doorway, faults)
        if not told.values:
            return Looked(told, None, (), (), None, faults)
        try:
            readings = typed(told.values)
            if not studied:
                hung = fit_at_once(opened, doorway, readings)
                return Looked(told, readings, hung.units, hung.changes, None, faults)
            done = fit(desk, opened, doorway, readings)
            return Looked(told, readings, done.units, done.changes, done, faults)
        except FileFaults as error:
            wrong = by_field(error, told)
            if wrong.keys() <= faults.keys() or "" in wrong:
                return Looked(told, None, (), (), None, {**faults, **wrong})
            faults |= wrong
