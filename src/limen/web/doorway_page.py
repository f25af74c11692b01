"""The doorway page put together: what was found, drawn and set, as it is sent."""

from dataclasses import asdict, dataclass, replace

from jinja2 import Environment

from limen.desk.due_known import KnownStudy
from limen.desk.library import Opened, Stored
from limen.findings import Finding, Message, Study
from limen.quantity import Show
from limen.web.doorway_drawn import PANES, VIEWS, Drawing, Pane, drawing, to_draw
from limen.web.doorway_knobs import UnitSettings, lands, unit_settings
from limen.web.doorway_lines import found, id_of, line, next_thing, sections
from limen.web.doorway_ranges import Held, ranged
from limen.web.doorway_walk import walk_shown
from limen.web.due_beside import beside, due_values
from limen.web.look import Look
from limen.words import reading, say

WIDTH = 1000  # px, before the page has said how wide it is


@dataclass(frozen=True, slots=True)
class Asked:
    """What a page wants to see.

    Attributes:
        view: which drawing.
        finding: the finding drawn, by its name; None for the first to mend.
        unit: the unit whose settings are shown.
        width: of the drawing (px).
    """

    view: Pane = "plan"
    finding: str | None = None
    unit: str | None = None
    width: int = WIDTH


@dataclass(frozen=True, slots=True)
class Pages:
    """Templates and the reader's choices.

    Attributes:
        templates: all of them.
        look: how the reader wants the page.
    """

    templates: Environment
    look: Look

    def fill(self, name: str, **values: object) -> str:
        """A template filled in."""
        template = self.templates.get_template(name)
        return template.render(look=self.look, language=reading(), **values)


def whole_page(
    pages: Pages,
    opened: Opened,
    known: KnownStudy,
    asked: Asked,
    held: Held,
    *,
    turned: bool = True,
) -> str:
    """The page as it is first sent, readable without a script.

    Args:
        pages: templates and the reader's choices.
        opened: the site.
        known: the study of the doorway, with what is known of its next check.
        asked: what is shown.
        held: the ranges that were computed, by scale.
        turned: whether settings can be turned; those of a short form cannot.
    """
    study = known.study
    shown = _finding(study, asked)
    system = pages.look.system
    drawn = [
        drawing(study, view, shown, asked.width, system, turned=pages.look.turned)
        for view in VIEWS
    ]
    if not turned:
        drawn = [replace(one, grips=()) for one in drawn]
    unit = unit_of(study, asked.unit)
    return pages.fill(
        "doorway.html",
        stored=opened.stored,
        site=opened.site,
        door=study.doorway,
        study=study,
        address=f"/sites/{opened.stored.id}/doorways/{study.doorway.id}",
        view=asked.view,
        views=[(view, say(Message(f"doorway_page.view.{view}"))) for view in PANES],
        drawings=drawn,
        drawn=id_of(shown) if shown else "",
        walk=walk_shown(shown),
        next=next_thing(study, system),
        sections=sections(study, system),
        due_beside=beside(known, opened.stored.id),
        named_units=[(one.id, _unit_name(one.id)) for one in study.doorway.fitting],
        turned=turned,
        unit=unit,
        settings=_settings(study, unit, held, system) if unit else None,
    )


def rested(
    pages: Pages,
    stored: Stored,
    known: KnownStudy,
    asked: Asked,
    held: Held,
    *,
    turned: bool = True,
) -> dict[str, object]:
    """All that changes in the page once a setting rests.

    Args:
        pages: templates and the reader's choices.
        stored: the site as it is kept.
        known: the study of the doorway, with what is known of its next check.
        asked: what is shown.
        held: the ranges that were computed, by scale.
        turned: whether settings can be turned.
    """
    study = known.study
    shown = _finding(study, asked)
    system, unit = pages.look.system, unit_of(study, asked.unit)
    settings = _settings(study, unit, held, system) if unit else None
    address = f"/sites/{stored.id}/doorways/{study.doorway.id}"
    drawn = id_of(shown) if shown else ""
    parts = {
        "address": address,
        "drawn": drawn,
        "view": asked.view,
        "unit": unit,
        "turned": turned,
        "next": next_thing(study, system),
        "due_beside": beside(known, stored.id),
    }
    return {
        **_drawn(
            drawing(
                study, asked.view, shown, asked.width, system, turned=pages.look.turned
            )
        ),
        "drawn": drawn,
        "walk": walk_shown(shown),
        "next_html": pages.fill("doorway_next.html", **parts),
        "findings_html": pages.fill(
            "doorway_findings.html", sections=sections(study, system), **parts
        ),
        "settings_html": pages.fill("doorway_settings.html", settings=settings)
        if settings
        else "",
        "knobs": _knobs(settings),
        "choices": {c.key: c.value for c in settings.choices} if settings else {},
        "reads": reads(study, pages.look),
        "due": due_values(known, stored.id),
        **kept_as(stored),
    }


def kept_as(stored: Stored) -> dict[str, object]:
    """What the page must know of the text that is kept now."""
    return {
        "version": stored.version,
        "can_undo": stored.can_undo,
        "can_redo": stored.can_redo,
    }


def moving(pages: Pages, glimpse: Study, asked: Asked) -> dict[str, object]:
    """What changes in the page while a setting is turned.

    Only what the glimpse asks is drawn: a witness of before may be none any more.

    Args:
        pages: templates and the reader's choices.
        glimpse: rows, and findings of the glimpsed questions.
        asked: what is shown.
    """
    system = pages.look.system
    shown = to_draw(glimpse, found(glimpse, asked.finding) or _field(glimpse))
    lines = {
        one.id: {"verdict": one.verdict, "word": one.word, "because": one.because}
        for one in (line(finding, system) for finding in glimpse.findings)
    }
    return {
        **_drawn(
            drawing(
                glimpse,
                asked.view,
                shown,
                asked.width,
                system,
                turned=pages.look.turned,
            )
        ),
        "lines": lines,
        "reads": reads(glimpse, pages.look),
    }


def _field(glimpse: Study) -> Finding | None:
    """The field of a radar that is being turned."""
    fields = (f for f in glimpse.findings if f.question == "approach.slow_walker")
    named = {one.question for one in fields}
    zone = (f for f in glimpse.findings if f.question == "approach.minimum_zone")
    return next((one for one in zone if one.figures), None) if named else None


def reads(study: Study, look: Look) -> dict[str, str]:
    """By unit, where its first row lands, in words."""
    return {
        unit.fitting: lands(study, unit.fitting, look.system) for unit in study.units
    }


def _settings(study: Study, unit: str, held: Held, system: Show) -> UnitSettings:
    return ranged(unit_settings(study, unit, system), held, system)


def _unit_name(fitting: str) -> str:
    return say(Message("doorway_page.unit", {"fitting": fitting}))


def unit_of(study: Study, wanted: str | None) -> str | None:
    """The unit whose settings are shown: the one asked for, else the first."""
    there = [one.id for one in study.doorway.fitting]
    if wanted in there:
        return wanted
    return there[0] if there else None


def _finding(study: Study, asked: Asked) -> Finding | None:
    return to_draw(study, found(study, asked.finding))


def _drawn(one: Drawing) -> dict[str, object]:
    return {
        "view": one.view,
        "svg": one.svg,
        "says": one.says,
        "per_metre": one.per_metre,
        "grips": [asdict(grip) for grip in one.grips],
        "space": one.space,
    }


def _knobs(settings: UnitSettings | None) -> dict[str, object]:
    return {knob.key: asdict(knob) for knob in settings.knobs} if settings else {}
