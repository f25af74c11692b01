"""Two texts from one: nothing lost, nothing made up, only what both changed asked."""

import copy
import tomllib
from importlib.resources import files
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.desk.merging import Merge, changed, merge
from limen.store.editing import set_values
from limen.store.editing_whole import rewrite

WHOLE = files("limen").joinpath("demo", "alder-quay-as-found.toml").read_text("utf-8")
DEMO = WHOLE.partition("# --- The inner door")[0]
"""The main entrance alone: a text of 190 lines is edited quickly."""
RAW = tomllib.loads(DEMO)
WIDTH = ("doorway", "[main]", "clear_width")
Edit = tuple[tuple[str | int, ...], str]


def _leaves(
    value: object, way: tuple[str | int, ...] = ()
) -> list[tuple[str | int, ...]]:
    if isinstance(value, dict):
        return [w for key, one in value.items() for w in _leaves(one, (*way, key))]
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return [w for n, one in enumerate(value) for w in _leaves(one, (*way, n))]
    return [way] if isinstance(value, str) else []


# Names by which tables are told apart are changed in tests of their own.
WAYS = [way for way in _leaves(RAW) if way[-1] not in ("id", "side", "name", "doorway")]
EDITS = st.dictionaries(
    st.sampled_from(WAYS),
    st.sampled_from(["a", "b", "3 mm", 'say "so"', "ü"]),
    max_size=6,
)


def _edited(edits: dict[tuple[str | int, ...], str]) -> str:
    return set_values(DEMO, edits) if edits else DEMO


def _asked(found: Merge) -> set[tuple[str, ...]]:
    return {one.key for one in found.asked}


@given(EDITS)
@settings(max_examples=30, deadline=None)
def test_a_text_merged_with_itself_is_that_text(edits: dict[Any, str]) -> None:
    mine = _edited(edits)
    found = merge(DEMO, mine, mine)
    assert not found.asked
    assert found.text({}) == mine


@given(EDITS)
@settings(max_examples=30, deadline=None)
def test_what_one_side_alone_changed_is_that_sides_text(edits: dict[Any, str]) -> None:
    mine = _edited(edits)
    for found in (merge(DEMO, mine, DEMO), merge(DEMO, DEMO, mine)):
        assert not found.asked
        assert found.text({}) == mine


@given(EDITS, EDITS)
@settings(max_examples=50, deadline=None)
def test_edits_of_different_keys_commute_and_are_both_kept(
    ours: dict[Any, str], others: dict[Any, str]
) -> None:
    others = {way: value for way, value in others.items() if not _near(way, ours)}
    mine, theirs = _edited(ours), _edited(others)
    one, other = merge(DEMO, mine, theirs), merge(DEMO, theirs, mine)
    assert not one.asked
    assert tomllib.loads(one.text({})) == tomllib.loads(other.text({}))
    assert tomllib.loads(one.text({})) == tomllib.loads(_edited({**ours, **others}))


def _near(way: tuple[str | int, ...], ways: dict[Any, str]) -> bool:
    """Whether both touch one list without names, which is asked as a whole."""
    heads = {w[:n] for w in ways for n in range(len(w) + 1) if n and _nameless(w[:n])}
    return way in ways or any(way[:n] in heads for n in range(1, len(way)))


def _nameless(way: tuple[str | int, ...]) -> bool:
    return way[-1] in ("wires", "impact", "document", "beams")


@given(EDITS, EDITS, st.booleans())
@settings(max_examples=50, deadline=None)
def test_no_key_is_lost_and_what_both_changed_is_as_chosen(
    ours: dict[Any, str], others: dict[Any, str], keep_mine: bool
) -> None:
    found = merge(DEMO, _edited(ours), _edited(others))
    side = "mine" if keep_mine else "theirs"
    text = found.text(dict.fromkeys(_asked(found), side))
    made = tomllib.loads(text)
    assert _leaves(made) == _leaves(RAW)
    for way, value in (ours if keep_mine else others).items():
        place: Any = made
        for part in way:
            place = place[part]
        assert place == value


