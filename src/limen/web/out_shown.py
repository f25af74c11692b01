"""What a page says of the files that can be taken along, and of work on them."""

from typing import Any

from limen.desk.jobs import Job
from limen.desk.library import Desk, Opened, study_of
from limen.draw import View
from limen.quantity import Show
from limen.web.doorway_lines import found
from limen.words import say_question

VIEWS: tuple[View, ...] = ("plan", "front", "section")


def out_of(
    desk: Desk, opened: Opened, doorway: str, finding: str, system: Show
) -> dict[str, Any]:
    """What the page of files shows.

    Args:
        desk: the desk.
        opened: the site.
        doorway: the doorway that one came from; empty from the site.
        finding: the finding that was looked at there.
        system: the reader's units.

    Raises:
        Refusal: there is no such doorway.
    """
    door = opened.doorway(doorway) if doorway else None
    chosen = found(study_of(desk, opened, door.id), finding) if door else None
    return {
        "site": opened.stored,
        "doors": [(one.id, one.name) for one in opened.site.doorway],
        "door": door,
        "views": VIEWS,
        "finding": finding if chosen else "",
        "finding_name": say_question(chosen.question) if chosen else "",
        "units": "feet" if system is Show.FEET else "metric",
    }


def job_shape(job: Job) -> dict[str, Any]:
    """How far a piece of work is, for programs."""
    return {
        "id": job.id,
        "site": job.site,
        "state": job.state,
        "percent": job.percent,
        "doing": job.doing,
        "lines": list(job.lines),
        "name": job.made.name if job.made else None,
        "file": f"/jobs/{job.id}/file" if job.made else None,
    }
