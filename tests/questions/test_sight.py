"""What light falls on besides people: the door's own parts, and other units' light."""

from typing import Any

import numpy as np
import pytest

from builders.doorways import a_doorway, a_site
from limen.findings import Verdict
from limen.model.doorway import Facing
from limen.questions import QUESTIONS
from limen.questions.asking import Asked, Met
from limen.questions.settled import settle
from limen.rules import Rule
from limen.study import apply
from questions.asking import ask, asked, book

SELF, NEAR = "presence.self_view", "presence.neighbours"
BOTH = ("outside", "inside")
SAME = {"fitting[inside].settings.channel": 1}
PAIR = "outside and inside"


def tilted(tilt: str) -> dict[str, object]:
    return {f"fitting[{side}].settings.tilt": tilt for side in BOTH}


@pytest.mark.parametrize(
    ("tilt", "verdict"),
    [
        ("-1.458 deg", Verdict.HOLDS),
        ("-2.4 deg", Verdict.NOT_SHOWN),
        ("-3 deg", Verdict.FAILS),
    ],
)
def test_light_clears_the_leaf_falls_on_it_or_is_too_close_to_tell(
    tilt: str, verdict: Verdict
) -> None:
    found = ask(SELF, tilted(tilt), fitting="outside")
    assert found.verdict is verdict
    assert found.because.key == f"self_view.{verdict.value.replace(' ', '_')}"
    assert found.margin
    room, error = found.margin.value, found.margin.u
    assert (room >= error) is (verdict is Verdict.HOLDS)
    assert (room < 0) is (verdict is Verdict.FAILS)


def test_the_room_is_that_of_the_lights_edge_on_the_floor() -> None:
    """Lens 140 mm out, row at 84 mm, 1 degree of light, leaf face 20 + 3 mm of sway."""
    found = ask(SELF, {"header.outside": "0 mm"}, fitting="outside")
    assert found.margin
    lean = np.arctan(-0.056 / 2.2)
    inner = 0.140 + 2.2 * np.tan(lean - np.radians(0.5) * 1.1)
    assert found.margin.value == pytest.approx(inner - 0.023, abs=1.5e-3)


def test_beside_the_lens_aiming_leaves_no_more_open_than_the_lens_itself() -> None:
    """Rows aimed within 30 mm on the floor are off by a twentieth of it up there.

    The tight place is at the header, 0.1 m below a lens at 2.2 m, or on the floor.
    """
    loose = {
        "fitting[outside].aim": {"across": "30 mm", "along": "5 mm"},
        **tilted("-0.8 deg"),
    }
    header = ask(SELF, loose, fitting="outside")
    floor = ask(SELF, {"header.outside": "0 mm", **loose}, fitting="outside")
    assert header.margin
    assert floor.margin
    assert header.margin.value < 0.03 < floor.margin.value
    assert header.margin.u < 0.01
    assert floor.margin.u >= 0.03
    assert header.verdict is Verdict.HOLDS


def test_a_header_below_the_lens_leaves_less_room() -> None:
    """20 mm in front of the header, 100 mm above its lower edge."""
    found = ask(SELF, fitting="outside")
    assert found.margin
    inner = 0.020 + 0.1 * np.tan(np.arctan(-0.056 / 2.2) - np.radians(0.5) * 1.1)
    assert found.margin.value == pytest.approx(inner, abs=1e-3)


def test_a_handle_takes_room() -> None:
    found = ask(SELF, {"leaves.handle_depth": "90 mm"}, fitting="inside")
    assert found.verdict is Verdict.FAILS


def test_the_remedy_turns_the_light_away_and_it_clears() -> None:
    doorway = a_doorway(tilted("-3 deg"))
    found = asked(SELF, doorway)
    for side in BOTH:
        remedy = found[side, None].remedy
        assert remedy
        assert remedy.changes
        doorway = apply(doorway, remedy.changes)
    assert {f.verdict for f in asked(SELF, doorway).values()} == {Verdict.HOLDS}


def test_light_of_unknown_width_is_not_shown() -> None:
    found = ask(SELF, {"sheet.presence.spot_divergence": None}, fitting="outside")
    assert found.verdict is Verdict.NOT_SHOWN
    assert [lack.key for lack in found.lacking] == ["sheet.presence.spot_divergence"]


def test_light_of_estimated_width_never_holds() -> None:
    changes = {"sheet.presence.spot_divergence": "1 deg, estimate"}
    found = ask(SELF, changes, fitting="outside")
    assert found.verdict is Verdict.NOT_SHOWN
    assert found.lacking


def test_a_unit_that_nobody_placed_is_not_shown() -> None:
    found = ask(SELF, {"fitting[outside].lens": None}, fitting="outside")
    assert found.verdict is Verdict.NOT_SHOWN
    assert [lack.message.key for lack in found.lacking] == ["lack.lens"]


