"""The channels of one doorway, all others left as they are set: every way tried."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builders.chains import beside, door, on_channels
from limen.model.doorway import Doorway
from limen.physics.channels import cost
from limen.questions.channels import layout, units_of
from limen.tune.scales import turned_all
from limen.tune.sharing import shared_out

HERE = "b"
CHANNEL = st.sampled_from((1, 2, 3))


def in_a_row(channels: tuple[int, ...]) -> tuple[Doorway, ...]:
    """Three doorways in one wall, near enough to disturb each other."""
    doors = (
        door("a", beside("b", "2100 mm")),
        door("b", beside("c", "2100 mm")),
        door("c"),
    )
    pairs = zip(channels[::2], channels[1::2], strict=True)
    return tuple(on_channels(one, pair) for one, pair in zip(doors, pairs, strict=True))


@settings(max_examples=25)
@given(st.tuples(*[CHANNEL] * 6))
def test_no_other_channels_of_its_units_do_less_harm_with_fewer_changes(
    channels: tuple[int, ...],
) -> None:
    """Then with fewer channels in use."""
    doors = in_a_row(channels)
    here = next(one for one in doors if one.id == HERE)
    done = turned_all(here, shared_out(here, doors))
    units = units_of(layout(doors))
    own = [n for n, seat in enumerate(layout(doors).seats) if seat.name[0] == HERE]

    def key(some: tuple[int | None, ...]) -> tuple[int, int, int]:
        every = list(units.now)
        for n, channel in zip(own, some, strict=True):
            every[n] = channel
        return cost(units, every)[:3]

    found = key(tuple(one.settings.channel for one in done.fitting))
    ways = product(*(units.choices[n] for n in own))
    assert found == min(key(way) for way in ways)


@pytest.mark.parametrize("site", [True, False])
def test_a_doorway_that_disturbs_nobody_keeps_its_channels(site: bool) -> None:
    """With the site at hand, or without."""
    doors = in_a_row((1, 2, 3, 1, 2, 3))
    alone = on_channels(door("d"), (1, 2))
    assert not shared_out(alone, (*doors, alone) if site else ())
