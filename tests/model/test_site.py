"""What a site, a doorway, a fitting and a sheet may be, and may not."""

import json
from typing import Any, TypeVar

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from builders.doorways import a_doorway, a_site
from limen.model.doorway import Doorway
from limen.model.fields import Stated
from limen.model.sheet import Sheet, Turn
from limen.model.site import Site
from limen.quantity import Grade, Quantity

Model = TypeVar("Model", bound=Stated)


def _context(error: ValidationError) -> dict[str, Any]:
    (detail,) = error.errors()
    return dict(detail.get("ctx", {}))


def _read(model: type[Model], data: object) -> Model:
    """As a program hands it on: JSON, in which lists and days are as in a file."""
    return model.model_validate_json(json.dumps(data))


def _text(door: Doorway) -> dict[str, Any]:
    return door.model_dump(mode="json", exclude_none=True)


def test_what_is_written_out_reads_as_the_same() -> None:
    site = a_site()
    again = Site.model_validate_json(site.model_dump_json(exclude_none=True))
    bare = [
        fitting.model_copy(update={"unit": None}) for fitting in a_doorway().fitting
    ]
    (door,) = site.doorway
    assert again.doorway[0] == door.model_copy(update={"fitting": tuple(bare)})


def test_a_site_holds_nothing_that_changes() -> None:
    site = a_site()
    assert hash(site.doorway[0].clear_width) == hash(Quantity(2.0))
    with pytest.raises(ValidationError):
        site.name = "other"  # pyright: ignore[reportAttributeAccessIssue]


def test_a_site_finds_its_doorway_by_id() -> None:
    site = a_site()
    assert site.door("reference") == site.doorway[0]
    with pytest.raises(KeyError):
        site.door("nobody")


def test_what_is_left_out_is_unknown_and_not_nought() -> None:
    door = a_doorway(
        {
            "leaves.sway": None,
            "presence_ignored_below": None,
            "floor": None,
            "fitting[inside].settings.tilt": None,
        }
    )
    assert door.leaves.sway is None
    assert door.presence_ignored_below is None
    assert door.floor.evenness is None
    assert door.fitting[1].settings.tilt is None


def test_a_number_keeps_its_uncertainty_and_its_grade() -> None:
    door = a_doorway({"leaves.mass": "60 kg ± 5 kg, estimate"})
    assert door.leaves.mass == Quantity(60.0, 5.0, Grade.ESTIMATE)


def test_an_error_at_one_key_says_the_way_to_it() -> None:
    twice = _text(a_doorway())
    twice["side_space"][1]["side"] = "left"
    with pytest.raises(ValidationError) as caught:
        _read(Doorway, twice)
    assert _context(caught.value)["at"] == ("side_space", 1, "side")


def test_two_doorways_with_one_id_are_refused_at_the_second() -> None:
    door = _text(a_doorway())
    with pytest.raises(ValidationError) as caught:
        _read(Site, {"name": "x", "doorway": [door, door]})
    assert _context(caught.value)["at"] == ("doorway", 1, "id")


def test_a_doorway_faces_another_one_of_the_site() -> None:
    first, second = _text(a_doorway()), _text(a_doorway())
    first["facing"] = [{"doorway": "two", "side": "inside", "distance": "2 m"}]
    second["id"] = "two"
    site = _read(Site, {"name": "x", "doorway": [first, second]})
    assert site.doorway[0].facing[0].doorway == "two"
    with pytest.raises(ValidationError) as caught:
        _read(Site, {"name": "x", "doorway": [first]})
    assert _context(caught.value)["at"] == ("doorway", 0, "facing", 0, "doorway")


def test_the_sheet_is_hung_on_by_the_reader_and_never_by_a_file() -> None:
    door = _text(a_doorway())
    assert "unit" not in door["fitting"][0]
    door["fitting"][0]["unit"] = {"name": "x", "barrier": {}}
    with pytest.raises(ValidationError, match="not permitted"):
        _read(Doorway, door)


def test_a_sheet_without_any_sense_is_refused() -> None:
    with pytest.raises(ValidationError, match="no sense at all"):
        _read(Sheet, {"name": "x"})


@pytest.mark.parametrize("kind", ["bi-parting", "single"])
@pytest.mark.parametrize("hand", [None, "left", "right"])
def test_a_single_leaf_and_only_a_single_leaf_names_its_side(
    kind: str, hand: str | None
) -> None:
    def build() -> Doorway:
        hands = {} if hand is None else {"leaves.hand": hand}
        return a_doorway({"leaves.kind": kind, **hands})

    if (kind == "single") == (hand is not None):
        assert build().leaves.hand == hand
    else:
        with pytest.raises(ValidationError, match="names the side"):
            build()


def _mm(least: int, most: int) -> st.SearchStrategy[int]:
    return st.integers(least, most)


@given(width=_mm(500, 12_000), reduced=_mm(0, 13_000))
def test_a_reduced_width_is_narrower_than_the_door(width: int, reduced: int) -> None:
    def build() -> Doorway:
        return a_doorway(clear_width=f"{width} mm", reduced_width=f"{reduced} mm")

    if 100 <= reduced < width:
        assert build().reduced_width == Quantity(reduced / 1000)
    else:
        with pytest.raises(ValidationError):
            build()


@given(least=st.integers(-45, 45), most=st.integers(-45, 45))
def test_a_range_runs_from_least_to_most(least: int, most: int) -> None:
    data = {"least": f"{least} deg", "most": f"{most} deg"}
    if least <= most:
        turn = _read(Turn, data)
        assert turn.least.value <= turn.most.value
    else:
        with pytest.raises(ValidationError, match="backwards"):
            _read(Turn, data)


@pytest.mark.parametrize("value", [1800, 1.8, True, None, [], {}, "1800", "1,8 m"])
def test_a_length_is_a_text_with_its_unit_and_nothing_else(value: object) -> None:
    door = _text(a_doorway())
    door["clear_width"] = value
    with pytest.raises(ValidationError):
        _read(Doorway, door)


@given(st.floats(0.5, 12.0))
def test_a_length_within_its_span_comes_back_as_the_same_float(width: float) -> None:
    door = a_doorway(clear_width=f"{width!r} m")
    assert _read(Doorway, _text(door)).clear_width.value == width
