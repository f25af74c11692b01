"""`limen keys`: from a newcomer's first command to a device that was lost."""

from pathlib import Path

import pytest

from cli.conftest import Run
from limen.desk import keys
from limen.desk.key_files import PUBLIC
from limen.record import new_key

NEW = ("keys", "new", "--firm", "Weir & Söhne", "--device", "Desk 1")


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of one's own, and a passphrase in a file."""
    secret = tmp_path / "passphrase"
    secret.write_text("three grey herons\n")
    monkeypatch.setenv("LIMEN_HOME", str(tmp_path / "home"))
    monkeypatch.setenv(keys.PASSPHRASE_FILE, str(secret))
    return tmp_path / "home"


def test_one_command_and_the_desk_can_seal(run: Run, home: Path) -> None:
    done = run(*NEW)
    assert done.exit_code == 0
    assert str(home / "keys" / PUBLIC) in done.stdout
    listed = run("keys", "list").stdout
    assert "Desk 1 · Weir & Söhne" in listed
    assert "seals from here" in listed


def test_before_there_is_a_key_the_list_says_what_to_type(run: Run) -> None:
    assert "limen keys new --firm" in run("keys", "list").stdout


def test_the_same_command_again_is_refused_and_leaves_the_keys(
    run: Run, home: Path
) -> None:
    run(*NEW)
    before = (home / "keys" / "firm.pem").read_bytes()
    again = run(*NEW)
    assert again.exit_code == 2
    assert "stays as it is" in again.stderr
    assert (home / "keys" / "firm.pem").read_bytes() == before


def test_a_phone_is_vouched_for_and_withdrawn_by_name(run: Run) -> None:
    run(*NEW)
    assert run("keys", "vouch", new_key().public, "--name", "Phone 2").exit_code == 0
    gone = run("keys", "withdraw", "Phone 2", "--because", "left in a train")
    assert gone.exit_code == 0
    listed = run("keys", "list").stdout
    assert "Phone 2" in listed
    assert "left in a train" in listed


def test_a_laptop_is_led_step_by_step_to_seal(
    run: Run, home: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    run(*NEW)
    away = tmp_path / "away"
    monkeypatch.setenv("LIMEN_HOME", str(away))
    begun = run("keys", "new", "--device", "Laptop 2").stdout
    command = begun[begun.index("limen keys vouch") :].split('"')[0].split()
    monkeypatch.setenv("LIMEN_HOME", str(home))
    vouched = run(*command[1:], "Laptop 2").stdout
    file = vouched.split(": ")[-1].partition(". A desk")[0]
    monkeypatch.setenv("LIMEN_HOME", str(away))
    taken = run("keys", "take-in", file, home / "keys" / PUBLIC).stdout
    assert "Laptop 2 of Weir & Söhne" in taken
    assert "Have it read out its key" in taken
    assert "seals from here" in run("keys", "list").stdout


def test_a_new_key_after_a_loss(run: Run) -> None:
    run(*NEW)
    run("keys", "withdraw", "Desk 1", "--because", "stolen")
    assert run("keys", "rotate", "--name", "Desk 2").exit_code == 0
    listed = run("keys", "list").stdout
    assert "Desk 2 · Weir & Söhne" in listed
    assert "stolen" in listed


def test_nobody_at_the_terminal_is_said_with_what_to_set(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv(keys.PASSPHRASE_FILE)
    done = run(*NEW)
    assert done.exit_code == 2
    assert "LIMEN_PASSPHRASE_FILE=FILE" in done.stderr


@pytest.mark.parametrize("language", ["de", "fr"])
def test_keys_are_listed_in_every_language(run: Run, language: str) -> None:
    run(*NEW)
    done = run("keys", "list", "--language", language)
    assert done.exit_code == 0
    assert "Desk 1" in done.stdout


def test_no_passphrase_is_taken_from_the_command_line(run: Run) -> None:
    said = run("keys", "new", "--help").stdout
    assert "passphrase" not in said.lower()


def test_a_wrong_passphrase_is_said_without_a_trace(run: Run, tmp_path: Path) -> None:
    run(*NEW)
    (tmp_path / "passphrase").write_text("three grey geese\n")
    done = run("keys", "rotate")
    assert done.exit_code == 2
    assert "does not open" in done.stderr
    assert "Traceback" not in done.stderr
