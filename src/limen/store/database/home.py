"""Where a person's sites are kept."""

from collections.abc import Mapping
from pathlib import Path

VARIABLE = "LIMEN_HOME"


class NoHomeError(LookupError):
    """Nothing says where a person's data belongs."""


def data_home(environ: Mapping[str, str], platform: str) -> Path:
    """The folder for what a person keeps with limen.

    Args:
        environ: the environment.
        platform: as `sys.platform` names it.

    Returns:
        ``LIMEN_HOME`` if it is set, else the platform's own folder for a user's
        data; it need not exist.

    Raises:
        NoHomeError: neither ``LIMEN_HOME`` nor a home folder is named.
    """
    own = environ.get(VARIABLE, "")
    if own:
        return Path(own).absolute()
    for name, below in _PLACES.get(platform, _ELSEWHERE):
        stated = environ.get(name, "")
        if Path(stated).is_absolute():
            return Path(stated).joinpath(*below)
    raise NoHomeError(f"no folder for your sites; set {VARIABLE} to one")


_Place = tuple[str, tuple[str, ...]]

_ELSEWHERE: tuple[_Place, ...] = (
    ("XDG_DATA_HOME", ("limen",)),
    ("HOME", (".local", "share", "limen")),
)
_PLACES: Mapping[str, tuple[_Place, ...]] = {
    "win32": (("LOCALAPPDATA", ("limen",)), ("APPDATA", ("limen",))),
    "darwin": (("HOME", ("Library", "Application Support", "limen")),),
}
