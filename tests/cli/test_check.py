"""`limen check`: what is to be done, worst first, and an exit status to act on."""

import json
import re

import jsonschema
import pytest

from builders.studies import (
    assumed,
    failing,
    finding,
    not_shown,
)
from cli.conftest import Give, Run
from limen.exchange import findings_schema
from limen.findings import Assumed, Margin, Message, Remedy, Verdict
from limen.quantity import Dimension
from limen.rules import Weight
from limen.words import catalogue, say

CAUTION = say(Message("study.caution"))
GEOMETRY = Message("owed.geometry_only")
MIXED = (
    finding(question="mounting.height", margin=Margin(0.2, 0.0, Dimension.LENGTH)),
    finding(question="presence.threshold", case="upright", owed=(GEOMETRY,)),
    finding(Verdict.NOT_ASKED, question="site.obstacles"),
    not_shown("sheet.presence.learns_after", question="presence.hold_time"),
    failing(),
    failing(case="on its face", margin=Margin(-0.030, 0.0, Dimension.LENGTH)),
)


def _flat(text: str) -> str:
    """The text without line breaks, as it is read."""
    return " ".join(text.split())


@pytest.mark.parametrize(
    ("findings", "code"),
    [
        ((finding(),), 0),
        ((failing(),), 1),
        ((failing(), not_shown("x")), 1),
        ((not_shown("x"),), 3),
        ((failing(weight=Weight.SHOULD),), 0),
        ((not_shown("x", weight=Weight.ADVICE),), 0),
        ((finding(Verdict.NOT_ASKED),), 0),
    ],
)
@pytest.mark.parametrize("how", ["--json", "--all", None])
def test_the_exit_status_says_whether_musts_fail_or_are_not_shown(
    run: Run, give: Give, findings: tuple, code: int, how: str | None
) -> None:
    give(findings)
    words = ["check", "x.toml", *([how] if how else [])]
    assert run(*words).exit_code == code


def test_the_first_line_counts_work_and_gives_no_verdict(run: Run, give: Give) -> None:
    give(MIXED)
    first = run("check", "x.toml").stdout.splitlines()[0]
    assert first == "1 to mend before use · 0 to measure · 1 for the office"


def test_several_doorways_are_counted_together_and_each_alone(
    run: Run, give: Give
) -> None:
    give((failing(),), (failing(),), (finding(),))
    lines = run("check", "x.toml").stdout.splitlines()
    counts = [line[:14] for line in lines if " mend before use" in line]
    assert counts == [
        "2 to mend befo",
        "1 to mend befo",
        "1 to mend befo",
        "Nothing to men",
    ]


def test_what_fails_comes_first_and_what_is_not_asked_last(
    run: Run, give: Give
) -> None:
    give(MIXED)
    marks = [
        line[0]
        for line in run("check", "x.toml").stdout.splitlines()
        if line[:1] in set("✕■□–")
    ]
    assert marks == ["✕", "□", "■", "■", "–"]


def test_every_row_has_mark_question_and_verdict_in_words(run: Run, give: Give) -> None:
    give(MIXED)
    said = run("check", "x.toml").stdout
    for verdict in ("fails", "not shown", "holds", "not asked"):
        assert re.search(rf"^[✕■□–].*  {verdict}", said, re.MULTILINE)
    assert "✕" in said.split("Presence, whole leaf path")[0].splitlines()[-1]


def test_the_worst_case_is_shown_and_the_others_are_counted(
    run: Run, give: Give
) -> None:
    give((*MIXED, finding(case="on its edge")))
    said = run("check", "x.toml").stdout
    assert "30 mm short" in said
    assert "14 mm short" not in said
    assert "other cases: 1 fails, 1 holds" in said


def test_all_shows_every_case(run: Run, give: Give) -> None:
    give(MIXED)
    said = run("check", "x.toml", "--all").stdout
    assert "30 mm short" in said
    assert "14 mm short" in said


def test_advice_that_fails_does_not_hide_a_must_that_holds(
    run: Run, give: Give
) -> None:
    give((finding(), failing(weight=Weight.ADVICE)))
    rows = [
        line
        for line in run("check", "x.toml").stdout.splitlines()
        if "Presence, whole leaf path" in line
    ]
    assert len(rows) == 2
    assert any("holds" in row for row in rows)
    assert any("(advice)" in row and "fails" in row for row in rows)


def test_the_remedy_stands_under_what_fails(run: Run, give: Give) -> None:
    give((failing(),))
    lines = run("check", "x.toml").stdout.splitlines()
    row = next(i for i, line in enumerate(lines) if line.startswith("✕"))
    assert lines[row + 2].startswith("    → ")


def test_different_remedies_of_one_question_are_all_said(run: Run, give: Give) -> None:
    other = Remedy(Message("cli.no_figure"))
    give((failing(), failing(case="on its edge", remedy=other)))
    said = run("check", "x.toml").stdout
    assert said.count("→") == 2