TABLES = st.recursive(
    st.one_of(st.text("ab# \"'=[]\n", max_size=4), st.integers(0, 3), st.booleans()),
    lambda inner: st.one_of(
        st.dictionaries(st.sampled_from("abc"), inner, max_size=3),
        st.lists(inner, max_size=3),
        st.lists(
            st.fixed_dictionaries(
                {"id": st.sampled_from("xyz")}, optional={"v": inner}
            ),
            max_size=3,
            unique_by=lambda one: one["id"],
        ),
    ),
    max_leaves=8,
)
DATA = st.dictionaries(st.sampled_from("abcde"), TABLES, max_size=4)


@given(DATA, DATA)
@settings(max_examples=80, deadline=None)
def test_a_text_is_brought_to_say_anything(
    now: dict[str, Any], wanted: dict[str, Any]
) -> None:
    text = rewrite("# first\n", now)
    assert tomllib.loads(rewrite(text, wanted)) == wanted


@given(DATA, DATA, DATA, st.booleans())
@settings(max_examples=80, deadline=None)
def test_any_three_texts_make_one_that_parses_with_every_key_of_both(
    base: dict[str, Any], mine: dict[str, Any], theirs: dict[str, Any], keep_mine: bool
) -> None:
    texts = [rewrite("", one) for one in (base, mine, theirs)]
    found = merge(*texts)
    side = "mine" if keep_mine else "theirs"
    made = tomllib.loads(found.text(dict.fromkeys(_asked(found), side)))
    for key in mine.keys() | theirs.keys():
        taken_away = key in base and (key not in mine or key not in theirs)
        assert key in made or taken_away


def test_what_both_changed_is_asked_and_nothing_else() -> None:
    mine = DEMO.replace('clear_width = "2000 mm"', 'clear_width = "2010 mm"')
    mine = mine.replace('sway = "5 mm"', 'sway = "6 mm"')
    theirs = DEMO.replace('clear_width = "2000 mm"', 'clear_width = "1990 mm"')
    theirs = theirs.replace('mass = "75 kg"', 'mass = "80 kg"')
    found = merge(DEMO, mine, theirs)
    assert _asked(found) == {WIDTH}
    assert {(one.key[-1], one.by) for one in found.changes if one.by} == {
        ("sway", "mine"),
        ("mass", "theirs"),
    }
    text = found.text({WIDTH: "mine"})
    assert all(part in text for part in ("2010 mm", '"6 mm"', '"80 kg"'))


def test_comments_of_both_are_kept_where_different_lines_were_changed() -> None:
    mine = DEMO.replace(
        'name = "Main entrance, on the quay"', 'name = "Quay door" # ours'
    )
    theirs = DEMO.replace("# the winter position", "# set in November")
    text = merge(DEMO, mine, theirs).text({})
    assert "# ours" in text
    assert "# set in November" in text


def test_a_unit_that_one_took_out_and_the_other_turned_is_asked() -> None:
    wanted = copy.deepcopy(RAW)
    del wanted["doorway"][0]["fitting"][0]
    mine = rewrite(DEMO, wanted)
    theirs = DEMO.replace('tilt = "-1.3 deg"', 'tilt = "-2 deg"', 1)
    found = merge(DEMO, mine, theirs)
    assert _asked(found) == {("doorway", "[main]", "fitting", "[outside]")}
    gone = tomllib.loads(
        found.text({("doorway", "[main]", "fitting", "[outside]"): "mine"})
    )
    assert [one["id"] for one in gone["doorway"][0]["fitting"]] == ["inside"]


def test_what_both_added_under_one_name_is_asked_key_by_key() -> None:
    mine = f'{DEMO}\n[[doorway]]\nid = "new"\nname = "A"\nedition = "2012"\n'
    theirs = f'{DEMO}\n[[doorway]]\nid = "new"\nname = "B"\nedition = "2012"\n'
    assert _asked(merge(DEMO, mine, theirs)) == {("doorway", "[new]", "name")}


def test_a_text_that_is_no_toml_is_not_merged() -> None:
    with pytest.raises(tomllib.TOMLDecodeError):
        merge(DEMO, "name = ", DEMO)


def test_the_changes_between_two_versions_are_named_by_key() -> None:
    after = DEMO.replace('sway = "5 mm"', 'sway = "6 mm"')
    (one,) = changed(DEMO, after)
    assert one.key == ("doorway", "[main]", "leaves", "sway")
    assert (one.was, one.mine) == ("5 mm", "6 mm")
    assert not changed(DEMO, DEMO.replace("# the winter position", ""))
