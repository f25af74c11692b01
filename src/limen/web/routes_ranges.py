"""Ranges of settings, asked for one by one while the page rests."""

from dataclasses import asdict

from fastapi import Request
from fastapi.responses import JSONResponse, Response

from limen.desk.library import Desk, Opened, study_of
from limen.desk.mapping import StaleError
from limen.desk.ranging import Ranges, range_of
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.web.answers import refused
from limen.web.doorway_knobs import UnitSettings, unit_settings
from limen.web.doorway_ranges import ranged, steps_of
from limen.web.pages import look_at
from limen.words import say

STALE = 409


def ranges_told(
    desk: Desk,
    ranges: Ranges,
    request: Request,
    opened: Opened,
    door: str,
    asked: tuple[str, str],
) -> Response:
    """Where settings of a unit may stand with all that depends on them holding.

    Args:
        desk: the sites.
        ranges: those computed before.
        request: what was asked, for the reader's units.
        opened: the site.
        door: the doorway.
        asked: the unit; and the key of one setting, empty for all of them.

    Raises:
        Refusal: there is no such doorway, unit or setting.
    """
    unit, key = asked
    if unit not in [one.id for one in opened.doorway(door).fitting]:
        said = Message("doorway_page.refused.unit", {"unit": unit[:80]})
        raise Refusal([say(said)])
    system = look_at(request).system
    settings = _only(unit_settings(study_of(desk, opened, door), unit, system), key)
    try:
        for steps in steps_of(settings):
            range_of(desk, ranges, opened, door, steps)
    except StaleError:
        return refused(request, STALE, [say(Message("doorway_page.waiting"))])
    found = ranged(settings, ranges.known(desk, opened, door), system)
    return JSONResponse({"version": opened.stored.version, **_told(found)})


def _only(settings: UnitSettings, key: str) -> UnitSettings:
    """All settings of a unit, or the one of a key."""
    if not key:
        return settings
    knobs = tuple(one for one in settings.knobs if one.key == key)
    choices = tuple(one for one in settings.choices if one.key == key)
    if not knobs and not choices:
        said = Message("doorway_page.refused.key", {"key": key[:80]})
        raise Refusal([say(said)])
    return UnitSettings(settings.id, settings.name, knobs, choices)


def _told(found: UnitSettings) -> dict[str, object]:
    windows = {
        knob.key: asdict(knob.window) if knob.window else None for knob in found.knobs
    }
    remarks = {one.key: one.remark for one in (*found.knobs, *found.choices)}
    return {"windows": windows, "remarks": remarks}
