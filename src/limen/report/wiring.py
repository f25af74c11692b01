"""The terminal plan on paper: one page a doorway, with a column to check off."""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from importlib.resources import files
from pathlib import Path

from limen.draw.themes import PAPER
from limen.draw.wires import WirePicture, draw_wires, height_of
from limen.findings import Finding, Measure, Message, Study, Verdict
from limen.findings.wires import ToSet, Try, WirePlan
from limen.report.contents import PaperName
from limen.report.pdf import PAPERS, ReportError, said_error
from limen.report.tongue import Plain, Tongue
from limen.words import unbroken, visible
from limen.words.wiring import (
    route_of,
    said_numbers,
    said_setting,
    said_try,
    shared,
    word_of,
    wrong,
)

_HERE = files("limen.report")
_PARTS = ("look",)
WIDTH = 900.0
"""px for which the plan is laid out."""
STANDARD = "a-2b"
"""It holds every letter, so that one that no font has is refused and not left out."""
_WHITE = {PAPER["paper"]: "#FFFFFF"}


@dataclass(frozen=True, slots=True)
class WireSheet:
    """A doorway and its plan.

    Attributes:
        study: of the doorway.
        plan: its wiring.
    """

    study: Study
    plan: WirePlan


def wiring_pdf(
    sheets: Iterable[WireSheet],
    *,
    site: str,
    on: date,
    paper: PaperName,
    tongue: Tongue,
) -> bytes:
    """Set terminal plans as one PDF, a page a doorway.

    Args:
        sheets: doorways with their plans.
        site: the building.
        on: the day as of which they hold.
        paper: the size of the pages.
        tongue: the reader's language and units.

    Raises:
        ReportError: a character of the site file is in none of the fonts.
    """
    drawn: dict[str, bytes] = {}
    pages: list[Plain] = []
    for one in sheets:
        name = f"wires-{len(pages)}.svg"
        picture = WirePicture(
            one.study.doorway, one.plan, tongue.system, tongue.language
        )
        drawing = draw_wires(picture, WIDTH)
        drawn[name] = _on_white(drawing).encode()
        high = {"drawing": name, "ratio": height_of(drawing) / WIDTH}
        pages.append({**_page(one, site, tongue), **high})
    words = ("paper.wire", "paper.setting", "paper.now", "paper.done", "paper.try")
    fixed = (*words, "paper.must", "paper.done_by", "wrong.title", "look.title")
    values: Plain = {
        "words": {one.partition(".")[2]: _word(one, tongue) for one in fixed}
        | {"looks": _word("look.title", tongue), "wrong": _word("wrong.title", tongue)}
        | {"of": _word("paper.of", tongue), "manual": _word("manual", tongue)},
        "inks": dict(PAPER),
        "language": tongue.language,
        "paper": PAPERS[paper][0],
        "day": [on.year, on.month, on.day],
        "as_of": tongue.day(on),
        "title": tongue.say(Message("desk_wiring.paper.site", {"site": site})),
        "pages": pages,
    }
    return _set(values, drawn, on, tongue)


def _on_white(svg: str) -> str:
    for shade, white in _WHITE.items():
        svg = svg.replace(shade, white)
    return svg


def _word(key: str, tongue: Tongue, **values: str | int | Measure | Message) -> str:
    return tongue.say(Message(f"desk_wiring.{key}", dict(values)))


# A page ------------------------------------------------------------------------


def _page(one: WireSheet, site: str, tongue: Tongue) -> Plain:
    door = one.study.doorway
    return {
        "title": _word("doorway", tongue, name=door.name),
        "says": visible(site),
        "route": _word(f"route.{route_of(door)}", tongue),
        "wrong": list(_wrong(one, tongue)),
        "settings": [_setting(one.plan, each, tongue) for each in one.plan.to_set],
        "tries": [_try(each, tongue) for each in one.plan.tries],
        "notes": list(_notes(one.plan, tongue)),
        "looks": [tongue.say(each.message) for each in one.plan.look_up],
    }


def _wrong(one: WireSheet, tongue: Tongue) -> Iterator[Plain]:
    for numbers, finding in wrong(one.plan):
        yield {
            "wires": said_numbers(numbers),
            "because": tongue.say(finding.because),
            "do": _remedy(finding, tongue),
        }


def _remedy(finding: Finding, tongue: Tongue) -> str:
    return tongue.say(finding.remedy.message) if finding.remedy else ""


def _setting(plan: WirePlan, one: ToSet, tongue: Tongue) -> Plain:
    return {
        "wires": said_numbers(one.wires),
        "what": said_setting(plan, one),
        "kind": mark_of(one.verdict),
        "word": _word(f"set.{word_of(one.verdict)}", tongue),
    }


def mark_of(verdict: Verdict) -> str:
    """The mark of a verdict as the pages name it."""
    return "unshown" if verdict is Verdict.NOT_SHOWN else verdict.value


def _try(one: Try, tongue: Tongue) -> Plain:
    do, must = said_try(one, tongue.system)
    fails = one.verdict is Verdict.FAILS
    return {
        "wires": said_numbers(one.wires),
        "do": do,
        "must": must,
        "note": _word("try.fails", tongue) if fails else "",
    }


def _notes(plan: WirePlan, tongue: Tongue) -> Iterator[str]:
    yield _word("try.what", tongue)
    if any(one.signal == "presence" for one in plan.wires):
        yield _word("try.test_note", tongue)
    for name in shared(plan):
        yield _word("try.share_note", tongue, input=name)


def _set(values: Plain, drawn: dict[str, bytes], on: date, tongue: Tongue) -> bytes:
    import typst

    pages = _HERE.joinpath("pages")
    inputs = {f"{one}.typ": pages.joinpath(f"{one}.typ").read_bytes() for one in _PARTS}
    inputs["main"] = pages.joinpath("wiring.typ").read_bytes()
    inputs["data.json"] = unbroken(json.dumps(values, ensure_ascii=False)).encode()
    try:
        return typst.compile(
            inputs | drawn,  # pyright: ignore[reportArgumentType]  # its stub knows no files
            format="pdf",
            pdf_standards=[STANDARD],
            ignore_system_fonts=True,
            font_paths=[Path(str(_HERE.joinpath("fonts")))],
            timestamp=datetime.combine(on, time(), UTC),
        )
    except typst.TypstError as error:
        raise ReportError(said_error(str(error), tongue)) from error
