"""Every fact of a doorway can be set from a form, and taken back."""

import tomllib
from datetime import date
from importlib.resources import files
from pathlib import Path

import pytest

from limen.desk.fact_edits import FactFaults, set_facts, take_out
from limen.desk.facts import Fact, Way, every_fact, facts_of, told_of, way_of
from limen.desk.library import Clash, Desk, open_desk, open_site
from limen.desk.library_sites import import_text
from limen.desk.refusal import Refusal

WHOLE = files("limen").joinpath("demo", "alder-quay-as-found.toml").read_text("utf-8")
FACING = WHOLE[WHOLE.index("[[doorway.facing]]") :].split("\n\n", 1)[0]
DEMO = WHOLE.partition("# --- The inner door")[0].replace(FACING, "")
"""The main entrance alone."""


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return open_desk(tmp_path / "library.db", today=lambda: date(2026, 11, 25))


def _facts(desk: Desk, site: str) -> dict[str, Fact]:
    parts = facts_of(desk, open_site(desk, site), "main")
    return {one.key: one for one in every_fact(parts)}


def _sample(fact: Fact) -> list[str]:
    """Something that a form may send for a fact."""
    told = fact.told
    if told.kind in ("choice", "choices"):
        return [told.choices[-1]]
    if told.kind == "flag":
        return ["true"]
    if fact.offered:
        return [fact.offered[0]]
    return [told.example.strip('[]"')]


def _tried(desk: Desk, site: str, fact: Fact) -> None:
    """Set one fact; what is refused is refused at its field, or names another key."""
    before = desk.library.read(site)
    sample = _sample(fact)
    refused: FactFaults | None = None
    kept = None
    try:
        kept = set_facts(desk, site, "main", {fact.key: sample}, before.version)
    except FactFaults as faults:
        refused = faults
    if refused is not None or kept is None:
        assert refused is not None
        assert refused.by_key or refused.others
        assert desk.library.read(site).text == before.text
        return
    assert not isinstance(kept, Clash)
    stored, _ = kept
    assert list(_facts(desk, site)[fact.key].values) == sample
    old, new = (
        tomllib.loads(text)["doorway"][0] for text in (before.text, stored.text)
    )
    assert _without(old, fact.way) == _without(new, fact.way)


def _without(door: dict[str, object], way: Way) -> object:
    """A doorway without one fact, and without tables that this leaves empty."""
    head, *rest = way
    if isinstance(door, list):
        return [
            _without(one, tuple(rest)) if n == head and rest else one  # pyright: ignore[reportArgumentType]
            for n, one in enumerate(door)
        ]
    kept = {key: one for key, one in door.items() if key != head}
    if rest and head in door:
        inner = _without(door[head], tuple(rest))  # pyright: ignore[reportArgumentType]
        if inner:
            kept[str(head)] = inner
    return kept


QUICK = (
    "clear_width",
    "commissioned",
    "modes",
    "leaves.planes",
    "motion.opening_runs",
    "operator.inputs.0.fails_to",
    "fitting.0.settings.rows_on",
    "fitting.0.mount.plumb",
    "fitting.1.wires.1.test_enabled",
    "marking.signs",
    "use.escape_from",
    "thing.0.moves",
)


@pytest.mark.parametrize("key", QUICK)
def test_a_fact_of_each_kind_is_set(desk: Desk, key: str) -> None:
    site = import_text(desk, DEMO).id
    _tried(desk, site, _facts(desk, site)[key])


@pytest.mark.slow
def test_every_fact_is_set_or_refused_with_a_reason(desk: Desk) -> None:
    site = import_text(desk, DEMO).id
    keys = [key for key in _facts(desk, site) if key != "id"]  # that is its address
    assert len(keys) > 200
    for key in keys:
        _tried(desk, import_text(desk, DEMO).id, _facts(desk, site)[key])


def test_what_is_set_as_it_stands_makes_no_version(desk: Desk) -> None:
    site = import_text(desk, DEMO).id
    every = {
        one.key: ("\n" if one.told.kind == "texts" else "; ").join(one.values)
        for one in _facts(desk, site).values()
        if one.told.kind != "choices"
    }
    typed = {key: [text] for key, text in every.items()}
    kept = set_facts(desk, site, "main", typed, 1)
    assert not isinstance(kept, Clash)
    assert kept[0].version == 1


def test_a_part_that_is_needed_is_not_taken_out(desk: Desk) -> None:
    site = import_text(desk, DEMO).id
    with pytest.raises(FactFaults):
        take_out(desk, site, "main", "leaves", 1)
    for key in ("nothing", "thing.9", "leaves.nothing", ""):
        with pytest.raises(Refusal):
            take_out(desk, site, "main", key, 1)
    assert desk.library.read(site).text == DEMO


def test_a_table_that_loses_its_last_fact_goes_too(desk: Desk) -> None:
    site = import_text(desk, DEMO).id
    facts = {"fitting.0.mount.plumb": ["0.5 deg"]}
    set_facts(desk, site, "main", facts, 1)
    set_facts(desk, site, "main", {"fitting.0.mount.plumb": [""]}, 2)
    assert desk.library.read(site).text == DEMO


def test_a_key_is_told_by_its_way() -> None:
    assert way_of("fitting.0.lens.height") == ("fitting", 0, "lens", "height")
    assert told_of("fitting.0.lens.height") is not None
    assert told_of("fitting.0.lens") is None
    assert told_of("fitting.x") is None