def test_a_remedy_that_stands_above_is_not_said_twice(run: Run, give: Give) -> None:
    give((failing(), failing(question="presence.threshold")))
    said = run("check", "x.toml").stdout
    assert said.count("→") == 2
    assert "→ the same as above" in said


def test_what_is_not_shown_says_what_would_settle_it(run: Run, give: Give) -> None:
    give((not_shown("x"),))
    assert "→ to settle it: " in run("check", "x.toml").stdout


def test_what_geometry_leaves_out_is_said_where_presence_holds(
    run: Run, give: Give
) -> None:
    give(MIXED)
    assert "Geometry only. Not covered:" in run("check", "x.toml").stdout
    give((not_shown("x"),))
    sentence = catalogue().sentence("owed.geometry_only")
    held = run("check", "x.toml").stdout.replace(sentence, "", 2)
    assert sentence not in held


def test_a_figure_to_be_confirmed_is_marked_and_the_mark_explained(
    run: Run, give: Give
) -> None:
    give((finding(to_confirm=True),))
    said = run("check", "x.toml").stdout
    assert "holds*" in said
    assert "* on a figure to be confirmed" in said


def test_one_case_on_such_a_figure_marks_the_row_of_all(run: Run, give: Give) -> None:
    room = Margin(0.1, 0.0, Dimension.LENGTH)
    give((finding(case="a", margin=room), finding(case="b", to_confirm=True)))
    assert "holds*" in run("check", "x.toml").stdout


def test_no_mark_is_explained_that_does_not_stand_there(run: Run, give: Give) -> None:
    give((finding(),))
    assert "*" not in run("check", "x.toml").stdout


def test_what_was_assumed_is_listed_once(run: Run, give: Give) -> None:
    one: Assumed = assumed()
    give((failing(assumed=(one,)), failing(case="on its edge", assumed=(one,))))
    assert run("check", "x.toml").stdout.count("assumed: ") == 1


def test_rulebook_edition_day_and_caution_stand_at_the_end(
    run: Run, give: Give
) -> None:
    give((finding(),))
    said = run("check", "x.toml").stdout
    assert "en 2012: EN 16005:2012" in said
    assert "2026-11-25" in said
    assert said.rstrip().endswith(CAUTION)


def test_what_a_rulebook_wants_printed_is_printed_once(run: Run, give: Give) -> None:
    give((finding(),), (finding(),), notes=("Compare with your own copy.",))
    said = run("check", "x.toml").stdout
    assert said.count("Compare with your own copy.") == 1


def test_figures_of_the_firm_s_own_are_listed(run: Run, give: Give) -> None:
    give((finding(),), overrides=("en.2012.presence.hold_time hold",))
    assert "own figure in place: en.2012.presence.hold_time hold" in _flat(
        run("check", "x.toml").stdout
    )


def test_feet_are_used_where_they_are_asked_for(run: Run, give: Give) -> None:
    give((failing(margin=Margin(-0.0508, 0.0, Dimension.LENGTH)),))
    assert "2 in short" in run("check", "x.toml", "--units", "feet").stdout


@pytest.mark.parametrize("columns", [60, 80, 100, 120])
@pytest.mark.parametrize("how", [(), ("--all",), ("--units", "feet")])
def test_no_line_is_wider_than_the_terminal(
    run: Run, give: Give, columns: int, how: tuple
) -> None:
    give(MIXED, (finding(case="a case with a rather long name, near closed"),))
    lines = run("check", "x.toml", *how, columns=columns).stdout.splitlines()
    assert max(len(line) for line in lines) <= columns


def test_a_pipe_gets_whole_sentences_no_colour_and_no_trailing_spaces(
    run: Run, give: Give
) -> None:
    give(MIXED)
    said = run("check", "x.toml").stdout
    assert "\x1b" not in said
    assert CAUTION in said.splitlines()
    assert all(line == line.rstrip() for line in said.splitlines())


def test_columns_are_aligned(run: Run, give: Give) -> None:
    give(MIXED)
    rows = [
        line
        for line in run("check", "x.toml", columns=120).stdout.splitlines()
        if line[:1] in set("✕■□–")
    ]
    starts = {
        row.index(word)
        for row in rows
        for word in ("fails", "not shown", "holds", "not asked")
        if word in row
    }
    assert len(starts) == 1


def test_colour_is_used_where_it_can_be_seen(run: Run, give: Give) -> None:
    give(MIXED)
    said = run("check", "x.toml", FORCE_COLOR="1", COLORTERM="truecolor").stdout
    assert "213;94;0" in said  # vermilion #D55E00 of Okabe and Ito
    assert "0;158;115" in said  # bluish green #009E73
    assert "204;121;167" in said  # reddish purple #CC79A7


