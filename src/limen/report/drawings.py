"""The drawings of a doorway, for paper: larger type, white ground."""

from collections.abc import Iterator, Mapping

from limen.draw import Scene, View, lay_out, scene, write_sheet
from limen.draw.themes import PAPER
from limen.exchange.groups import groups
from limen.findings import Finding, Role, Verdict
from limen.report.contents import Contents, Part
from limen.report.tongue import Plain

ADVICE = "advice"
MOST_FURTHER = 2
_WORTH = {Role.WITNESS, Role.FIELD, Role.WALK, Role.LATE}

VIEWS: tuple[View, ...] = ("plan", "section", "front")

WIDTHS: Mapping[str, int] = {"plan": 800, "section": 640, "front": 270, "more": 350}
"""Pixels a drawing is laid out for: the fewer, the larger its words on paper."""

_WHITE = {PAPER["paper"]: "#FFFFFF", PAPER["inside"]: "#F4F2EC"}


def drawings(part: Part, contents: Contents) -> tuple[list[Plain], dict[str, bytes]]:
    """Plan, section and front of a doorway, and a small plan a further finding.

    Returns:
        What the page needs to know of each (file, title, words for those who do
        not see it), and the files by name.
    """
    said: list[Plain] = []
    files: dict[str, bytes] = {}
    for kind, view, finding in _wanted(part):
        drawn = scene(
            part.study,
            view,
            finding=finding,
            language=contents.language,
            system=contents.system,
        )
        name = f"{part.study.doorway.id}-{len(files)}.svg"
        sheet = lay_out(drawn, WIDTHS[kind])
        files[name] = _on_white(write_sheet(sheet)).encode()
        words = {"kind": kind, "key": plan_key(finding) if finding else ""}
        ratio = sheet.height / sheet.width
        said.append({**_said(drawn, name), **words, "ratio": ratio})
    return said, files


def _wanted(part: Part) -> Iterator[tuple[str, View, Finding | None]]:
    for view in VIEWS:
        yield view, view, part.shown
    for finding in further(part):
        yield "more", "plan", finding


def further(part: Part) -> list[Finding]:
    """Further faults that a small plan shows best: one a topic, the first few.

    Things that stand about are on every plan already, and advice is no fault.
    """
    topics = {_topic(part.shown)} if part.shown else set[str]()
    found: list[Finding] = []
    for group in groups(part.study.of(Verdict.FAILS), every=False):
        one = group.worst
        drawn = _WORTH & {figure.role for figure in one.figures}
        if one.weight != ADVICE and drawn and _topic(one) not in topics:
            topics.add(_topic(one))
            found.append(one)
    return found[:MOST_FURTHER]


def _topic(finding: Finding) -> str:
    return finding.question.partition(".")[0]


def plan_key(finding: Finding) -> str:
    """By what a finding's words find its small plan."""
    return f"{finding.question} {finding.weight}"


def _said(drawn: Scene, name: str) -> Plain:
    words = f"{drawn.title}. {drawn.description} {drawn.note}"
    return {"file": name, "words": words}


def _on_white(text: str) -> str:
    """The drawing without the tint that stands for paper on a screen."""
    for tint, white in _WHITE.items():
        text = text.replace(tint, white)
    return text
