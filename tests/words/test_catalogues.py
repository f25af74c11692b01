"""Every sentence that the code asks for is there, with the gaps that it fills."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import limen
from limen.questions import QUESTIONS
from limen.words import WordsError, catalogue, languages
from limen.words.catalogue import FORMS, flat, gaps, pieces, written
from limen.words.catalogue import SOURCE as SOURCE_LANGUAGE

SOURCE = Path(str(limen.__file__)).parent
MAKERS = {"Message": 0, "lack": 0}
"""Calls whose argument at this place is a key of the catalogue."""


def _calls() -> Iterator[tuple[str, ast.Call]]:
    for file in sorted(SOURCE.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                yield f"{file.relative_to(SOURCE)}:{node.lineno}", node


def _keys() -> Iterator[tuple[str, ast.Call, ast.expr]]:
    for where, call in _calls():
        assert isinstance(call.func, ast.Name)
        place = MAKERS.get(call.func.id)
        if place is not None and len(call.args) > place:
            yield where, call, call.args[place]


def _pattern(key: ast.JoinedStr) -> re.Pattern[str]:
    """What a key with gaps may come to."""
    parts = [
        re.escape(str(part.value)) if isinstance(part, ast.Constant) else ".+"
        for part in key.values
    ]
    return re.compile("".join(parts))


def test_every_key_written_in_the_code_has_a_sentence() -> None:
    known = catalogue("en").sentences
    missing = [
        f"{where} {key.value}"
        for where, _, key in _keys()
        if isinstance(key, ast.Constant) and key.value not in known
    ]
    assert not missing


def test_every_figure_of_a_rulebook_has_a_name_in_words() -> None:
    named = {name for one in QUESTIONS.values() for name in one.limits}
    known = catalogue("en").sentences
    assert {one for one in named if f"lack.limit.{one}" not in known} == set()


def test_every_key_put_together_in_the_code_can_be_found() -> None:
    known = catalogue("en").sentences
    missing = [
        f"{where} {ast.unparse(key)}"
        for where, _, key in _keys()
        if isinstance(key, ast.JoinedStr)
        and not any(_pattern(key).fullmatch(one) for one in known)
    ]
    assert not missing


def test_every_gap_of_a_sentence_is_filled_where_it_is_used() -> None:
    known = catalogue("en").sentences
    open_gaps = [
        f"{where} {key.value}: {sorted(left)}"
        for where, call, key in _keys()
        if isinstance(key, ast.Constant) and key.value in known
        for sentence in [known[str(key.value)]]
        for filled in [_filled(call)]
        if filled is not None
        for left in [set(gaps(sentence)) - filled]
        if left
    ]
    assert not open_gaps


def _filled(call: ast.Call) -> set[str] | None:
    """Names given in the call; None where they are put together elsewhere."""
    assert isinstance(call.func, ast.Name)
    if call.func.id != "Message" or call.keywords:
        return None
    if len(call.args) == 1:
        return set()
    values = call.args[1]
    if not isinstance(values, ast.Dict):
        return None
    names = [key.value for key in values.keys if isinstance(key, ast.Constant)]
    return {str(one) for one in names} if len(names) == len(values.keys) else None


def test_the_check_sees_the_keys_at_all() -> None:
    seen = {key.value for _, _, key in _keys() if isinstance(key, ast.Constant)}
    assert {"study.caution", "error.unexpected"} <= seen
    assert len(seen) > 20


def test_every_verdict_weight_grade_and_question_has_a_word() -> None:
    from limen.findings import Verdict
    from limen.quantity import Grade
    from limen.questions import QUESTIONS
    from limen.rules import Weight

    asked = [f"verdict.{one}" for one in Verdict]
    asked += [f"weight.{one}" for one in Weight]
    asked += [f"grade.{one}" for one in Grade]
    asked += [f"question.{one}" for one in QUESTIONS]
    assert [key for key in asked if key not in catalogue("en").sentences] == []


def test_every_verdict_can_be_counted() -> None:
    from limen.findings import Verdict

    known = catalogue("en").sentences
    assert all(f"counted.{one}.many" in known for one in Verdict)


OTHERS = [one for one in languages() if one != SOURCE_LANGUAGE]


@pytest.mark.parametrize("language", OTHERS)
def test_no_sentence_is_missing_in_a_language(language: str) -> None:
    assert sorted(written(SOURCE_LANGUAGE).keys() - written(language).keys()) == []


@pytest.mark.parametrize("language", OTHERS)
def test_no_language_has_a_sentence_that_nobody_says(language: str) -> None:
    known = written(SOURCE_LANGUAGE)
    extra = [
        key
        for key in written(language)
        if key not in known and not _form_of_a_count(key)
    ]
    assert extra == []


def _form_of_a_count(key: str) -> bool:
    """A language may have forms of a counted sentence that English does without."""
    counted, _, form = key.rpartition(".")
    return form in FORMS and f"{counted}.many" in written(SOURCE_LANGUAGE)


@pytest.mark.parametrize("language", OTHERS)
def test_a_sentence_has_the_same_gaps_in_every_language(language: str) -> None:
    """A form of a count is given the count, whether it writes it or says "one"."""
    known, said = written(SOURCE_LANGUAGE), written(language)
    differ = [
        key
        for key in said.keys() & known.keys()
        if (set(gaps(said[key])) ^ set(gaps(known[key]))) - _given(key)
    ]
    assert differ == []


def _given(key: str) -> set[str]:
    """What a form may write or leave out."""
    forms = {"none", "zero", "one", "two", "few", "many"}
    return {"count"} if key.rpartition(".")[2] in forms else set()


@pytest.mark.parametrize("language", OTHERS)
def test_a_sentence_is_plain_text_in_every_language(language: str) -> None:
    bad = [
        key
        for key, text in written(language).items()
        if not _plain(text) or text != text.strip() or not text
    ]
    assert bad == []


SPACES = str.maketrans("", "", "\n\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}")


def _plain(text: str) -> bool:
    return text.translate(SPACES).isprintable()


FORBIDDEN = re.compile(
    r"\b(safe|safely|OK|okay|compliant|certified|certify|oops|please)\b", re.IGNORECASE
)


def test_no_sentence_promises_what_limen_cannot_know() -> None:
    said = catalogue("en").sentences
    assert [key for key in said if FORBIDDEN.search(said[key])] == []


def test_the_forbidden_words_would_be_found() -> None:
    assert FORBIDDEN.search("The door is safe.")


def test_sentences_are_plain_text_in_one_paragraph() -> None:
    bad = [
        key
        for key, text in catalogue("en").sentences.items()
        if not text.replace("\n", "").isprintable() or text != text.strip() or not text
    ]
    assert bad == []


@pytest.mark.parametrize("sentence", ["{0}", "{}", "{a.b}", "{a!r}", "{a:>3}", "{a"])
def test_a_gap_is_a_plain_name_and_nothing_else(sentence: str) -> None:
    with pytest.raises(WordsError):
        list(pieces(sentence))


def test_tables_are_read_as_dotted_keys() -> None:
    tables = {"a": {"b": "one", "c.d": "two"}, "e": "three"}
    assert dict(flat(tables)) == {"a.b": "one", "a.c.d": "two", "e": "three"}


def test_what_is_no_sentence_is_refused() -> None:
    with pytest.raises(WordsError, match=r"a\.b"):
        dict(flat({"a": {"b": 3}}))
