"""Rooms and readings as pictures: the worst case of a question, drifts first."""

from dataclasses import replace
from datetime import date

from limen.desk.life_courses import Course, Mark
from limen.keep.drifting import Drift, Reach
from limen.quantity import Dimension, Show
from limen.web.life_charts import pictures
from limen.web.look import Look, look_of

ON = date(2026, 11, 26)
PRESENCE = "presence.threshold"


def _marks(*values: float) -> tuple[Mark, ...]:
    days = [date(2022 + n, 11, 20) for n in range(len(values))]
    made = [
        Mark(day, value, "record", str(n), 0.001, "holds" if value >= 0 else "fails")
        for n, (day, value) in enumerate(zip(days, values, strict=True), 1)
    ]
    return (*made[:-1], replace(made[-1], how="now", of=""))


def _room(case: str, *values: float, of: str = PRESENCE) -> Course:
    marks = _marks(*values)
    return Course(of, "", case, Dimension.LENGTH, marks, least=0.0)


def _look(system: Show = Show.METRIC) -> Look:
    return look_of({"limen_units": system.value})


def test_of_each_question_the_case_with_the_least_room_is_drawn() -> None:
    rooms = [_room("upright", 0.02, 0.03), _room("on its face", 0.02, 0.01)]
    found = pictures(rooms, (), _look(), ON)
    (one,) = found.margins
    assert "on its face" in one.title
    assert one.others == ("upright: 20 mm ± 1 mm, now 30 mm ± 1 mm",)
    assert [each.value for each in one.figures] == ["10 mm ± 1 mm", "20 mm ± 1 mm"]
    assert [each.how for each in one.figures] == ["as it is now", "record 1"]
    assert (found.drifting, found.readings, found.alike) == ((), (), ())


def test_what_nobody_sees_to_change_is_only_listed() -> None:
    rooms = [_room("upright", 0.0201, 0.0203), _room("on its face", 0.01, 0.01)]
    found = pictures(rooms, (), _look(), ON)
    assert not found.margins
    (line,) = found.alike
    assert "10 mm" in line


def test_every_case_that_drifts_is_drawn_and_says_by_when() -> None:
    reach = Reach(0.0, 8.2, 14.1, 39.3)
    drift = Drift(4, -0.006, 0.002, shown=True, level=0.01, reach=reach)
    rooms = [
        replace(_room("upright", 0.03, 0.024, 0.018, 0.012), found=drift),
        _room("on its face", 0.02, 0.01),
    ]
    found = pictures(rooms, (), _look(), ON)
    (one,) = found.drifting
    assert one.drifts
    assert "between 8 and 40 months" in one.says
    assert "nothing to spare" in one.wide
    assert len(found.margins) == 1


def test_readings_say_whose_and_which_and_their_limits() -> None:
    marks = (
        Mark(date(2024, 11, 20), 0.056, "left", "v", 0.002),
        Mark(date(2025, 11, 20), 0.061, "found", "v", 0.002),
    )
    one = Course(
        "row line",
        "inside",
        "",
        Dimension.LENGTH,
        marks,
        row=1,
        place=-0.3,
        least=0.054,
        most=0.064,
    )
    (drawn,) = pictures((), [one], _look(), ON).readings
    assert drawn.title == "Inside: Row line, row 1, −300 mm from the middle"
    assert "good from 54 mm" in drawn.narrow
    assert [each.how for each in drawn.figures] == ["as found", "as left"]


def test_in_feet_figures_are_in_inches() -> None:
    found = pictures([_room("upright", 0.0254, 0.0508)], (), _look(Show.FEET), ON)
    assert found.margins[0].figures[0].value.startswith("2 in")
