"""Light of a faced doorway: nothing about its place is taken for the best."""

from builders.doorways import a_doorway
from limen.findings import Finding, Verdict
from limen.questions.asking import Asked, Met
from limen.questions.settled import settle
from limen.questions.sight import neighbours
from limen.rules import Rule
from questions.asking import book

CASE = "outside and other: inside"


def pair(facing: dict[str, str], **more: object) -> Finding:
    """What is said of two units that face each other on one channel."""
    table = {"doorway": "other", "side": "outside", **facing}
    one = a_doorway({"facing": [table], "fitting[outside].settings.channel": 3})
    other = a_doorway({"fitting[inside].settings.channel": 3, **more})
    rule = book().rule_for("presence.neighbours", {})
    assert isinstance(rule, Rule)
    met = (Met(one.facing[0], settle(other)),)
    found = neighbours(Asked(one, settle(one), rule, met))
    return next(f for f in found if f.case == CASE)


def test_far_doors_are_apart_and_near_ones_are_not() -> None:
    assert pair({"distance": "3 m", "shift": "0 m"}).verdict is Verdict.HOLDS
    assert pair({"distance": "322 mm", "shift": "0 m"}).verdict is Verdict.FAILS
    assert pair({"distance": "322 mm", "shift": "4 m"}).verdict is Verdict.HOLDS


def test_an_unknown_shift_is_not_taken_for_none() -> None:
    found = pair({"distance": "322 mm"})
    assert found.verdict is Verdict.NOT_SHOWN
    assert [one.key for one in found.lacking] == ["facing[other].shift"]
    assert pair({"distance": "3 m"}).verdict is Verdict.HOLDS


def test_the_doubt_of_the_distance_counts() -> None:
    for facing in (
        {"distance": "3 m ± 2.7 m", "shift": "0 m"},
        {"distance": "322 mm", "shift": "4 m ± 3 m"},
        {"distance": "3 m, estimate", "shift": "0 m"},
        {"distance": "322 mm", "shift": "4 m, estimate"},
    ):
        assert pair(facing).verdict is Verdict.NOT_SHOWN, facing


def test_an_estimate_of_the_other_doorway_counts() -> None:
    found = pair(
        {"distance": "3 m", "shift": "0 m"}, **{"leaves.thickness": "40 mm, estimate"}
    )
    assert found.verdict is Verdict.NOT_SHOWN


def test_turns_that_aiming_leaves_open_move_the_light_too() -> None:
    """A yaw of 5 degrees moves the end of a row 1.2 m long by about 100 mm."""
    at = {"distance": "600 mm", "shift": "0 m"}
    assert pair(at).verdict is Verdict.HOLDS
    loose = pair(at, **{"fitting[inside].aim.turn": "10 deg"})
    assert loose.verdict is Verdict.NOT_SHOWN


def _channel(finding: Finding) -> tuple[str, str]:
    assert finding.remedy
    (change,) = finding.remedy.changes
    return change.fitting, change.value


def test_two_doorways_are_not_both_sent_to_the_same_channel() -> None:
    """Each study tells of one way for both doorways: what it says can all be done."""
    shared = {f"fitting[{unit}].settings.channel": 1 for unit in ("outside", "inside")}
    there = {"distance": "322 mm", "shift": "0 m"}
    ends = {"a": ("b", "outside"), "b": ("a", "inside")}
    doors = tuple(
        a_doorway(
            {"id": own, **shared, "facing": [there | {"doorway": other, "side": side}]}
        )
        for own, (other, side) in ends.items()
    )
    rule = book().rule_for("presence.neighbours", {})
    assert isinstance(rule, Rule)
    told: list[tuple[str, str]] = []
    for one, far in (doors, doors[::-1]):
        met = (Met(one.facing[0], settle(far)),)
        asked = Asked(one, settle(one), rule, met, around=doors)
        other, unit = ends[one.id]
        faced = "inside" if unit == "outside" else "outside"
        found = {f.case: f for f in neighbours(asked)}
        remedy = found[f"{unit} and {other}: {faced}"].remedy
        assert remedy
        told += [(one.id, change.value) for change in remedy.changes]
    assert told
    assert len({channel for _, channel in told}) == len(told)
