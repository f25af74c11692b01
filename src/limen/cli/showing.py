"""What `limen demo` prints."""

from typing import TYPE_CHECKING

from limen.cli.checking import doorway_lines, footer, headline
from limen.cli.lines import EMPTY, Ink, Line, Piece, columns, line, wrapped
from limen.cli.paper import paper
from limen.cli.table import Style, table
from limen.exchange import Tally, tally, together
from limen.findings import Finding, Message, Study, Verdict
from limen.findings.message import length
from limen.quantity import Show
from limen.words import say

if TYPE_CHECKING:
    from limen.desk.showing import Demo

SIDES = ("left", "right")


def demo(shown: "Demo", units: str) -> int:
    """Print the demo: as found in full, what to try, as corrected in brief."""
    page = paper()
    style = Style(page.width, Show(units))
    page.put([*_found(shown, style), EMPTY, *_corrected(shown, style)])
    page.put([EMPTY, *_next(shown)])
    return 0


def _found(shown: "Demo", style: Style) -> list[Line]:
    first, *others = shown.found.studies
    intro = Message("demo.intro", {"site": shown.found.site.name})
    return [
        *_said(intro, style),
        EMPTY,
        *doorway_lines(first, style),
        *_head(tally(first.findings), style),
        EMPTY,
        *table(first.findings, style),
        EMPTY,
        *_try(shown, style),
        EMPTY,
        line(say(Message("demo.others")), Ink.STRONG),
        *_one_line_each(others, style),
    ]


def _try(shown: "Demo", style: Style) -> list[Line]:
    """The first witness in three sentences: where it fails, what mends it, and then."""
    first = shown.witness
    if first is None:
        return []
    lines = _said(_place(first), style, Ink.STRONG)
    if first.remedy:
        lines += _said(first.remedy.message, style, Ink.STRONG)
    return [*lines, *_put_back(first, shown, style)]


def _put_back(first: Finding, shown: "Demo", style: Style) -> list[Line]:
    """What comes of the same place once it is corrected."""
    after = shown.corrected.studies[0].findings
    same = next((one for one in after if one.key == first.key), None)
    if same is None or same.verdict is not Verdict.HOLDS or same.margin is None:
        return []
    values = {"margin": length(same.margin.least)}
    return _said(Message("demo.put_back", values), style, Ink.STRONG)


def _place(finding: Finding) -> Message:
    """Where the test body goes, from what a tape can touch."""
    witness = finding.witness
    if witness is None or witness.pose is None:
        return finding.because
    posts = {side: witness.printed[f"centre_from_{side}_post"] for side in SIDES}
    post, far = min(posts.items(), key=lambda one: (one[1] < 0, one[1]))
    leaf = witness.printed["centre_from_leaf_middle"]
    values = {
        "face": witness.pose.face,
        "far": length(far),
        "post": Message(f"side.{post}"),
        "leaf": length(abs(leaf)),
    }
    key = "demo.place" if round(leaf, 3) else "demo.place_on_line"
    return Message(key, values)


def _corrected(shown: "Demo", style: Style) -> list[Line]:
    head = say(Message("demo.corrected"))
    return [
        line(head, Ink.STRONG),
        *_head(together(shown.corrected.studies), style),
        *_one_line_each(shown.corrected.studies, style),
        EMPTY,
        *footer(shown.corrected, style),
    ]


def _one_line_each(
    studies: "list[Study] | tuple[Study, ...]", style: Style
) -> list[Line]:
    """Each doorway with its counts."""
    rows = [
        (Piece(study.doorway.id), Piece(headline(tally(study.findings))))
        for study in studies
    ]
    return [one for row in columns(rows, style.width, ((1, 20),)) for one in row]


def _next(shown: "Demo") -> list[Line]:
    """What to type next, with the files that are there now."""
    found, folder = shown.files[0], shown.drawings[0].parent
    lines = [line(say(Message("demo.next_head")), Ink.STRONG)]
    for key, values in (
        ("demo.next_check", {"file": str(found)}),
        ("demo.next_explain", {"file": str(found)}),
        ("demo.next_report", {"file": str(shown.reports[0])}),
        ("demo.next_drawings", {"folder": str(folder)}),
        ("demo.next_new", {}),
    ):
        lines += wrapped(say(Message(key, dict(values))), None, indent=2)
    return lines


def _said(message: Message, style: Style, ink: Ink = Ink.PLAIN) -> list[Line]:
    return wrapped(style.say(message), style.width, ink=ink)


def _head(counts: Tally, style: Style) -> list[Line]:
    return wrapped(headline(counts), style.width, ink=Ink.STRONG)
