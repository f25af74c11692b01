"""Keys of a firm and its devices: made, vouched for, replaced, taken back."""

import stat
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.desk import keys
from limen.desk.clock import today
from limen.desk.key_files import (
    DEVICE,
    FIRM,
    PUBLIC,
    Named,
    key_folder,
    public_of,
    public_text,
)
from limen.desk.keys import PASSPHRASE_FILE, Vouched, passphrase
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.record import new_key, seal_record, verify_bytes, withdraw
from limen.record.certifying import certificate_of

SECRET = "three grey herons"  # noqa: S105 - opens keys of these tests alone
WHAT = Message("record.keys.ask.open")


def ask(_: Message) -> str:
    return SECRET


def wrong(_: Message) -> str:
    return "three grey geese"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "home" / "keys"


@pytest.fixture
def begun(folder: Path) -> Path:
    keys.begin(folder, "Weir & Söhne", "Desk 1", ask)
    return folder


def refusal(work: Callable[[], object]) -> str:
    with pytest.raises(Refusal) as caught:
        work()
    return str(caught.value)


# Made ---------------------------------------------------------------------------------


def test_a_firm_and_its_desk_seal_after_one_command(begun: Path) -> None:
    there = keys.ring(begun)
    assert there.firm
    assert there.firm.name == "Weir & Söhne"
    (one,) = there.devices
    assert (one.name, one.firm_name, one.since, one.here) == (
        "Desk 1",
        "Weir & Söhne",
        today(),
        True,
    )
    hand = keys.hand(begun, ask)
    sealed = seal_record({"number": 1}, hand.key, hand.certificate)
    found = verify_bytes(sealed, firms=keys.trusted(begun).firms)
    assert found.unchanged
    assert found.signer
    assert found.signer.trusted


def test_keys_are_for_their_owner_alone(begun: Path) -> None:
    every = [begun, *begun.rglob("*")]
    modes = {one: stat.S_IMODE(one.stat().st_mode) for one in every}
    assert {modes[one] for one in every if one.is_dir()} == {0o700}
    assert {modes[one] for one in every if one.is_file()} == {0o600}


def test_a_private_half_never_lies_there_in_the_clear(begun: Path) -> None:
    for name in (FIRM, DEVICE):
        text = (begun / name).read_text()
        assert "BEGIN ENCRYPTED PRIVATE KEY" in text
        assert SECRET not in text


def test_nothing_is_left_beside_what_was_written(begun: Path) -> None:
    assert list(begun.rglob(".limen-*")) == []


def test_a_second_beginning_leaves_the_first(begun: Path) -> None:
    before = (begun / FIRM).read_bytes()
    said = refusal(lambda: keys.begin(begun, "Other", "Desk 2", ask))
    assert "Weir & Söhne" in said
    assert str(begun / FIRM) in said
    assert (begun / FIRM).read_bytes() == before


def test_a_short_passphrase_makes_no_key(folder: Path) -> None:
    said = refusal(lambda: keys.begin(folder, "Weir", "Desk", lambda _: "short"))
    assert "8" in said
    assert not (folder / FIRM).exists()
    assert not (folder / DEVICE).exists()


@pytest.mark.parametrize("name", ["", "  ", "two\nlines", "a" * 201, "\x1b[31mred"])
def test_a_name_is_one_readable_line(folder: Path, name: str) -> None:
    assert "one line" in refusal(lambda: keys.begin(folder, name, "Desk", ask))
    assert "one line" in refusal(lambda: keys.begin(folder, "Weir", name, ask))


# Opened -------------------------------------------------------------------------------


def test_a_newcomer_is_told_exactly_what_to_type(folder: Path) -> None:
    assert "limen keys new --firm" in refusal(lambda: keys.hand(folder, ask))


def test_another_passphrase_opens_nothing_and_no_trace_is_shown(begun: Path) -> None:
    said = refusal(lambda: keys.hand(begun, wrong))
    assert "passphrase" in said
    assert str(begun / DEVICE) in said


def test_a_key_that_others_can_read_is_not_used(begun: Path) -> None:
    (begun / DEVICE).chmod(0o640)
    said = refusal(lambda: keys.hand(begun, ask))
    assert f"chmod 600 {begun / DEVICE}" in said


