"""Sites of a library as a whole: added, copied, renamed, put away."""

import re
import unicodedata
from collections.abc import Collection
from importlib.resources import files
from typing import Literal

from limen.desk.library import Desk, read_text
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.store.database import Clash, Stored
from limen.store.editing import EditError, set_value
from limen.store.faults import Fault, FileFaults
from limen.store.reading import decode
from limen.store.short_full import full_text
from limen.words import retold, say

DemoState = Literal["as-found", "corrected"]
_LONGEST_NAME = 200


def import_text(desk: Desk, data: bytes | str, name: str = "") -> Stored:
    """Keep a site from the text of a site file, every byte as it came.

    Args:
        desk: the desk.
        data: the file.
        name: what it was called, for the message.

    Raises:
        FileFaults: everything that is wrong with it; nothing is kept.
    """
    said = name or say(Message("desk.typed"))
    text = decode(data.encode() if isinstance(data, str) else data, name=said)
    file, _ = read_text(desk, text, said)
    return desk.library.add(file.site.name, text)


def export_text(
    desk: Desk, site_id: str, number: int | None = None
) -> tuple[str, bytes]:
    """File name and bytes of a site, as they are kept, or as a version was.

    Raises:
        NoSuchSiteError: there is no such site or version.
    """
    stored = desk.library.read(site_id)
    name = file_name(stored.name)
    if number is None:
        return f"{name}.toml", stored.text.encode()
    text = desk.library.text(site_id, number)
    return f"{name}-version-{number}.toml", text.encode()


def add_demo(desk: Desk, state: DemoState) -> Stored:
    """Keep a copy of the invented building under a name that says its state."""
    source = files("limen").joinpath("demo", f"alder-quay-{state}.toml")
    text = source.read_bytes().decode()
    file, _ = read_text(desk, text, source.name)
    said = say(Message(f"desk.demo.{state}", {"name": file.site.name}))
    name = _free(said, {one.name for one in desk.library.sites()})
    return desk.library.add(name, _named(text, name))


def save_text(
    desk: Desk, site_id: str, data: bytes | str, base_version: int
) -> Stored | Clash:
    """Keep a new text of a site, unless somebody else has kept one since.

    Raises:
        NoSuchSiteError: there is no such site.
        FileFaults: everything that is wrong with the text; nothing is kept.
    """
    stored = desk.library.read(site_id)
    raw = data.encode() if isinstance(data, str) else data
    text = decode(raw, name=stored.name)
    if stored.version != base_version and text != stored.text:
        return Clash(text, base_version, stored)
    file, _ = read_text(desk, text, stored.name)
    return desk.library.save(site_id, text, base_version, file.site.name)


def copy(desk: Desk, site_id: str) -> Stored:
    """Keep a copy of a site under a name that says so.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: its text cannot be given another name.
    """
    stored = desk.library.read(site_id)
    taken = {one.name for one in desk.library.sites()}
    name = _free(say(Message("desk.copy_of", {"name": stored.name})), taken)
    return desk.library.add(name, _named(stored.text, name))


def rename(
    desk: Desk, site_id: str, name: str, base_version: int | None = None
) -> Stored | Clash:
    """Give a site another name: a change of its text, which can be undone.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: this can be no name.
        FileFaults: the text with this name is not accepted.
    """
    wanted = name.strip()
    if not wanted or len(wanted) > _LONGEST_NAME or not wanted.isprintable():
        raise Refusal([say(Message("desk.refused.name"))])
    stored = desk.library.read(site_id)
    base = base_version if base_version is not None else stored.version
    text = _named(stored.text, wanted)
    read_text(desk, text, stored.name)
    return desk.library.save(site_id, text, base, wanted)


def write_in_full(desk: Desk, site_id: str, base_version: int) -> Stored | Clash:
    """Write a site's short forms in full, so that every value can be changed.

    Raises:
        NoSuchSiteError: there is no such site.
        FileFaults: there is no short form, or the text cannot be read.
    """
    stored = desk.library.read(site_id)
    text = full_text(stored.text, desk.sheets.parent / f"{file_name(stored.name)}.toml")
    read_text(desk, text, stored.name)
    return desk.library.save(site_id, text, base_version)


def step(
    desk: Desk, site_id: str, way: Literal["undo", "redo"], base_version: int | None
) -> Stored | Clash:
    """Bring the text before this one back, or the one that came after it.

    Raises:
        NoSuchSiteError: there is no such site.
        NothingToUndoError: there is no such text.
    """
    base = base_version
    if base is None:
        base = desk.library.read(site_id).version
    move = desk.library.undo if way == "undo" else desk.library.redo
    return move(site_id, base)


def put_away(desk: Desk, site_id: str, *, archived: bool) -> Stored:
    """Put a site away, or take it out again; nothing of it is lost.

    Raises:
        NoSuchSiteError: there is no such site.
    """
    return desk.library.put_away(site_id, archived=archived)


def fault_lines(faults: FileFaults) -> tuple[tuple[int | None, str], ...]:
    """Line and words of each fault, as a page lists them."""
    return tuple((one.line, _fault_words(one)) for one in faults.faults)


# Names and words ---------------------------------------------------------------


def _named(text: str, name: str) -> str:
    try:
        return set_value(text, ("name",), name)
    except EditError as error:
        raise Refusal([str(error)]) from error


def _free(name: str, taken: Collection[str]) -> str:
    """The name, with a number behind it if another site has it already."""
    number, wanted = 1, name
    while wanted in taken:
        number += 1
        wanted = f"{name} {number}"
    return wanted


def file_name(name: str) -> str:
    """A name as a file may be called."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:60] or "site"


def _fault_words(fault: Fault) -> str:
    """A fault in one paragraph: where, why, what stands there, what is accepted."""
    place = f"{fault.key}: " if fault.key else ""
    rest = [
        say(Message(f"desk.fault.{name}", {"what": text}))
        for name, text in (
            ("found", fault.found),
            ("accepted", retold(fault.accepted)),
            ("example", fault.example),
        )
        if text
    ]
    return " ".join((f"{place}{retold(fault.why)}.", *rest))
