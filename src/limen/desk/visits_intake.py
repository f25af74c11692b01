"""Events that come in from a card: read, kept once each, answered when on the disk."""

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, partial
from typing import TYPE_CHECKING, Any, cast, get_args

from limen.desk.library import Desk, NoSuchSiteError
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.model.visited import gaps
from limen.record.canonical import NotCanonicalError, Plain, canonical
from limen.store.database.visits import Clash, ToKeep, id_under, keep_events, seqs_of
from limen.words import retold, say

if TYPE_CHECKING:
    from limen.model.visit import Event, Tapped

MOST_EVENTS = 500
"""Events of one batch."""
MOST_BYTES = 300_000
"""Of one event: a signature of many strokes, and room to spare."""
MOST_GAPS = 200
"""Runs of missing numbers that are listed."""


@dataclass(frozen=True, slots=True)
class DeviceKept:
    """What is kept of a device.

    Attributes:
        device: which.
        kept: all its events up to this number are kept; 0 if the first is not.
        id: that of the event numbered `kept`: a device whose own event of this number
            has another one began from a copy, and is to send everything.
        highest: the highest number of an event that is kept; 0 if there is none.
        missing: runs of numbers below it that are not, first and last.
    """

    device: str
    kept: int
    id: str | None
    highest: int
    missing: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Bad:
    """The first event of a batch that cannot be taken in; none after it was looked at.

    Attributes:
        place: its place in the batch, from 0.
        seq: its number, where it says one.
        lines: what is wrong, where, and what is accepted.
    """

    place: int
    seq: int | None
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Intake:
    """What became of a batch; what it says is kept is on the disk.

    Attributes:
        new: how many events are kept that were not before.
        again: how many were kept already.
        clashes: those refused because their number, id or visit is taken; they are
            kept beside the visit and shown there.
        devices: what is kept now of each device that the batch speaks of.
        bad: the event at which it stopped.
    """

    new: int
    again: int
    clashes: tuple[Clash, ...]
    devices: tuple[DeviceKept, ...]
    bad: Bad | None


class _Unusable(Exception):  # noqa: N818 - says what is wrong with one event
    def __init__(self, lines: tuple[str, ...]) -> None:
        super().__init__("\n".join(lines))
        self.lines = lines


def take_in(desk: Desk, sent: bytes) -> Intake:
    """Keep a batch of events up to the first that cannot be used.

    Args:
        desk: the desk.
        sent: JSON, ``{"events": […]}``.

    Raises:
        Refusal: it is no such batch; nothing is kept.
        NotKeptError: the disk takes nothing; nothing is kept.
    """
    batch: list[ToKeep] = []
    bad: Bad | None = None
    here = cache(partial(_is_here, desk))
    for place, raw in enumerate(_batch(sent)):
        try:
            batch.append(_to_keep(raw, here))
        except _Unusable as fault:
            bad = Bad(place, _seq(raw), fault.lines)
            break
    done = keep_events(desk.library, batch)
    names = dict.fromkeys(one.device for one in batch)
    devices = tuple(device_kept(desk, name) for name in names)
    return Intake(done.new, done.again, done.clashes, devices, bad)


def device_kept(desk: Desk, device: str) -> DeviceKept:
    """What is kept of a device: from where on it is to send."""
    numbers = seqs_of(desk.library, device)
    runs = gaps((0, *numbers))
    highest = numbers[-1] if numbers else 0
    kept = runs[0][0] - 1 if runs else highest
    id_ = id_under(desk.library, device, kept)
    return DeviceKept(device, kept, id_, highest, runs[:MOST_GAPS])


def read_event(text: str) -> "Event":
    """An event from its text, which was checked when it was kept."""
    kind = cast("str", json.loads(text)["kind"])
    return cast("Event", _kinds()[kind].model_validate_json(text))


def _to_keep(raw: object, here: Callable[[str], bool]) -> ToKeep:
    """An event as it is to be kept.

    Args:
        raw: what was sent.
        here: whether a site is kept here.

    Raises:
        _Unusable: it says something that an event cannot say.
        NotKeptError: the disk cannot be read.
    """
    if not isinstance(raw, dict):
        raise _unusable("table")
    text = _text(cast("Plain", raw))
    event = _read(cast("dict[str, Any]", raw), text)
    if not here(event.site):
        raise _unusable("site", site=event.site)
    return ToKeep(
        event.id,
        event.device,
        event.seq,
        event.visit,
        event.site,
        event.doorway,
        event.kind,
        text,
    )


def _is_here(desk: Desk, site: str) -> bool:
    try:
        desk.library.read(site)
    except NoSuchSiteError:
        return False
    return True


def _batch(sent: bytes) -> list[object]:
    try:
        said: object = json.loads(sent)
    except (ValueError, RecursionError):
        raise Refusal([say(Message("visits.refused.json"))]) from None
    events = _asked(said, "events")
    if not isinstance(events, list):
        raise Refusal([say(Message("visits.refused.batch"))])
    listed = cast("list[object]", events)
    if not 0 < len(listed) <= MOST_EVENTS:
        values = {"count": len(listed), "most": MOST_EVENTS}
        raise Refusal([say(Message("visits.refused.count", values))])
    return listed


def _seq(raw: object) -> int | None:
    seq = _asked(raw, "seq")
    return seq if isinstance(seq, int) and not isinstance(seq, bool) else None


def _asked(table: object, key: str) -> object:
    """What a table says under a key; None if it is no table or does not say it."""
    if not isinstance(table, dict):
        return None
    return cast("Mapping[str, object]", table).get(key)


def _text(raw: Plain) -> str:
    try:
        text = canonical(raw)
    except NotCanonicalError:
        raise _unusable("text") from None
    if len(text) > MOST_BYTES:
        raise _unusable("long", most=MOST_BYTES // 1000)
    return text.decode()


def _read(raw: dict[str, Any], text: str) -> "Event":
    from pydantic import ValidationError

    from limen.store.explaining import explain

    model = _kinds().get(str(raw.get("kind")))
    if model is None:
        raise _unusable("kind", kinds=", ".join(_kinds()))
    try:
        return cast("Event", model.model_validate_json(text))
    except ValidationError as error:
        faults = explain(error, model, raw, {})
        raise _Unusable(
            tuple(
                line
                for one in faults
                for line in _told(one.key, one.why, one.found, one.accepted)
            )
        ) from None


def _told(key: str, why: str, found: str, accepted: str) -> Iterator[str]:
    yield f"{key}: {retold(why)}" if key else retold(why)
    if found:
        yield say(Message("visits.refused.found", {"found": found}))
    if accepted:
        yield say(Message("visits.refused.accepted", {"accepted": retold(accepted)}))


def _unusable(key: str, **values: str | int) -> _Unusable:
    return _Unusable((say(Message(f"visits.refused.{key}", values)),))


@cache
def _kinds() -> "Mapping[str, type[Tapped]]":
    """The model of each kind of event."""
    from limen.model.visit import Event

    models = cast("tuple[type[Tapped], ...]", get_args(get_args(Event)[0]))
    return {get_args(one.model_fields["kind"].annotation)[0]: one for one in models}
