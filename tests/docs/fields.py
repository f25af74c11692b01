"""The fields of a file as the lines of a table, told from the published schema."""

from typing import Any

from limen.store.schema import Kind, schema

WHERE: dict[Kind, dict[str, str]] = {
    "site": {
        "": "the top of the file",
        "Short": "[[short]]",
        "Behind": "behind_left = { … }, behind_right = { … }",
        "Doorway": "[[doorway]]",
        "Leaves": "[doorway.leaves]",
        "Header": "header = { … }",
        "Reveal": "reveal = { … }",
        "SideSpace": "[[doorway.side_space]]",
        "Floor": "floor = { … }",
        "Motion": "[doorway.motion]",
        "Impact": "[[doorway.impact]]",
        "PowerLoss": "[doorway.power_loss]",
        "Mechanics": "[doorway.mechanics]",
        "Operator": "[doorway.operator]",
        "Input": "[[doorway.operator.inputs]]",
        "Document": "[[doorway.document]]",
        "Use": "[doorway.use]",
        "Kept": "kept = { … }",
        "Charge": "[kept]",
        "FaultsTo": "[faults]",
        "Approach": "[[doorway.approach]]",
        "Traffic": "[doorway.traffic]",
        "Passing": "[[doorway.traffic.passing]]",
        "Air": "[doorway.air]",
        "Exposure": "[doorway.exposure]",
        "Marking": "[doorway.marking]",
        "Thing": "[[doorway.thing]]",
        "Facing": "[[doorway.facing]]",
        "Beside": "[[doorway.beside]]",
        "Spaces": "spaces = { … }",
        "Fitting": "[[doorway.fitting]]",
        "Lens": "lens = { … }",
        "Settings": "settings = { … }",
        "Read": "read = { … }",
        "Aim": "aim = { … }",
        "Mount": "mount = { … }",
        "Wire": "wires = [ { … } ]",
        "Cable": "cable = { … }",
        "BarrierBeam": "beams = [ { … } ]",
    },
    "sheet": {
        "": "the top of the sheet",
        "Presence": "[presence]",
        "Row": "[[presence.rows]]",
        "FanByAngle": "[presence.fan], form angles",
        "FanByWidth": "[presence.fan], form width",
        "FanUnknown": "[presence.fan], form unknown",
        "Turn": "[presence.tilt]",
        "Motion": "[motion]",
        "Patches": "[motion.patches], [motion.arrays]",
        "Lobe": "[motion.lobe]",
        "RadarTurn": "[motion.tilt], [motion.yaw]",
        "Barrier": "[barrier]",
        "Output": "[[outputs]]",
        "Supply": "[supply]",
        "Environment": "[environment]",
        "MountingRange": "[mounting]",
        "Hole": "[[mounting.holes]], [mounting.cable_hole]",
    },
    "readings": {
        "": "the top of a readings file",
        "UnitRead": "[[unit]]",
        "TapedLens": "[unit.lens]",
        "SpotCentre": "[[unit.reading]], kind spot centre",
        "RowLine": "[[unit.reading]], kind row line",
        "RowEnd": "[[unit.reading]], kind row end",
        "BoxEdge": "[[unit.reading]], kind box edge in and box edge out",
    },
}
"""Where each part of the schema stands in a file."""

_KINDS = {
    "string": "text",
    "integer": "whole number",
    "boolean": "true or false",
    "array": "list",
    "object": "table",
}


def tables(kind: Kind) -> dict[str, list[str]]:
    """The lines of every table of a kind of file, by the part of the schema."""
    whole: dict[str, Any] = schema(kind)
    parts = {"": whole, **whole["$defs"]}
    return {name: _lines(part) for name, part in parts.items()}


def _lines(part: dict[str, Any]) -> list[str]:
    needed = set(part.get("required", ()))
    return [
        f"| `{key}` | {'yes' if key in needed else ''} | {_text(field)} |"
        for key, field in part["properties"].items()
    ]


def _text(field: dict[str, Any]) -> str:
    said = field.get("description", "")
    named = field.get("enum") or field.get("items", {}).get("enum")
    if named:
        return f"{said} One of: {', '.join(f'`{one}`' for one in named)}.".strip()
    if "const" in field:
        return f"{said} Always `{field['const']}`."
    if "with its unit" in said:
        return said
    each = field.get("items", {}).get("description", "")
    if "with its unit" in each:
        return f"{said} List, each a {each[0].lower()}{each[1:]}"
    return f"{said} {_kind(field)}.".strip()


def _kind(field: dict[str, Any]) -> str:
    if field.get("format") == "date":
        return "Date, without quotes"
    if "$ref" in field or "discriminator" in field:
        return "Table"
    kind = _KINDS[field.get("type", "object")].capitalize()
    least, most = field.get("minimum"), field.get("maximum")
    return kind if least is None else f"{kind}, {least} to {most}"
