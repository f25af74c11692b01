"""Directions, circles and names of modules."""

import sys
from typing import Any, cast

from health.importing import circle, imported, outsiders
from health.tree import CORE, module_name, parsed, project, room, rooms, short, sources

UNTELLING = {"util", "utils", "helper", "helpers", "common", "base", "manager", "misc"}
OUTPUTS = {"draw", "report", "exchange", "words"}
RIMS = {"cli", "web"}
MAY_VALIDATE = {"model", "store", "record", "desk", "cli", "web"}


def _graph() -> dict[str, frozenset[str]]:
    known = frozenset(module_name(path) for path in sources())
    return {module_name(path): imported(parsed(path), known) for path in sources()}


def _contracts() -> dict[str, dict[str, Any]]:
    tool = cast("dict[str, Any]", project()["tool"])
    return {each["id"]: each for each in tool["importlinter"]["contracts"]}


def _named(contract: str, key: str = "source_modules") -> set[str]:
    return {name.removeprefix("limen.") for name in _contracts()[contract][key]}


def test_no_module_imports_itself_by_a_detour() -> None:
    assert circle(_graph()) == []


def test_every_module_is_named_for_what_it_holds() -> None:
    untelling = [
        short(path)
        for path in sources()
        if UNTELLING & {path.stem, path.parent.name, path.stem.strip("_")}
    ]
    assert untelling == []


def test_the_contract_of_purity_covers_the_whole_core() -> None:
    assert set(CORE) & rooms() == _named("pure")


def test_the_contract_of_outputs_covers_every_output() -> None:
    assert rooms() & OUTPUTS == _named("outputs")


def test_the_contract_of_rims_covers_every_rim() -> None:
    assert rooms() & RIMS == _named("rims")


def test_validation_is_kept_to_where_files_and_forms_come_in() -> None:
    assert rooms() - MAY_VALIDATE == _named("pydantic")


def test_a_rim_is_refused_every_room_where_work_is_done() -> None:
    asks_only = {"desk", "findings", "model", "quantity", *OUTPUTS, *RIMS}
    assert rooms() - asks_only == _named("rims", "forbidden_modules")


def test_only_what_the_project_declares_is_imported() -> None:
    """Else limen would start on our machines alone."""
    table = cast("dict[str, Any]", project()["project"])
    extras = [one for extra in table["optional-dependencies"].values() for one in extra]
    declared = {
        entry.split(">")[0].replace("-", "_")
        for entry in [*table["dependencies"], *extras]
    }
    ours = {"limen", *sys.stdlib_module_names, *declared}
    strangers = {
        (short(path), name)
        for path in sources()
        for name in outsiders(parsed(path)) - ours
    }
    assert strangers == set()


def test_nothing_below_the_desk_reads_a_clock_or_a_die() -> None:
    """`store` may know dates that it is given, never the time of day."""
    chancy = {"time", "random", "secrets", "socket", "uuid"}
    found = {
        (short(path), name)
        for path in sources()
        if room(path) not in {"desk", *RIMS}
        for name in outsiders(parsed(path)) & chancy
    }
    assert found == set()