def test_a_key_under_another_ones_name_is_not_used(begun: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    keys.begin(other, "Weir & Söhne", "Desk 1", ask)
    head = (begun / DEVICE).read_bytes().partition(b"-----BEGIN")[0]
    rest = (other / DEVICE).read_bytes().partition(b"-----BEGIN")[2]
    (begun / DEVICE).write_bytes(head + b"-----BEGIN" + rest)
    assert "no key as limen keeps it" in refusal(lambda: keys.hand(begun, ask))


@pytest.mark.parametrize("text", ["", "# only a name\n", "00" * 32, "x" * 30_000])
def test_a_damaged_key_file_is_named(begun: Path, text: str) -> None:
    (begun / DEVICE).write_text(text)
    assert str(begun / DEVICE) in refusal(lambda: keys.hand(begun, ask))


def test_the_passphrase_comes_from_the_file_that_is_named(
    begun: Path, tmp_path: Path
) -> None:
    file = tmp_path / "secret"
    file.write_text(f"{SECRET}\n")
    said = passphrase(wrong, WHAT, {PASSPHRASE_FILE: str(file)})
    assert said == SECRET
    assert passphrase(ask, WHAT, {"LIMEN_PASSPHRASE": "from elsewhere"}) == SECRET


def test_an_empty_or_absent_passphrase_file_is_named(tmp_path: Path) -> None:
    empty = tmp_path / "empty"
    empty.write_text("\n")
    for one in (empty, tmp_path / "none"):
        said = refusal(lambda: passphrase(ask, WHAT, {PASSPHRASE_FILE: str(one)}))  # noqa: B023
        assert str(one) in said


def test_keys_lie_in_the_folder_of_the_library(tmp_path: Path) -> None:
    assert key_folder({"LIMEN_HOME": str(tmp_path)}) == tmp_path / "keys"


# Vouched for, replaced, taken back ----------------------------------------------------


def test_a_phone_that_shows_its_public_half_is_vouched_for(begun: Path) -> None:
    phone = new_key()
    shown = " ".join(phone.public[at : at + 4] for at in range(0, 64, 4)).upper()
    file = keys.vouch(begun, shown, "Phone 2", ask)
    said = certificate_of(file.read_bytes())
    assert (said.device, said.name, said.firm_name) == (
        phone.public,
        "Phone 2",
        "Weir & Söhne",
    )
    sealed = seal_record({"number": 1}, phone, file.read_bytes())
    signer = verify_bytes(sealed, firms=keys.trusted(begun).firms).signer
    assert signer
    assert signer.trusted


@pytest.mark.parametrize("public", ["", "12", "00" * 32, "zz" * 32, "é" * 64])
def test_what_is_no_public_half_is_not_vouched_for(begun: Path, public: str) -> None:
    assert "64 digits" in refusal(lambda: keys.vouch(begun, public, "Phone", ask))


def test_a_new_key_seals_and_what_the_old_one_sealed_is_still_trusted(
    begun: Path,
) -> None:
    old = keys.hand(begun, ask)
    sealed = seal_record({"number": 1}, old.key, old.certificate)
    there = keys.rotate(begun, None, ask)
    new = keys.hand(begun, ask)
    assert new.key.public != old.key.public
    assert there.device
    assert there.device.name == "Desk 1"
    assert [one.here for one in there.devices].count(True) == 1
    assert old.key.public not in (begun / DEVICE).read_text()
    for one in (sealed, seal_record({"number": 2}, new.key, new.certificate)):
        signer = verify_bytes(one, firms=keys.trusted(begun).firms).signer
        assert signer
        assert signer.trusted


def test_a_lost_device_seals_no_longer_and_its_records_are_not_trusted(
    begun: Path,
) -> None:
    hand = keys.hand(begun, ask)
    sealed = seal_record({"number": 1}, hand.key, hand.certificate)
    keys.take_back(begun, "Desk 1", "left in a train", ask)
    (one,) = keys.ring(begun).devices
    assert (one.withdrawn, one.because) == (today(), "left in a train")
    assert "keys rotate" in refusal(lambda: keys.hand(begun, ask))
    known = keys.trusted(begun)
    signer = verify_bytes(sealed, firms=known.firms, withdrawn=known.withdrawn).signer
    assert signer
    assert signer.known
    assert not signer.trusted


def test_after_a_loss_a_new_key_seals_again(begun: Path) -> None:
    keys.take_back(begun, "Desk 1", "left in a train", ask)
    keys.rotate(begun, "Desk 1 again", ask)
    assert keys.hand(begun, ask)


def test_a_withdrawn_key_is_never_vouched_for_again(begun: Path) -> None:
    public = keys.hand(begun, ask).key.public
    keys.take_back(begun, public[:8], "lost", ask)
    assert "rotate" in refusal(lambda: keys.vouch(begun, public, "Desk 1", ask))


def test_a_device_is_named_by_its_digits_where_two_have_one_name(begun: Path) -> None:
    keys.rotate(begun, None, ask)
    old = next(one for one in keys.ring(begun).devices if not one.here)
    assert "eight digits" in refusal(
        lambda: keys.take_back(begun, "Desk 1", "old", ask)
    )
    keys.take_back(begun, old.public[:8], "old", ask)
    gone = {one.public: one.withdrawn for one in keys.ring(begun).devices}
    assert gone[old.public] == today()
    assert list(gone.values()).count(None) == 1


def test_who_is_no_device_is_said_with_those_that_are(begun: Path) -> None:
    said = refusal(lambda: keys.take_back(begun, "Desk 9", "lost", ask))
    assert "Desk 9" in said
    assert "Desk 1" in said


# Two desks ----------------------------------------------------------------------------


def test_a_desk_without_the_firms_key_seals_once_the_firm_has_answered_for_it(
    begun: Path, tmp_path: Path
) -> None:
    away = tmp_path / "away"
    there = keys.begin_device(away, "Laptop 2", ask)
    assert there.device
    said = refusal(lambda: keys.hand(away, ask))
    assert f"limen keys vouch {there.device.public}" in said
    file = keys.vouch(begun, there.device.public, "Laptop 2", ask)
    taken = keys.take_in(away, file)
    assert isinstance(taken, Vouched)
    assert taken.here
    assert keys.hand(away, ask).certificate == file.read_bytes()


def test_a_firm_is_known_by_the_file_that_it_handed_out(
    begun: Path, tmp_path: Path
) -> None:
    away = tmp_path / "away"
    taken = keys.take_in(away, begun / PUBLIC)
    assert isinstance(taken, Named)
    assert taken.name == "Weir & Söhne"
    firm = keys.ring(begun).firm
    assert firm
    assert keys.trusted(away).firms == (firm.public,)


def test_a_withdrawal_is_taken_in_before_anything_else_of_its_device(
    begun: Path, tmp_path: Path
) -> None:
    away = tmp_path / "away"
    file = keys.take_back(begun, "Desk 1", "lost", ask)
    taken = keys.take_in(away, file)
    device = keys.ring(begun).device
    assert device
    assert taken == device.public
    assert keys.trusted(away).withdrawn == (file.read_bytes(),)


def test_what_no_firm_hands_out_is_refused(folder: Path, tmp_path: Path) -> None:
    file = tmp_path / "any"
    for data in (b"", b"limen = 1", b"\xff\xfe", b"{" * 9000, b"x" * 30_000):
        file.write_bytes(data)
        assert str(file) in refusal(lambda: keys.take_in(folder, file))
        assert str(file) in refusal(lambda: keys.trusted(None, (file,)))


def test_a_stranger_withdraws_nothing(begun: Path, tmp_path: Path) -> None:
    hand = keys.hand(begun, ask)
    malice = tmp_path / "malice.json"
    since = date(2026, 11, 2)
    malice.write_bytes(withdraw(new_key(), hand.key.public, "malice", since=since))
    keys.take_in(begun, malice)
    assert keys.hand(begun, ask).key == hand.key
    sealed = seal_record({"number": 1}, hand.key, hand.certificate)
    known = keys.trusted(begun)
    signer = verify_bytes(sealed, firms=known.firms, withdrawn=known.withdrawn).signer
    assert signer
    assert signer.trusted


def test_a_stranger_takes_nobodys_place(begun: Path, tmp_path: Path) -> None:
    """A certificate of another firm for our device must not push ours aside."""
    other = tmp_path / "other"
    keys.begin(other, "Stranger", "Desk", ask)
    hand = keys.hand(begun, ask)
    file = keys.vouch(other, hand.key.public, "Desk 1", ask)
    keys.take_in(begun, file)
    assert keys.hand(begun, ask).certificate == hand.certificate


# The public half ----------------------------------------------------------------------


@given(st.text(st.characters(categories=["L", "N", "P", "S", "Zs"]), max_size=60))
def test_a_public_half_comes_back_with_its_name(name: str) -> None:
    one = Named(new_key().public, name.strip())
    assert public_of(public_text(one)) == one


@given(st.text())
def test_any_text_holds_one_key_or_none(text: str) -> None:
    found = public_of(text)
    assert found is None or found.public in text
