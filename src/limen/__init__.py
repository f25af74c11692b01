"""Plan, prove and keep the sensors of automatic sliding doors.

    import limen

    site = limen.load_site("site.toml")
    study = limen.study(site.door("main"), "en")

Names come in when they are first used, so that `import limen` stays light.
"""

import sys
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from limen.desk.checking import study, study_site
    from limen.desk.sites import load_site
    from limen.findings import Finding, Study, Verdict

__all__ = ["Finding", "Study", "Verdict", "load_site", "study", "study_site"]

_HOMES = {
    "Finding": "limen.findings",
    "Study": "limen.findings",
    "Verdict": "limen.findings",
    "load_site": "limen.desk.sites",
    "study_site": "limen.desk.checking",
}


def __getattr__(name: str) -> object:
    """Bring in a public name when it is first asked for."""
    if name == "study":
        import_module("limen.desk")  # says where compiled kernels are kept
        return import_module("limen.study")
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found = getattr(import_module(_HOMES[name]), name)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    """The public names, brought in or not."""
    return sorted({*globals(), *__all__})


class _StudyPackage(ModuleType):
    """The package `limen.study`, which can be called: ``limen.study(doorway)``.

    The verb and the package share a name, and importing the package puts it in
    the verb's place; so the package answers to both.
    """

    def __call__(self, *args: object, **kwargs: object) -> object:
        """Study one doorway; see `limen.desk.checking.study`."""
        return import_module("limen.desk.checking").study(*args, **kwargs)


class _Limen(ModuleType):
    """The package itself, which sees its parts being put in place."""

    def __setattr__(self, name: str, value: object) -> None:
        """Keep what is put in; make the package `study` callable."""
        if name == "study" and isinstance(value, ModuleType):
            value.__class__ = _StudyPackage
        super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Limen