@pytest.mark.parametrize(
    ("changes", "verdict", "because"),
    [
        ({}, Verdict.HOLDS, "neighbours.apart"),
        (SAME, Verdict.HOLDS, "neighbours.apart"),
        ({**SAME, "rows_at": "15 mm"}, Verdict.FAILS, "neighbours.same"),
        ({**SAME, "rows_at": "30 mm"}, Verdict.NOT_SHOWN, "neighbours.close"),
        ({"rows_at": "15 mm"}, Verdict.HOLDS, "neighbours.channels_differ"),
        (
            {"rows_at": "15 mm", "fitting[inside].settings.channel": None},
            Verdict.NOT_SHOWN,
            "neighbours.unknown",
        ),
        (
            {**SAME, "sheet.presence.spot_divergence": None},
            Verdict.NOT_SHOWN,
            "neighbours.light_unknown",
        ),
        (
            {"sheet.presence.spot_divergence": None},
            Verdict.HOLDS,
            "neighbours.channels_differ",
        ),
        (
            {**SAME, "fitting[inside].lens": None},
            Verdict.NOT_SHOWN,
            "neighbours.light_unknown",
        ),
        (
            {"fitting[inside].lens": None},
            Verdict.HOLDS,
            "neighbours.channels_differ",
        ),
    ],
)
def test_two_units_of_a_doorway(
    changes: dict[str, object], verdict: Verdict, because: str
) -> None:
    found = ask(NEAR, changes, case=PAIR)
    assert (found.verdict, found.because.key) == (verdict, because)


def test_estimated_places_do_not_hold_light_apart() -> None:
    changes = {**SAME, "fitting[inside].lens.height": "2200 mm, estimate"}
    found = ask(NEAR, changes, case=PAIR)
    assert found.verdict is Verdict.NOT_SHOWN
    assert found.lacking


def test_different_channels_hold_whatever_the_places() -> None:
    changes = {"fitting[inside].lens.height": "2200 mm, estimate"}
    assert ask(NEAR, changes, case=PAIR).verdict is Verdict.HOLDS


def test_the_remedy_sets_a_channel_that_nobody_uses() -> None:
    doorway = a_doorway({**SAME, "rows_at": "15 mm"})
    remedy = asked(NEAR, doorway)[None, PAIR].remedy
    assert remedy
    assert remedy.changes
    after = asked(NEAR, apply(doorway, remedy.changes))[None, PAIR]
    assert after.verdict is Verdict.HOLDS


def test_no_free_channel_is_said() -> None:
    changes = {**SAME, "rows_at": "15 mm", "sheet.presence.channels": 1}
    remedy = ask(NEAR, changes, case=PAIR).remedy
    assert remedy
    assert remedy.message.key == "remedy.no_channel"
    assert not remedy.changes


def test_one_unit_has_no_neighbour() -> None:
    found = ask(NEAR, {"fitting[inside]": None})
    assert found.verdict is Verdict.NOT_ASKED


def facing(
    distance: str, *, at_hand: bool = True, **changes: object
) -> dict[object, Verdict]:
    """Verdicts on a doorway whose outside looks at another one's inside."""
    other = a_doorway({"id": "other", **changes})
    near = Facing.model_validate(
        {
            "doorway": "other",
            "side": "outside",
            "distance": distance,
            "shift": "0 mm",
        }
    )
    doorway = a_doorway({"fitting[outside].settings.channel": 2})
    site = a_site(doorway, other)
    rule = book().rule_for(NEAR, {})
    assert isinstance(rule, Rule)
    met = (Met(near, settle(site.door("other")) if at_hand else None),)
    found = QUESTIONS[NEAR].ask(Asked(doorway, settle(doorway), rule, met))
    return {f.case: f.verdict for f in found}


def test_doorways_that_face_each_other_closely_share_no_channel() -> None:
    # outer rows 238 mm out on each side: 480 mm apart they meet
    found = facing("480 mm")
    assert found["outside and other: inside"] is Verdict.FAILS
    assert found["outside and other: outside"] is Verdict.HOLDS
    assert facing("2 m")["outside and other: inside"] is Verdict.HOLDS


def test_a_doorway_that_is_not_at_hand_is_not_shown() -> None:
    assert facing("480 mm", at_hand=False)["other"] is Verdict.NOT_SHOWN


def test_a_faced_unit_that_nobody_placed_is_not_passed_over() -> None:
    unplaced: dict[str, Any] = {"fitting[inside].lens": None}
    found = facing("480 mm", **unplaced)
    assert found["outside and other: inside"] is Verdict.NOT_SHOWN
