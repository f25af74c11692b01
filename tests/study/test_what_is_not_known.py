"""Leaving a figure out, or only estimating it, never makes a study better.

Every optional figure of the reference doorway, of its fittings and of their sheet is
left out in turn; every figure is turned into an estimate in turn.
"""

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

import pytest
from pydantic import ValidationError

from builders import doorways
from builders.doorways import a_doorway
from limen.findings import Finding, Verdict
from limen.model.doorway import Doorway
from limen.study import study
from questions.asking import RANK, Key, book, musts

Path = tuple[str, ...]
ASSUMED_BY_RULE = ("aim.", "angle_error", "evenness", "sway", "along")
"""Where nobody stated it, common practice is taken, listed, and to be confirmed."""
BY_CHANNEL = (("presence.neighbours", None, "outside and inside"),)
"""The units work on different channels: that holds wherever their light is."""
BY_ITS_OWN_DOUBT = ("coverage.not_shown.tolerance", "self_view.not_shown")
"""Nothing is missing: the margin lies within what aiming leaves open."""
SAYS_MORE = {
    "side_space[left]", "side_space[right]", "fitting[outside]", "fitting[inside]",
}  # fmt: skip


def _paths(table: Mapping[str, Any], at: str = "") -> Iterator[tuple[str, object]]:
    """Every key of a table by its way, elements by id or side."""
    for key, value in table.items():
        way = f"{at}.{key}" if at else key
        if isinstance(value, Mapping):
            yield way, value
            yield from _paths(value, way)
        elif isinstance(value, list) and value and isinstance(value[0], Mapping):
            for each in value:
                name = each.get("id") or each.get("side")
                if name:
                    yield f"{way}[{name}]", each
                    yield from _paths(each, f"{way}[{name}]")
        else:
            yield way, value


@cache
def everything() -> dict[str, object]:
    """Every figure of the reference doorway and, as ``sheet.…``, of its sheet."""
    door = doorways._parsed("rulebooks/reference_doorway.toml")["doorway"][0]
    sheet = doorways._parsed("sheets/reference-two-row.toml")
    return {
        **dict(_paths(door)),
        **{f"sheet.{way}": value for way, value in _paths(sheet)},
    }


def _without(way: str) -> Doorway | None:
    try:
        return a_doorway({way: None})
    except (ValidationError, KeyError):
        return None  # it cannot be left out


LEFT_OUT = sorted(way for way in everything() if _without(way) is not None)
FIGURES = sorted(
    way
    for way, value in everything().items()
    if isinstance(value, str)
    and value[0] in "-0123456789"
    and not way.startswith("sheet.motion")
)


def some_fast(ways: list[str], every: int) -> list[Any]:
    """All of them, most of them slow."""
    return [
        pytest.param(way, marks=[pytest.mark.slow] if n % every else [])
        for n, way in enumerate(ways)
    ]


@cache
def before() -> dict[Key, Finding]:
    return musts(study(a_doorway(), book()))


def test_much_can_be_left_out() -> None:
    assert len(LEFT_OUT) > 60
    assert len(FIGURES) > 60


@pytest.mark.parametrize("way", some_fast(LEFT_OUT, 8))
def test_what_is_left_out_never_makes_a_finding_better(way: str) -> None:
    doorway = _without(way)
    assert doorway
    after = musts(study(doorway, book()))
    if way in SAYS_MORE or way.endswith(("rows_on", "planes")):
        return  # less of the door is there to be asked about
    for key, was in before().items():
        if key not in after:
            assert was.fitting or was.case, key
            continue
        now = after[key]
        assert RANK[now.verdict] <= RANK[was.verdict] or _switched(was, now), key
        if now.verdict is Verdict.NOT_SHOWN and was.verdict is Verdict.HOLDS:
            assert now.lacking or now.because.key in BY_ITS_OWN_DOUBT, key


def _switched(was: Finding, now: Finding) -> bool:
    return was.verdict is Verdict.NOT_ASKED and now.verdict is Verdict.NOT_SHOWN


@pytest.mark.parametrize("way", some_fast(FIGURES, 12))
def test_a_finding_that_hangs_on_an_estimate_never_holds(way: str) -> None:
    """A figure decides if a finding's margin moves with it."""
    value = str(everything()[way])
    estimated = musts(study(a_doorway({way: f"{value}, estimate"}), book("us", "2005")))
    moved = _moved(way, value)
    if moved is None:
        return
    for key, now in estimated.items():
        other = moved.get(key)
        if other is None or now.verdict is not Verdict.HOLDS or key in BY_CHANNEL:
            continue
        assert _margin(now) == pytest.approx(_margin(other), abs=4e-3), (way, key)


def _moved(way: str, value: str) -> dict[Key, Finding] | None:
    """The study with another estimate of the figure; None if there can be none."""
    number, _, unit = value.partition(" ")
    for share in (1.3, 0.7):
        changed = float(number) * share + (0.1 if unit == "deg" else 0.0)
        try:
            doorway = a_doorway({way: f"{changed:.6g} {unit}, estimate"})
            return musts(study(doorway, book("us", "2005")))
        except (ValidationError, ValueError):
            continue
    return None


def _margin(finding: Finding) -> float:
    return finding.margin.value if finding.margin else 0.0
