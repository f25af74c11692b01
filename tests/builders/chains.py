"""Doorways that stand beside one another, their units on given channels."""

from collections.abc import Mapping, Sequence

from builders.doorways import a_doorway
from limen.model.doorway import Doorway


def door(name: str, changes: Mapping[str, object] | None = None) -> Doorway:
    """A doorway by that name."""
    return a_doorway({"id": name, **(changes or {})})


def beside(other: str, along: str, **more: str) -> dict[str, object]:
    """That it stands beside another one."""
    return {"beside": [{"doorway": other, "along": along, **more}]}


def on_channels(doorway: Doorway, channels: Sequence[int | None]) -> Doorway:
    """The doorway with its units on these channels, one for each."""
    units = tuple(
        one.model_copy(
            update={"settings": one.settings.model_copy(update={"channel": channel})}
        )
        for one, channel in zip(doorway.fitting, channels, strict=True)
    )
    return doorway.model_copy(update={"fitting": units})
