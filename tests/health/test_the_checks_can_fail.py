"""Each check of this folder finds the fault it was written for."""

import ast
from dataclasses import replace

import pytest

from health.calls import unsteady
from health.docstrings import faults, public
from health.importing import circle, imported, outsiders
from health.sizes import at_share, body_lines, functions, public_methods
from health.test_docs import unmentioned
from health.test_published import YEAR
from health.test_rulebooks import RULES, one_sided, unsourced
from health.wording import promises, traces
from limen.quantity import Grade

LONG = "def f():\n    '''Says so.'''\n" + "    x = 1\n" * 61
CLASS = "class C:\n" + "    def m(self): ...\n    def _p(self): ...\n"


def test_a_long_body_is_measured_without_its_docstring() -> None:
    assert [body_lines(each) for each in functions(ast.parse(LONG))] == [61]


def test_a_nested_function_is_measured_too() -> None:
    tree = ast.parse("def f():\n    def g():\n        return 1\n    return g\n")
    assert [body_lines(each) for each in functions(tree)] == [3, 1]


def test_public_methods_are_counted_alone() -> None:
    (node,) = ast.parse(CLASS).body
    assert isinstance(node, ast.ClassDef)
    assert public_methods(node) == 1


def test_a_share_is_taken_from_the_ordered_values() -> None:
    assert at_share([9, 1, 5], 0.5) == 5
    assert at_share(range(1, 101), 0.95) == 96


def test_a_circle_through_a_deferred_import_is_found() -> None:
    known = frozenset({"limen.a", "limen.b"})
    deferred = ast.parse("def f():\n    from limen.a import x\n    return x\n")
    plain = ast.parse("import limen.b\n")
    graph = {"limen.a": imported(plain, known), "limen.b": imported(deferred, known)}
    assert set(circle(graph)) == known
    assert circle({"limen.a": frozenset({"limen.b"}), "limen.b": frozenset()}) == []


def test_an_undeclared_package_is_seen() -> None:
    assert outsiders(ast.parse("from shapely.geometry import box")) == {"shapely"}


@pytest.mark.parametrize(
    "call",
    [
        "datetime.now()",
        "date.today()",
        "perf_counter()",
        "np.random.default_rng()",
        "np.random.uniform(0, 1)",
    ],
)
def test_an_unsteady_call_is_found(call: str) -> None:
    assert len(list(unsteady(ast.parse(call)))) == 1


def test_seeded_dice_are_let_through() -> None:
    assert list(unsteady(ast.parse("np.random.default_rng(seed)"))) == []


@pytest.mark.parametrize(
    ("source", "count"),
    [
        ("def f(): ...", 1),
        ("def _f(): ...", 0),
        ("class C:\n    '''Is one.'''\n    def m(self): ...", 1),
        ("def f(a, b):\n    '''Adds.\n\n    Args:\n        a: one.\n    '''", 1),
        ("def f(a):\n    '''Adds.\n\n    Args:\n        a: one.\n    '''", 0),
        ("def f(*a, k=1):\n    '''Adds.\n\n    Args:\n        *a: one.\n    '''", 1),
    ],
)
def test_a_docstring_that_tells_wrongly_is_found(source: str, count: int) -> None:
    found = [fault for node in public(ast.parse(source)) for fault in faults(node)]
    assert len(found) == count


@pytest.mark.parametrize(
    "text",
    ["The door is safe.", "It is certified.", "Fully compliant with it.", "All OK"],
)
def test_a_promise_is_found(text: str) -> None:
    assert list(promises(text)) == [text]


@pytest.mark.parametrize(
    "text",
    ["limen never says that a door is safe.", "A fail-safe output.", "Safety in use"],
)
def test_a_denial_and_the_words_of_the_trade_are_let_through(text: str) -> None:
    assert list(promises(text)) == []


def test_a_denial_does_not_cover_the_next_sentence() -> None:
    assert list(promises("Not so. It is safe.")) == ["It is safe."]


@pytest.mark.parametrize(
    "line",
    [
        "see /wor" + "k/plan.md",
        "index = files.python" + "hosted.org",
        "# TO" + "DO later",
        "an age" + "nt wrote this",
        "fixes issue" + " #12",
    ],
)
def test_a_trace_is_found(line: str) -> None:
    assert len(list(traces(line))) == 1


def test_ordinary_words_are_no_trace() -> None:
    assert list(traces("User-Agent is issued, workable, in tmp_path")) == []


def test_a_rule_without_a_place_where_it_was_seen_is_found() -> None:
    seen = replace(RULES[0].authority, grade=Grade.SEEN, seen_in="")
    assert len(list(unsourced(replace(RULES[0], authority=seen)))) >= 1


def test_a_rule_shown_on_one_side_alone_is_found() -> None:
    rule = next(rule for rule in RULES if rule.limits)
    assert one_sided(replace(rule, cases=rule.cases[:1]))


def test_a_command_that_no_page_names_is_found() -> None:
    assert unmentioned(["limen check", "limen draw"], "Use `limen check A`.") == [
        "limen draw"
    ]


def test_a_header_without_a_year_is_no_entry() -> None:
    assert YEAR.search("Numbers from a book.") is None
    assert YEAR.search("Handbook of doors, 1987, table 3.")
