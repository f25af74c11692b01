"""The channels of a site: planned, and written into its text as one version."""

from pathlib import Path
from typing import TYPE_CHECKING

from limen.desk.library import read_text
from limen.desk.library_edits import edited_text
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.words import say

if TYPE_CHECKING:
    from collections.abc import Callable

    from limen.desk.library import Clash, Desk, Opened, Stored
    from limen.findings.channels import ChannelPlan
    from limen.physics.channels import First


def planned(
    path: str | Path,
    *,
    fewest_channels: bool = False,
    told: "Callable[[int, int], None] | None" = None,
) -> "ChannelPlan":
    """The channels of a site file.

    Args:
        path: the site file.
        fewest_channels: whether fewer channels count before fewer changes.
        told: how far it is: units done, and of how many.

    Raises:
        Refusal: the file cannot be used.
    """
    from limen.desk.sites import load_site
    from limen.tune.channels_plan import channel_plan

    first = _first(fewest_channels=fewest_channels)
    return channel_plan(load_site(path), first=first, told=told)


def plan_of(opened: "Opened", *, fewest_channels: bool = False) -> "ChannelPlan":
    """The channels of a site that is kept."""
    from limen.tune.channels_plan import channel_plan

    first = _first(fewest_channels=fewest_channels)
    return channel_plan(opened.site, first=first)


def _first(*, fewest_channels: bool) -> "First":
    return "channels" if fewest_channels else "changes"


def set_channels(
    desk: "Desk", opened: "Opened", base_version: int, *, fewest_channels: bool = False
) -> "Stored | Clash":
    """Write the channels of the plan into the site's text, all as one version.

    Args:
        desk: the desk.
        opened: the site.
        base_version: the version whose plan was seen.
        fewest_channels: which plan it was.

    Returns:
        The site as it is kept now; a `Clash` with both texts where somebody else
        has saved since.

    Raises:
        Refusal: nothing is to be changed, or a doorway is written in the short form.
        FileFaults: the text is not accepted; nothing is saved.
    """
    from limen.tune.channels_plan import channel_plan

    stored = opened.stored
    text = desk.library.text(stored.id, base_version)
    site = read_text(desk, text, stored.name)[0].site
    first = _first(fewest_channels=fewest_channels)
    changes = channel_plan(site, first=first).changes
    if not changes:
        raise Refusal([say(Message("channels.refused.none"))])
    for door in dict.fromkeys(one.doorway for one in changes):
        edits = {
            f"fitting[{one.fitting}].settings.channel": str(one.channel)
            for one in changes
            if one.doorway == door
        }
        raw = read_text(desk, text, stored.name)[1]
        text = edited_text(text, raw, door, edits)
    read_text(desk, text, stored.name)
    return desk.library.save(stored.id, text, base_version)
