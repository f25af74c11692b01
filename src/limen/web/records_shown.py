"""Records as pages show them: whether a visit can be sealed, and what was."""

import os
from collections.abc import Mapping
from functools import partial
from typing import TYPE_CHECKING, Any, cast

from limen.desk.keys import PASSPHRASE_FILE
from limen.desk.library import Desk
from limen.desk.record_keeping import keys_there, records_of
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.words import say

if TYPE_CHECKING:
    from jinja2 import Environment

GROUP = 4


def know_records(pages: "Environment", desk: Desk) -> None:
    """Let templates ask about records, wherever they include them."""
    common = cast("dict[str, object]", pages.globals)  # pyright: ignore[reportUnknownMemberType]
    common |= {
        "sealing_here": partial(sealing_of, desk),
        "records_here": partial(records_shown, desk),
        "record_shown": record_shown,
    }


def sealing_of(desk: Desk) -> Mapping[str, Any]:
    """Whether this desk can seal: who would, what is asked for, or what to do first."""
    try:
        there = keys_there(desk)
    except Refusal as refusal:
        return {"ready": False, "lines": list(refusal.lines)}
    own = there.device
    if own is None:
        told = {"folder": str(there.folder)}
        return {"ready": False, "lines": [_say("keys.begin", **told)]}
    mine = [one for one in there.devices if one.here and one.withdrawn is None]
    if not mine:
        told = {"key": own.public, "name": own.name}
        return {"ready": False, "lines": [_say("keys.not_vouched", **told)]}
    by = {"device": mine[0].name, "firm": mine[0].firm_name}
    asks = not os.environ.get(PASSPHRASE_FILE)
    return {"ready": True, "by": _say("page.by", **by), "asks": asks}


def records_shown(desk: Desk, site_id: str, door: str | None) -> list[dict[str, Any]]:
    """The records of a doorway or a site, the last first."""
    return [record_shown(one) for one in records_of(desk, site_id, door)]


def record_shown(one: Any) -> dict[str, Any]:  # noqa: ANN401 - a row of the library
    """One record: its number, its digest, where its files are."""
    return {
        "number": one.number,
        "doorway": one.doorway,
        "day": one.kept[:10],
        "digest": " ".join(
            one.digest[at : at + GROUP] for at in range(0, len(one.digest), GROUP)
        ),
        "json": f"/sites/{one.site}/records/{one.digest}.json",
        "pdf": f"/sites/{one.site}/records/{one.digest}.pdf" if one.paper else "",
        "visit": one.visit,
    }


def _say(key: str, /, **values: str) -> str:
    return say(Message(f"record.{key}", values))
