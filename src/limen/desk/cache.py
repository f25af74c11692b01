"""Where compiled kernels are kept: in the user's cache, never beside the code."""

import os
import tempfile
from collections.abc import Mapping
from hashlib import sha256
from importlib.resources import files
from pathlib import Path

_VARIABLE = "NUMBA_CACHE_DIR"


def cache_folder(environ: Mapping[str, str]) -> Path:
    """The folder for what limen can compute again.

    Args:
        environ: the environment; XDG_CACHE_HOME and HOME are read.

    Returns:
        A folder that can be written to: the user's cache, else a folder of the
        user's own among the temporary files.
    """
    stated = environ.get("XDG_CACHE_HOME", "")
    home = environ.get("HOME", "")
    places = [Path(stated)] if Path(stated).is_absolute() else []
    places += [Path(home) / ".cache"] if Path(home).is_absolute() else []
    for place in places:
        if _can_write(place / "limen"):
            return place / "limen"
    return Path(tempfile.gettempdir()) / f"limen-{_user()}"


def weather_cache() -> Path:
    """The folder for years of weather that were read before."""
    return cache_folder(os.environ) / "weather"


def use_cache() -> None:
    """Point the compiler at the cache, unless the user has pointed it elsewhere.

    The folder is named after the kernels' own text: the compiler looks only at the
    file of the function that it starts from, and must never take old code for new.
    """
    if _VARIABLE not in os.environ:
        name = f"kernels-{_fingerprint()}"
        os.environ[_VARIABLE] = str(cache_folder(os.environ) / name)


def _fingerprint() -> str:
    """What tells these kernels from those of another version."""
    digest = sha256()
    for kernel in sorted(
        files("limen.physics").joinpath("coverage").iterdir(), key=str
    ):
        if kernel.name.startswith("kernel") and kernel.name.endswith(".py"):
            digest.update(kernel.read_bytes())
    return digest.hexdigest()[:12]


def _can_write(folder: Path) -> bool:
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError:
        return False
    return os.access(folder, os.W_OK | os.X_OK)


def _user() -> str:
    """A number of the user's own, where the system has one."""
    return str(os.getuid()) if hasattr(os, "getuid") else "user"
