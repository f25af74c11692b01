"""What is said of a doorway between its visits: plan, move, refuse, call off, do.

Every verb keeps one event and gives back what the thing comes to with it.  Whoever
says it names what they had read: where somebody else has said something since, the
word is refused and nothing is kept, so that nobody answers what they have not read.
"""

from typing import cast
from uuid import uuid4

from limen.desk.ahead import agenda_of, read_between
from limen.desk.library import Desk
from limen.desk.spoken import At, Said, Voice, Word, door_there, event_of, keep_word
from limen.desk.visits import NoSuchVisitError, folded
from limen.model.agenda import FollowUp, Parts, Plan
from limen.store.database.keeping import events_about

Thing = Plan | FollowUp | Parts
TRIED = {
    Plan: {"moved", "refused", "called_off", "done", "undone"},
    FollowUp: {"moved", "called_off", "mended", "undone"},
    Parts: {"called_off", "fitted", "undone"},
}
"""By kind of thing what can be said of it."""
OPEN = {"planned", "open", "ordered"}
SECOND_TRY = {"refused": {"moved", "called_off", "done", "undone"}}
"""By state of a thing that is not open what can be said of it all the same."""


class NoSuchThingError(LookupError):
    """Nothing of this id is planned, owed or ordered at this doorway."""

    def __init__(self, about: str) -> None:
        """Say which."""
        super().__init__(f'nothing "{about}" is planned, owed or ordered here')
        self.about = about


VOICE = Voice(read_between, "life.refused", "life.field")


def plan(desk: Desk, at: At, said: Said, about: str | None = None) -> Plan:
    """Plan an attendance: ``day``, ``what``, and ``who``, ``note``, ``of``.

    Args:
        desk: the desk.
        at: where, and who says it.
        said: what `limen.model.between.Planned` takes, as JSON has it.
        about: id of the plan, where it was drawn before; the same plan again is
            kept once.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway, or a field is not accepted, and why.
    """
    return cast("Plan", _begun(desk, at, "planned", said, about))


def follow_up(desk: Desk, at: At, said: Said, about: str | None = None) -> FollowUp:
    """Say that something is left to be done: ``text``, and ``day``, ``visit``.

    Args:
        desk: the desk.
        at: where, and who says it.
        said: what `limen.model.between.Owed` takes, as JSON has it.
        about: its id, where it was drawn before.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway or visit, or a field is not accepted.
    """
    return cast("FollowUp", _begun(desk, at, "owed", said, about))


def part(
    desk: Desk, at: At, said: Said, *, fitted: bool = False, about: str | None = None
) -> Parts:
    """Say that a part was ordered, or fitted without an order.

    Args:
        desk: the desk.
        at: where, and who says it.
        said: what `limen.model.between.Part` takes, as JSON has it.
        fitted: whether it is in its place.
        about: its id, where it was drawn before.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway or visit, or a field is not accepted.
    """
    kind = "fitted" if fitted else "ordered"
    return cast("Parts", _begun(desk, at, kind, said, about))


def say_of(desk: Desk, at: At, about: str, kind: str, said: Said) -> Thing | None:
    """Say something of a thing: move, refuse, call off, do, mend, fit, take back.

    Args:
        desk: the desk.
        at: where, who says it, and what they had read.
        about: id of the thing.
        kind: ``moved``, ``refused``, ``called_off``, ``done``, ``mended``,
            ``fitted`` or ``undone``.
        said: what an event of this kind takes, as JSON has it.

    Returns:
        The thing with it; None where its beginning was taken back.

    Raises:
        NoSuchSiteError: there is no such site.
        NoSuchThingError: there is no such thing at this doorway.
        Refusal: it cannot be said of this thing as it stands, a field is not
            accepted, or somebody else has said something of it meanwhile.
    """
    thing = agenda_of(desk, at.site, at.doorway).thing(about)
    if thing is None:
        raise NoSuchThingError(about)
    if kind not in TRIED[type(thing)]:
        raise VOICE.refusal("kind")
    _timely(thing, kind, at)
    if kind == "undone":
        _in_it(thing, said)
    known = thing.words.seq if at.known is None else at.known
    _keep(desk, at, Word(about, known + 1, kind, said))
    return agenda_of(desk, at.site, at.doorway).thing(about)


def move(desk: Desk, at: At, about: str, said: Said) -> Thing | None:
    """Another day: ``day``, and ``who``, ``because``.  Raises as `say_of`."""
    return say_of(desk, at, about, "moved", said)


def refuse(desk: Desk, at: At, about: str, said: Said) -> Thing | None:
    """Somebody was not let in: ``by``, ``because``.  Raises as `say_of`."""
    return say_of(desk, at, about, "refused", said)


def call_off(desk: Desk, at: At, about: str, said: Said) -> Thing | None:
    """It is not needed: ``because`` if anybody says why.  Raises as `say_of`."""
    return say_of(desk, at, about, "called_off", said)


def done(desk: Desk, at: At, about: str, said: Said) -> Thing | None:
    """Somebody attended: ``visit``, or ``day`` and ``note``.  Raises as `say_of`."""
    return say_of(desk, at, about, "done", said)


def mend(desk: Desk, at: At, about: str, said: Said) -> Thing | None:
    """What was owed is done: ``visit``, ``note``.  Raises as `say_of`."""
    return say_of(desk, at, about, "mended", said)


def fit(desk: Desk, at: At, about: str, said: Said) -> Thing | None:
    """The part is in its place: what `part` takes.  Raises as `say_of`."""
    return say_of(desk, at, about, "fitted", said)


def take_back(desk: Desk, at: At, about: str, event: str) -> Thing | None:
    """Take an event back; it stays to be read.  Raises as `say_of`."""
    return say_of(desk, at, about, "undone", {"event": event})


# Checked -------------------------------------------------------------------------


def _timely(thing: Thing, kind: str, at: At) -> None:
    """Refuse what does not follow on what the thing has come to.

    Raises:
        Refusal: it does not.
    """
    if thing.state in OPEN or kind == "undone":
        return
    if kind in SECOND_TRY.get(thing.state, set()):
        return
    # Whoever has not read the last word is told of that, not of the state.
    read = at.known is None or at.known >= thing.words.seq
    raise VOICE.refusal("closed" if read else "meanwhile")


def _in_it(thing: Thing, said: Said) -> None:
    if said.get("event") not in {one.id for one in thing.words.standing}:
        raise VOICE.refusal("no_event")


def _begun(desk: Desk, at: At, kind: str, said: Said, about: str | None) -> Thing:
    door_there(desk, at)
    drawn = about or str(uuid4())
    there = events_about(desk.library, drawn)
    if any((one.site, one.doorway) != (at.site, at.doorway) for one in there):
        raise VOICE.refusal("meanwhile")
    _keep(desk, at, Word(drawn, 1, kind, said))
    thing = agenda_of(desk, at.site, at.doorway).thing(drawn)
    if thing is None:
        raise VOICE.refusal("meanwhile")
    return thing


def _visit_there(desk: Desk, at: At, visit: str) -> None:
    try:
        found = folded(desk, at.site, visit)
    except NoSuchVisitError:
        raise VOICE.refusal("no_visit") from None
    if found.doorway != at.doorway:
        raise VOICE.refusal("no_visit")


# Kept ----------------------------------------------------------------------------


def _keep(desk: Desk, at: At, word: Word) -> None:
    """Keep an event, unless another one took its place meanwhile."""
    event = event_of(at, word, VOICE)
    visit = event["said"].get("visit")
    if visit is not None:
        _visit_there(desk, at, visit)
    keep_word(desk, event, VOICE)
