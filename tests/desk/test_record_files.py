"""Records as `limen record new` makes them: what they say, how they hang together."""

import json
import stat
from collections.abc import Callable
from datetime import UTC, datetime
from hashlib import sha256
from importlib.resources import files
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from builders.records import events
from limen.desk import keys
from limen.desk.record_files import Written, new_record
from limen.desk.record_visit import read_visit
from limen.desk.refusal import Refusal
from limen.desk.verifying import check_bytes, record_inside
from limen.findings import Message
from limen.record import digest_of, verify_bytes
from limen.record.canonical import canonical, read

SITE = Path(str(files("limen").joinpath("demo", "alder-quay-corrected.toml")))
DOOR = "staff"


def ask(_: Message) -> str:
    return "three grey herons"


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("home")
    keys.begin(folder / "keys", "Weir & Söhne", "Desk 1", ask)
    return folder


@pytest.fixture(autouse=True)
def at_home(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LIMEN_HOME", str(home))
    monkeypatch.delenv(keys.PASSPHRASE_FILE, raising=False)


@pytest.fixture(scope="module")
def made(home: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Written, ...]:
    """Two records one after the other: without a visit, then with one."""
    folder = tmp_path_factory.mktemp("records")
    visit = folder / "visit" / "events.json"
    visit.parent.mkdir()
    visit.write_text(json.dumps({"events": events(DOOR)}))
    out = folder / "out"
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LIMEN_HOME", str(home))
        first = new_record(SITE, DOOR, out, ask)
        second = new_record(SITE, DOOR, out, ask, visit=visit)
    return first, second


def refusal(work: Callable[[], object]) -> str:
    with pytest.raises(Refusal) as caught:
        work()
    return str(caught.value)


def known(home: Path) -> keys.Trusted:
    return keys.trusted(home / "keys")


# What is made -------------------------------------------------------------------------


def test_record_and_paper_are_unchanged_and_of_a_known_firm(
    made: tuple[Written, ...], home: Path
) -> None:
    for one in made:
        for path in (one.record, one.paper):
            assert check_bytes(path.read_bytes(), known(home))[1] == "unchanged"
        assert digest_of(one.record.read_bytes()) == one.digest


def test_a_record_is_short_and_canonical(made: tuple[Written, ...]) -> None:
    text = made[0].record.read_bytes()
    assert len(text) <= 20_000
    assert canonical(json.loads(text)) == text


def test_the_record_says_what_was_judged_and_by_what(made: tuple[Written, ...]) -> None:
    record = verify_bytes(made[0].record.read_bytes()).record
    assert record
    assert (record["kind"], record["doorway"], record["number"]) == ("record", DOOR, 1)
    site = sha256(SITE.read_bytes()).hexdigest()
    said = json.loads(json.dumps(record))
    assert site in said["files"].values()
    claimed = datetime.fromisoformat(str(record["claimed"]))
    assert claimed.tzinfo == UTC
    study = said["study"]
    assert {one["verdict"] for one in study["findings"]} >= {"holds", "not asked"}
    by = {at for one in study["findings"] for at in one["by"]}
    assert by == set(range(len(study["authorities"])))


def test_each_record_names_the_one_before_it(made: tuple[Written, ...]) -> None:
    first, second = (verify_bytes(one.record.read_bytes()).record for one in made)
    assert first
    assert second
    assert first["parents"] == []
    assert second["parents"] == [made[0].digest]
    assert second["number"] == 2


def test_the_paper_carries_the_record_and_the_whole_study(
    made: tuple[Written, ...],
) -> None:
    for one in made:
        inside = PdfReader(one.paper).attachments
        assert inside["record.json"] == [one.record.read_bytes()]
        record = verify_bytes(one.record.read_bytes()).record
        assert record
        whole = sha256(inside["findings.json"][0]).hexdigest()
        assert whole == json.loads(json.dumps(record))["study"]["contract"]
        assert record_inside(one.paper.read_bytes()) == one.record.read_bytes()


def test_the_sealed_paper_is_pdf_a_3_and_reads_aloud(
    made: tuple[Written, ...],
) -> None:
    """ISO 19005-3 and ISO 14289-1, as far as the file itself shows it.

    No independent validator has been asked.
    """
    reader = PdfReader(made[1].paper, strict=True)
    root: Any = reader.trailer["/Root"]
    metadata = root["/Metadata"].get_data()
    assert b"<pdfaid:part>3</pdfaid:part>" in metadata
    assert b"<pdfaid:conformance>A</pdfaid:conformance>" in metadata
    assert b"<pdfuaid:part>1</pdfuaid:part>" in metadata
    assert len(root["/OutputIntents"]) == 1
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert not reader.is_encrypted
    related = {one.get_object()["/AFRelationship"] for one in root["/AF"]}
    assert related == {"/Data"}


def test_without_a_visit_it_says_that_nothing_was_tested(
    made: tuple[Written, ...],
) -> None:
    said = _text(made[0].paper)
    assert "Nobody was at the door for this record." in said
    assert "Nothing was tested" in said
    assert "Every test at the door." in said


def test_the_hand_over_stands_before_everything_else(made: tuple[Written, ...]) -> None:
    said = _text(made[1].paper)
    at = [
        said.index(words)
        for words in (
            "Left in use with defects.",
            "Header cover is loose. Told to A. Keeper.",
            "What was tested",
            "What was not tested",
            "What was found",
            "What a seal shows, and what not",
        )
    ]
    assert at == sorted(at)


def test_the_last_answer_to_a_test_counts_and_what_was_taken_back_is_kept(
    made: tuple[Written, ...],
) -> None:
    said = _text(made[1].paper)
    assert said.count("leaf touched the box") == 0
    assert "the plug is behind glued glass" in said
    assert "mat curls up at the left post" in said[said.index("Taken back") :]


def test_number_and_digest_stand_on_the_paper(made: tuple[Written, ...]) -> None:
    said = _text(made[1].paper)
    assert "record 2" in said
    groups = " ".join(made[1].digest[at : at + 4] for at in range(0, 64, 4))
    assert groups in said


def test_no_probability_stands_in_a_record(made: tuple[Written, ...]) -> None:
    text = made[1].record.read_text()
    assert "probab" not in text
    assert '"weights"' not in text


# A folder of records ------------------------------------------------------------------


def test_a_second_doorway_has_its_own_chain_and_the_next_number(
    made: tuple[Written, ...], tmp_path: Path
) -> None:
    first = tmp_path / made[0].record.name
    first.write_bytes(made[0].record.read_bytes())
    done = new_record(SITE, "main", tmp_path, ask)
    record = verify_bytes(done.record.read_bytes()).record
    assert record
    assert (record["number"], record["parents"]) == (2, [])


def test_a_record_of_which_only_the_paper_is_left_counts_once(
    made: tuple[Written, ...], tmp_path: Path
) -> None:
    for path in (made[0].paper, made[1].record, made[1].paper):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    done = new_record(SITE, DOOR, tmp_path, ask)
    record = verify_bytes(done.record.read_bytes()).record
    assert record
    assert (record["number"], record["parents"]) == (3, [made[1].digest])


def test_a_paper_that_was_changed_is_not_passed_over(
    made: tuple[Written, ...], tmp_path: Path
) -> None:
    paper = made[0].paper.read_bytes()
    (tmp_path / "mine.pdf").write_bytes(paper.replace(b"%limen-by", b"%limen-By", 1))
    said = refusal(lambda: new_record(SITE, DOOR, tmp_path, ask))
    assert "not what was sealed" in said


def test_nothing_is_put_after_a_record_that_was_changed(
    made: tuple[Written, ...], tmp_path: Path
) -> None:
    text = made[0].record.read_bytes()
    (tmp_path / "record-0001-staff.json").write_bytes(text.replace(b"must", b"Must", 1))
    said = refusal(lambda: new_record(SITE, DOOR, tmp_path, ask))
    assert "not what was sealed" in said
    assert len(list(tmp_path.iterdir())) == 1


def test_other_files_in_the_folder_are_left_alone(tmp_path: Path) -> None:
    (tmp_path / "other.json").write_text("{}")
    (tmp_path / "notes.txt").write_text("mine")
    done = new_record(SITE, DOOR, tmp_path, ask)
    assert done.number == 1
    assert (tmp_path / "other.json").read_text() == "{}"


def test_a_file_that_is_there_is_never_replaced(tmp_path: Path) -> None:
    there = tmp_path / f"record-0001-{DOOR}.pdf"
    there.write_text("mine")
    assert "stays as it is" in refusal(lambda: new_record(SITE, DOOR, tmp_path, ask))
    assert there.read_text() == "mine"
    assert list(tmp_path.iterdir()) == [there]


def test_without_a_key_a_newcomer_is_told_what_to_type(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LIMEN_HOME", str(tmp_path / "new"))
    said = refusal(lambda: new_record(SITE, DOOR, tmp_path, ask))
    assert 'limen keys new --firm "' in said


def test_an_unknown_doorway_is_said_with_those_that_are(tmp_path: Path) -> None:
    assert "vestibule" in refusal(lambda: new_record(SITE, "none", tmp_path, ask))


# Photos -------------------------------------------------------------------------------

PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d49484452000000010000000108000000003a7e9b55"
    "0000000a49444154789c6360000000020001"
    "48afa4710000000049454e44ae426082"
)
"""A white pixel, the least of a PNG (ISO/IEC 15948:2004)."""


def test_photos_at_hand_travel_inside_and_others_are_named(tmp_path: Path) -> None:
    here, away = sha256(PNG).hexdigest(), "cd" * 32
    pictures = [
        {"name": "post.png", "sha256": here, "bytes": len(PNG), "of": "left post"},
        {"name": "far.jpg", "sha256": away, "bytes": 10},
    ]
    told = events(DOOR)
    for number, one in enumerate(pictures, len(told) + 1):
        photo = {**one, "width": 1, "height": 1}
        base = {**told[0], "seq": number, "kind": "photo", "said": photo}
        told.append({**base, "id": told[0]["id"][:-2] + f"{40 + number}"})
    (tmp_path / "any-name.png").write_bytes(PNG)
    visit = tmp_path / "visit.json"
    visit.write_text(json.dumps(told))
    done = new_record(SITE, DOOR, tmp_path / "out", ask, visit=visit)
    assert done.photos_missing == (away,)
    inside = PdfReader(done.paper).attachments
    assert [PNG] in list(inside.values())
    said = _text(done.paper)
    assert "left post" in said
    assert "not at hand" in said


# What is sent as a visit --------------------------------------------------------------


def test_events_of_another_doorway_are_refused(tmp_path: Path) -> None:
    file = tmp_path / "visit.json"
    file.write_text(json.dumps(events("main")))
    assert "main" in refusal(lambda: read_visit(file, DOOR))


def test_events_of_two_visits_are_refused(tmp_path: Path) -> None:
    one = events(DOOR)
    one[3]["visit"] = one[3]["visit"].replace("4f0c", "4f0d")
    file = tmp_path / "visit.json"
    file.write_text(json.dumps(one))
    assert "several visits" in refusal(lambda: read_visit(file, DOOR))


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "{}", '{"events": []}', "[1]", '{"events": 3}', "[" * 100_000],
)
def test_what_holds_no_events_is_refused_in_one_line(tmp_path: Path, text: str) -> None:
    file = tmp_path / "visit.json"
    file.write_text(text)
    assert str(file) in refusal(lambda: read_visit(file, DOOR))


