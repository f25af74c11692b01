"""A doorway with the changes of a remedy made."""

import re
from collections.abc import Iterable

from limen.findings import Change
from limen.model.doorway import Doorway
from limen.questions.variants import changed_settings

PART = re.compile(r"(?P<table>\w+)\[(?P<side>\w+)\]\.(?P<key>\w+)")


def apply(doorway: Doorway, changes: Iterable[Change]) -> Doorway:
    """The doorway after the changes, checked like any other.

    Args:
        doorway: as it is.
        changes: of fittings, or of the doorway's side spaces (``fitting`` empty).

    Raises:
        ValueError: a change names something that the doorway does not have.
        pydantic.ValidationError: a value is not accepted.
    """
    listed = list(changes)
    changed = changed_settings(doorway, [c for c in listed if c.fitting])
    for change in listed:
        if not change.fitting:
            changed = _room_made(changed, change)
    return changed


def _room_made(doorway: Doorway, change: Change) -> Doorway:
    part = PART.fullmatch(change.setting)
    if part is None or part["table"] != "side_space":
        raise ValueError(f"no such part of a doorway: {change.setting}")
    spaces = [
        type(space).model_validate(
            space.model_dump(exclude_none=True) | {part["key"]: change.value}
        )
        if space.side == part["side"]
        else space
        for space in doorway.side_space
    ]
    return doorway.model_copy(update={"side_space": tuple(spaces)})
