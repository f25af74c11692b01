"""What is to be turned: every unit that has to be, and no claim beyond the search."""

import pytest

from builders.doorways import a_doorway, a_site
from limen.findings import Remedy, Verdict
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.sheet import Sheet
from limen.quantity import Quantity
from limen.questions.variants import changed_settings
from limen.rules import Weight
from limen.study import apply, study
from questions.asking import book, musts

PRESENCE = ("presence.leaf_path", "presence.threshold")
TOO_FAR = {
    "sheet.presence.fan.choices": {"wide": "1400 mm"},
    "fitting[outside].settings.tilt": "0 deg",
    "fitting[inside].settings.tilt": "0 deg",
}


def two_units_a_side() -> Doorway:
    """Narrow units in pairs, their rows too far from the leaf."""
    doorway = a_doorway(TOO_FAR)
    pairs = tuple(
        fitting.model_copy(
            update={
                "id": f"{fitting.id}-{name}",
                "lens": fitting.lens.model_copy(update={"along": Quantity(along)}),
            }
        )
        for fitting in doorway.fitting
        if fitting.lens
        for name, along in (("left", -0.5), ("right", 0.5))
    )
    return doorway.model_copy(update={"fitting": pairs})


def presence(doorway: Doorway) -> dict[str, tuple[Verdict, Remedy | None]]:
    """What is said of presence, but for what is only advised."""
    return {
        f"{one.question} {one.case}": (one.verdict, one.remedy)
        for one in study(doorway, book(), site=a_site(doorway)).findings
        if one.question in PRESENCE and one.weight is not Weight.ADVICE
    }


def test_two_units_a_side_are_turned_together_where_no_two_of_them_suffice() -> None:
    doorway = two_units_a_side()
    remedies = [remedy for verdict, remedy in presence(doorway).values() if remedy]
    assert remedies
    remedy = remedies[0]
    assert {change.fitting for change in remedy.changes} == {
        fitting.id for fitting in doorway.fitting
    }
    assert remedy.message.key == "remedy.bring_every_row"
    mended = presence(changed_settings(doorway, remedy.changes))
    assert Verdict.FAILS not in {verdict for verdict, _ in mended.values()}


def test_a_light_barrier_on_the_other_side_does_not_count_as_a_unit_there() -> None:
    doorway = a_doorway()
    outside = next(one for one in doorway.fitting if one.side == "outside")
    sheet = Sheet.model_validate({"name": "Level beams", "barrier": {}})
    beams = ({"height": "200 mm", "from_leaf": "50 mm"},)
    barrier = Fitting.model_validate(
        {"id": "barrier", "sheet": "level", "side": "inside", "beams": beams}
    ).model_copy(update={"unit": sheet})
    door = doorway.model_copy(update={"fitting": (outside, barrier)})
    said = {remedy.message.key for _, remedy in presence(door).values() if remedy}
    assert said == {"remedy.add_unit"}


def test_where_no_setting_is_surely_clear_of_the_door_one_that_is_as_set_is_told() -> (
    None
):
    near_header = {
        "rows_at": "130 mm",
        "fitting[outside].lens.from_leaf": "115 mm",
        "fitting[inside].lens.from_leaf": "115 mm",
        "header.outside": "100 mm",
        "header.inside": "100 mm",
    }
    remedies = [r for _, r in presence(a_doorway(near_header)).values() if r]
    assert remedies
    assert remedies[0].targets
    assert all(t.least < t.best < t.most for t in remedies[0].targets)


@pytest.mark.parametrize("out", ["5 mm", "10 mm"])
def test_where_nearer_rows_would_see_their_leaf_the_lens_is_moved_out(
    out: str,
) -> None:
    changes: dict[str, object] = {
        "header": {"outside": "0 mm", "inside": "0 mm", "underside": "2150 mm"}
    }
    for side in ("outside", "inside"):
        changes[f"fitting[{side}].lens.from_leaf"] = out
        changes[f"fitting[{side}].settings.tilt"] = "3 deg"
    doorway = a_doorway(changes)
    key = ("presence.leaf_path", None, "upright")
    remedy = musts(study(doorway, book()))[key].remedy
    assert remedy
    assert {change.setting for change in remedy.changes} == {
        "lens.from_leaf",
        "settings.tilt",
    }
    after = musts(study(apply(doorway, remedy.changes), book()))
    assert after[key].verdict is Verdict.HOLDS
    for side in ("outside", "inside"):
        light = after["presence.self_view", side, None]
        assert light.verdict is Verdict.HOLDS