def test_no_color_means_no_colour(run: Run, give: Give) -> None:
    give(MIXED)
    said = run("check", "x.toml", FORCE_COLOR="1", NO_COLOR="1").stdout
    assert not re.search(r"\x1b\[[0-9;]*[34]8;", said)


def test_a_name_from_a_file_cannot_move_the_cursor(run: Run, give: Give) -> None:
    evil = Message("cli.found", {"what": "\x1b[2Jgone"})
    give((failing(because=evil),))
    assert "\x1b" not in run("check", "x.toml").stdout


def test_markup_in_a_name_stays_text(run: Run, give: Give) -> None:
    give((failing(because=Message("cli.found", {"what": "[bold]x[/bold]"})),))
    assert "[bold]x[/bold]" in run("check", "x.toml").stdout


def test_json_is_the_contract_and_nothing_else(run: Run, give: Give) -> None:
    give(MIXED)
    result = run("check", "x.toml", "--json", columns=80)
    read = json.loads(result.stdout)
    jsonschema.Draft202012Validator(findings_schema()).validate(read)
    assert result.stderr == ""


def test_explain_gives_method_rule_and_what_was_found(run: Run, give: Give) -> None:
    give(MIXED)
    result = run("check", "x.toml", "--explain", "presence.leaf_path")
    assert result.exit_code == 0
    said = _flat(result.stdout)
    for part in ("Source, and what is left out", "body height", "700 mm", "Annex C"):
        assert part in said
    assert "Mounting height" not in said


def test_explain_refuses_a_question_there_is_not(run: Run, give: Give) -> None:
    give(MIXED)
    result = run("check", "x.toml", "--explain", "presence.x")
    assert result.exit_code == 2
    assert "presence.leaf_path" in result.stderr
    assert result.stdout == ""


def test_a_number_and_its_unit_stay_on_one_line(run: Run, give: Give) -> None:
    give((failing(because=Message("cli.found", {"what": "to 66 mm, " * 40})),))
    for columns in range(60, 90):
        said = run("check", "x.toml", columns=columns).stdout
        assert not re.search(r"\d\n +mm", said)


def test_what_is_owed_once_it_holds_is_not_asked_where_it_fails(
    run: Run, give: Give
) -> None:
    owed = (GEOMETRY, Message("cli.no_figure"))
    give((failing(), finding(case="on its face", owed=owed)))
    said = run("check", "x.toml").stdout
    assert "Geometry only." in said
    assert "no figure" not in said
    give((finding(owed=owed),))
    assert "no figure" in run("check", "x.toml").stdout


def test_doubt_is_not_told_to_have_no_millimetre_to_spare(run: Run, give: Give) -> None:
    doubtful = Margin(0.002, 0.005, Dimension.LENGTH)
    give((not_shown("x", margin=doubtful),))
    assert "to spare" not in run("check", "x.toml").stdout


def test_what_two_units_assume_alike_is_listed_once(run: Run, give: Give) -> None:
    give((finding(assumed=(assumed(), assumed())),))
    assert run("check", "x.toml", "--all").stdout.count("assumed:") == 1


def test_what_to_do_first_stands_again_near_the_end(run: Run, give: Give) -> None:
    give(MIXED)
    said = run("check", "x.toml").stdout
    first = next(one for one in said.splitlines() if one.strip().startswith("→"))
    told = next(one for one in said.splitlines() if one.startswith("First to do: "))
    assert told == first.strip().replace("→ ", "First to do: ")


def test_where_no_must_fails_the_first_thing_to_find_out_is_named(
    run: Run, give: Give
) -> None:
    give((not_shown("x"),))
    said = run("check", "x.toml").stdout
    assert re.search(r"^First to do: Find out .*\(x\)\.$", said, re.MULTILINE)
    give((finding(), not_shown("x", weight=Weight.ADVICE)))
    assert "First to do" not in run("check", "x.toml").stdout


def test_a_doubt_that_is_no_must_tells_only_what_settles_it_first(
    run: Run, give: Give
) -> None:
    give((not_shown("x", "y", weight=Weight.SHOULD),))
    said = run("check", "x.toml").stdout
    assert "(x); and 1 more" in said
    assert "(y)" not in said
    assert "(y)" in run("check", "x.toml", "--all").stdout


def test_what_stands_above_is_pointed_to_by_its_key(run: Run, give: Give) -> None:
    give((not_shown("x"), not_shown("x", question="presence.threshold")))
    assert "settled by what stands above: x" in run("check", "x.toml").stdout


def test_several_questions_not_asked_share_a_row(run: Run, give: Give) -> None:
    give(
        (
            finding(Verdict.NOT_ASKED, question="site.obstacles"),
            finding(Verdict.NOT_ASKED, question="site.marking"),
        )
    )
    said = run("check", "x.toml").stdout
    assert re.search(r"^– +2 questions +not asked$", said, re.MULTILINE)
    assert run("check", "x.toml", "--all").stdout.count("\n–") == 2
