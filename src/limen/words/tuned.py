"""Settings and target lines as messages."""

from limen.findings import Measure, Message
from limen.findings.message import length, turn
from limen.findings.tuned import Aim, Turned
from limen.quantity import Dimension, parse

NEARER = 5e-4
"""m: less than this a row is said to stay."""
ANGLES = ("tilt", "roll", "yaw", "radar_tilt", "radar_yaw", "lit_tilt")
LENGTHS = ("first_row",)
AIMED = ("settings.tilt", "read.first_row")


def said_aim(aim: Aim) -> Message:
    """Where a row is to be brought, with its window, floor first."""
    target = aim.target
    by = target.best - target.was
    said: dict[str, str | int | Measure | Message] = {
        "fitting": target.fitting,
        "best": length(target.best),
        "least": length(target.least),
        "most": length(target.most),
        "by": length(abs(by)),
        "way": Message("way.nearer" if by < 0 else "way.further"),
        "turn": turn(abs(target.turn)),
    }
    if aim.step is not None and aim.coarse:
        return Message("tune.bring_coarse", {**said, "step": length(aim.step)})
    if abs(by) < NEARER:
        return Message("tune.stays", said)
    if target.least <= target.was <= target.most:
        return Message("tune.may_stay", {**said, "was": length(target.was)})
    return Message("tune.bring", said)


def said_turned(turned: Turned) -> Message:
    """One setting that is changed, with what is set now."""
    part, _, name = turned.setting.partition(".")
    said: dict[str, str | int | Measure | Message] = {
        "fitting": turned.fitting,
        "setting": Message(f"tune.setting.{name}"),
        "to": _value(name, turned.to),
    }
    if part == "read" and name not in LENGTHS:
        return Message("tune.keep", said)
    if not turned.was:
        return Message("tune.set_unstated", said)
    return Message("tune.set", {**said, "was": _value(name, turned.was)})


def is_aimed(turned: Turned) -> bool:
    """Whether it is told as a target line, not as a setting."""
    return turned.setting in AIMED


def _value(name: str, text: str) -> str | Measure:
    if name in ANGLES:
        return Measure(parse(text, Dimension.ANGLE).value, Dimension.ANGLE)
    if name in LENGTHS:
        return length(parse(text, Dimension.LENGTH).value)
    return text
