"""`import limen` is light, and its public names are the contract's."""

import subprocess
import sys

import pytest

import limen
from limen.desk.checking import study


def _fresh(code: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    return done.stdout.strip()


def test_import_limen_brings_in_nothing_else() -> None:
    code = "import limen, sys; print([m for m in sys.modules if 'limen.' in m])"
    assert _fresh(code) == "[]"


@pytest.mark.parametrize("name", limen.__all__)
def test_every_public_name_can_be_had_in_a_fresh_program(name: str) -> None:
    assert _fresh(f"import limen; print(limen.{name} is not None)") == "True"


@pytest.mark.parametrize(
    "before",
    ["", "import limen.study", "import limen.study.running", "import limen.desk"],
)
def test_limen_study_can_be_called_whatever_was_imported_before(before: str) -> None:
    code = f"{before}\nimport limen; print(callable(limen.study))"
    assert _fresh(code) == "True"


def test_limen_study_is_still_the_package() -> None:
    code = "import limen.study.running as r, limen; print(limen.study.running is r)"
    assert _fresh(code) == "True"


def test_limen_study_is_the_verb_of_the_desk() -> None:
    with pytest.raises(TypeError, match="doorway"):
        limen.study()  # pyright: ignore[reportCallIssue]
    assert study.__name__ == "study"


def test_an_unknown_name_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="nothing"):
        _ = limen.nothing  # pyright: ignore[reportAttributeAccessIssue]