def test_each_unusable_event_is_named_by_its_place(tmp_path: Path) -> None:
    one = events(DOOR)
    one[5]["said"]["answer"] = "fine"
    one[7]["seq"] = "eight"
    file = tmp_path / "visit.json"
    file.write_text(json.dumps(one))
    said = refusal(lambda: read_visit(file, DOOR))
    assert "event 6" in said
    assert "event 8" in said


@given(st.recursive(st.none() | st.booleans() | st.floats() | st.text(), st.lists))
def test_any_json_is_folded_or_refused(
    tmp_path_factory: pytest.TempPathFactory, value: object
) -> None:
    file = tmp_path_factory.mktemp("any") / "visit.json"
    file.write_text(json.dumps({"events": [value]}))
    with pytest.raises(Refusal):
        read_visit(file, DOOR)


# Tampered with ------------------------------------------------------------------------


def test_a_changed_byte_anywhere_is_found(
    made: tuple[Written, ...], home: Path
) -> None:
    """A sample; every byte is tried in the slow test below."""
    record, paper = made[1].record.read_bytes(), made[1].paper.read_bytes()
    for file, step in ((record, 61), (paper, 997)):
        for at in range(0, len(file), step):
            turned = file[:at] + bytes([file[at] ^ (1 << at % 8)]) + file[at + 1 :]
            assert check_bytes(turned, known(home))[1] != "unchanged", at


