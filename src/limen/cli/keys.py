"""`limen keys …`: a firm's key, its devices, and what others handed out."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from limen.cli import examples
from limen.cli.guard import guarded
from limen.cli.options import InLanguage, commands

if TYPE_CHECKING:
    from limen.cli.lines import Line
    from limen.desk.keys import Ring, Vouched
    from limen.findings import Message

keys_app = commands(
    "keys",
    "Keys that seal records: the firm’s, and one for each device.",
    epilog=examples.KEYS_EXAMPLES,
)
MACHINE = "desk"

Name = Annotated[str | None, typer.Option(metavar="NAME", help="What it is called.")]
Device = Annotated[
    str, typer.Argument(metavar="DEVICE", help="Its name, or first digits of its key.")
]


@keys_app.command(epilog=examples.KEYS_NEW_EXAMPLES)
@guarded
def new(
    firm: Annotated[
        str | None,
        typer.Option(metavar="NAME", help="Your firm; none if its key is elsewhere."),
    ] = None,
    device: Annotated[
        str, typer.Option(metavar="NAME", help="What this machine is called.")
    ] = MACHINE,
    language: InLanguage = "en",
) -> int:
    """Make the firm’s key and that of this machine; one that is there stays."""
    from limen.desk import keys
    from limen.desk.key_files import PUBLIC, key_folder

    _read_in(language)
    folder = key_folder()
    if firm is None:
        there = keys.begin_device(folder, device, asked_twice)
        own = there.device
        digits = own.public if own else ""
        _tell("begun_device", device=device)
        typer.echo(digits)
        _tell("next_vouch", key=digits, device=device)
        return 0
    keys.begin(folder, firm, device, asked_twice)
    _tell("begun", device=device, firm=firm)
    _tell("hand_out", file=str(folder / PUBLIC))
    _tell("copy", folder=str(folder))
    return 0


@keys_app.command("list")
@guarded
def list_(language: InLanguage = "en") -> int:
    """List the keys that lie here, whom the firm answers for, and who is known."""
    from limen.cli.paper import paper
    from limen.desk.key_files import key_folder
    from limen.desk.keys import ring

    _read_in(language)
    page = paper()
    page.put(_listed(ring(key_folder()), page.width))
    return 0


@keys_app.command(epilog=examples.KEYS_VOUCH_EXAMPLES)
@guarded
def vouch(
    key: Annotated[
        str,
        typer.Argument(metavar="KEY", help="Public half, 64 digits, as it shows it."),
    ],
    name: Annotated[str, typer.Option(metavar="NAME", help="What it is called.")],
    language: InLanguage = "en",
) -> int:
    """Let the firm answer for a device: a phone, or a desk elsewhere."""
    from limen.desk import keys
    from limen.desk.key_files import key_folder

    _read_in(language)
    file = keys.vouch(key_folder(), key, name, asked)
    _tell("vouched", device=name, file=str(file))
    return 0


@keys_app.command()
@guarded
def rotate(name: Name = None, language: InLanguage = "en") -> int:
    """Give this machine a new key; what the old one sealed stays as it was."""
    from limen.desk import keys
    from limen.desk.key_files import key_folder

    _read_in(language)
    there = keys.rotate(key_folder(), name, asked)
    own = there.device
    if own is None:  # pragma: no cover - it was laid there just now
        return 0
    _tell("rotated", device=own.name)
    if not any(one.here for one in there.devices):
        typer.echo(own.public)
        _tell("next_vouch", key=own.public, device=own.name)
    return 0


@keys_app.command(epilog=examples.KEYS_WITHDRAW_EXAMPLES)
@guarded
def withdraw(
    device: Device,
    because: Annotated[
        str, typer.Option(metavar="WHY", help="Lost, stolen, given away, out of use.")
    ],
    language: InLanguage = "en",
) -> int:
    """Let the firm no longer answer for a device that was lost or given away."""
    from limen.desk import keys
    from limen.desk.key_files import key_folder

    _read_in(language)
    file = keys.take_back(key_folder(), device, because, asked)
    _tell("withdrawn", device=device, file=str(file))
    return 0


@keys_app.command("take-in")
@guarded
def take_in(
    files: Annotated[
        list[Path],
        typer.Argument(metavar="FILE…", help="As a firm handed them out."),
    ],
    language: InLanguage = "en",
) -> int:
    """Take in what a firm handed out: its key, a certificate, a withdrawal."""
    from limen.desk import keys
    from limen.desk.key_files import Named, key_folder

    _read_in(language)
    for file in files:
        taken = keys.take_in(key_folder(), file)
        if isinstance(taken, keys.Vouched):
            _tell_device(taken)
        elif isinstance(taken, Named):
            key = "known" if taken.name else "known_unnamed"
            _tell(key, firm=taken.name, key=_grouped(taken.public))
        else:
            _tell("device_unnamed", key=_grouped(taken))
    return 0


# Asking -------------------------------------------------------------------------


def asked(what: "Message") -> str:
    """Ask at the terminal; what is typed is not shown.

    Raises:
        Refusal: nobody is there to be asked.
    """
    from limen.desk.refusal import Refusal
    from limen.findings import Message
    from limen.words import say

    if not sys.stdin.isatty():
        raise Refusal([say(Message("record.keys.no_terminal"))])
    from getpass import getpass

    return getpass(f"{say(what)}: ")


def asked_twice(what: "Message") -> str:
    """Ask for a new passphrase until the same was typed twice.

    Raises:
        Refusal: nobody is there to be asked.
    """
    from limen.findings import Message
    from limen.words import say

    while True:
        first = asked(what)
        if first == asked(Message("record.keys.ask.again")):
            return first
        typer.echo(say(Message("record.keys.ask.differ")), err=True)


# Telling ------------------------------------------------------------------------


def _tell(key: str, /, **values: str) -> None:
    from limen.findings import Message
    from limen.words import say

    typer.echo(say(Message(f"record.keys.told.{key}", values)))


def _tell_device(one: "Vouched") -> None:
    day = (one.withdrawn or one.since).isoformat()
    key = "device_back" if one.withdrawn else "device"
    told = {"device": one.name, "firm": one.firm_name, "day": day}
    _tell(key, **told, **({"because": one.because} if one.withdrawn else {}))


def _listed(there: "Ring", width: int | None) -> "list[Line]":
    """Firm, device, devices and known firms, each under its head."""
    from limen.cli.lines import EMPTY, wrapped

    firm, own = there.firm, there.device
    lines = [*_head("firm"), *_key_line(firm.name, firm.public)] if firm else []
    lines = lines or wrapped(_word("no_firm"), width)
    mine = [one for one in there.devices if one.here]
    if own:
        lines += [EMPTY, *_head("device"), *_key_line(own.name, own.public)]
        lines += [] if mine else wrapped(_word("unvouched"), width, indent=4)
    else:
        lines += [EMPTY, *wrapped(_word("no_device"), width)]
    if there.devices:
        lines += [EMPTY, *_head("devices")]
        lines += [each for one in there.devices for each in _device_lines(one)]
    others = [one for one in there.known if one != firm]
    if others:
        lines += [EMPTY, *_head("known")]
        lines += [each for one in others for each in _key_line(one.name, one.public)]
    return [*lines, EMPTY, *wrapped(_word("folder", folder=str(there.folder)), width)]


def _device_lines(one: "Vouched") -> "list[Line]":
    from limen.cli.lines import Ink, wrapped

    said = [_word("since", day=one.since.isoformat())]
    if one.here:
        said.append(_word("here"))
    gone = one.withdrawn
    if gone:
        back = _word("withdrawn", day=gone.isoformat(), because=one.because)
        said.append(back)
    ink = Ink.FAILS if gone else Ink.PLAIN
    title = f"{one.name} · {one.firm_name} · {'; '.join(said)}"
    quiet = wrapped(_grouped(one.public), None, indent=4, ink=Ink.QUIET)
    return [*wrapped(title, None, indent=2, ink=ink), *quiet]


def _key_line(name: str, public: str) -> "list[Line]":
    from limen.cli.lines import Ink, wrapped

    quiet = wrapped(_grouped(public), None, indent=4, ink=Ink.QUIET)
    return [*wrapped(name or "–", None, indent=2), *quiet]


def _head(key: str) -> "list[Line]":
    from limen.cli.lines import Ink, wrapped

    return wrapped(_word(key), None, ink=Ink.STRONG)


def _word(key: str, /, **values: str) -> str:
    from limen.findings import Message
    from limen.words import say

    return say(Message(f"record.keys.list.{key}", values))


def _grouped(public: str) -> str:
    return " ".join(public[at : at + 4] for at in range(0, len(public), 4))


def _read_in(language: str) -> None:
    from limen.words import read_in

    read_in(language)
