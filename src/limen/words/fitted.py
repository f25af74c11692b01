"""Where a unit was found to hang, as messages."""

from collections.abc import Iterator

from limen.findings import Measure, Message
from limen.findings.fitted import Doubtful, Pose6, RowFound
from limen.findings.message import length, turn

SHOWN = 5e-4
"""m: less is not worth a word."""


def said_hangs(pose: Pose6) -> Iterator[Message]:
    """How a unit is turned, where its lens is, and its fan where it was fitted too."""
    yield Message(
        "readings.cli.hangs",
        {
            **_turned("tilt", pose.tilt),
            **_turned("roll", pose.roll),
            **_turned("yaw", pose.yaw),
        },
    )
    lens = {
        "height": length(pose.height.value),
        "height_u": length(pose.height.doubt),
        "out": length(pose.from_leaf.value),
        "out_u": length(pose.from_leaf.doubt),
        "along": said_along(pose.along.value),
        "along_u": length(pose.along.doubt),
    }
    yield Message("readings.cli.lens", lens)
    if pose.fan_share:
        percent = round(100 * pose.fan_share.value)
        yield Message("readings.cli.fan", {"percent": percent})


def said_row(row: RowFound) -> Message:
    """Where a row lands and ends."""
    return Message(
        "readings.cli.row",
        {
            "row": row.row,
            "distance": length(row.distance.value),
            "within": length(row.distance.doubt),
            "left": said_along(row.left[0]),
            "right": said_along(row.right[0]),
        },
    )


def said_along(along: float) -> Message:
    """A place along the opening (m from its middle), as people say it."""
    if abs(along) < SHOWN:
        return Message("readings.cli.in_the_middle")
    side = "right" if along > 0 else "left"
    return Message(f"readings.cli.{side}_of_middle", {"distance": length(abs(along))})


def _turned(name: str, figure: Doubtful) -> dict[str, Measure]:
    return {name: turn(figure.value), f"{name}_u": turn(figure.doubt)}