@pytest.mark.parametrize("more", [b" ", b"\n", b"\0", b"%%EOF\n", b"x" * 1000])
def test_appended_bytes_are_found(
    made: tuple[Written, ...], home: Path, more: bytes
) -> None:
    for path in (made[0].record, made[0].paper):
        assert check_bytes(path.read_bytes() + more, known(home))[1] == "changed"


@pytest.mark.slow
def test_every_byte_of_a_record_counts(made: tuple[Written, ...], home: Path) -> None:
    file, knows = made[0].record.read_bytes(), known(home)
    assert len(file) <= 20_000
    for at, byte in enumerate(file):
        other = 0x20 if byte != 0x20 else 0x41
        for new in {byte ^ 1, byte ^ 0x80, other}:
            turned = file[:at] + bytes([new]) + file[at + 1 :]
            assert check_bytes(turned, knows)[1] in {"changed", "unusable"}, at
        assert check_bytes(file[:at] + file[at + 1 :], knows)[1] != "unchanged", at


@pytest.mark.slow
def test_two_thousand_bytes_of_a_paper_count(
    made: tuple[Written, ...], home: Path
) -> None:
    file, knows = made[1].paper.read_bytes(), known(home)
    chance = Random(20261126)
    for at in chance.sample(range(len(file)), 2000):
        turned = (
            file[:at] + bytes([file[at] ^ (1 + chance.randrange(255))]) + file[at + 1 :]
        )
        assert check_bytes(turned, knows)[1] != "unchanged", at


@given(st.binary(max_size=300), st.integers(0, 10**9), st.integers(0, 400))
def test_any_piece_put_in_anywhere_is_found_without_a_trace(
    made: tuple[Written, ...], piece: bytes, at: int, cut: int
) -> None:
    for path in (made[0].record, made[0].paper):
        file = path.read_bytes()
        place = at % len(file)
        changed = file[:place] + piece + file[place + cut :]
        found, state = check_bytes(changed, keys.Trusted())
        assert (state in {"changed", "unusable"}) == (changed != file)
        assert found.unchanged == (changed == file)


def test_files_are_readable_as_others_are(made: tuple[Written, ...]) -> None:
    """A record is handed out; it is no secret."""
    assert stat.S_IMODE(made[0].record.stat().st_mode) & 0o400


def test_a_sealed_record_reads_back(made: tuple[Written, ...]) -> None:
    assert read(made[0].record.read_bytes())["record"]


def _text(paper: Path) -> str:
    pages = PdfReader(paper).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())
