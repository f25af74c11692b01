"""The owner's page says what is kept of the door, and whom to tell; and its files are
whole."""

import json
import re
from collections.abc import Iterator
from datetime import date
from hashlib import sha256
from html.parser import HTMLParser
from importlib.resources import files
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from limen.desk.library import Desk, open_desk
from limen.desk.library_sites import import_text
from limen.desk.owner import owner_file, owner_page, owner_paper, write_owner
from limen.desk.refusal import Refusal
from limen.exchange.fault_mail import read_mail
from limen.store.database.records import keep_record
from limen.words import languages

DAY = date(2026, 11, 26)
STATED = files("limen").joinpath("demo", "alder-quay-corrected.toml").read_text("utf-8")
DEMO = re.sub(r"(?m)^faults = .*\n", "", STATED)
"""The invented building, without the addresses that it states."""
TO = '[faults]\nmail = "doors@firm.example"\nphone = "+00 555 0142"\n\n[[doorway]]'
SIZES = {"a4": (595, 842), "letter": (612, 792)}  # points: ISO 216; ANSI Y14.1
PROMISES = re.compile(r"\b(safe|ok|compliant|certified)\b", re.IGNORECASE)


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    opened = open_desk(
        tmp_path_factory.mktemp("desk") / "library.db", today=lambda: DAY
    )
    yield opened
    opened.library.close()


@pytest.fixture
def told(desk: Desk) -> str:
    """A site that states where faults are told."""
    return import_text(desk, DEMO.replace("[[doorway]]", TO, 1)).id


@pytest.fixture
def silent(desk: Desk) -> str:
    """A site that does not."""
    return import_text(desk, DEMO).id


def _record(desk: Desk, site: str, number: int, *parents: str) -> str:
    sealed = json.dumps({"record": {"parents": parents, "files": {}}}).encode()
    digest = sha256(f"{site}{number}".encode()).hexdigest()
    keep_record(desk.library, site, "main", digest=digest, sealed=sealed)
    return digest


class Page(HTMLParser):
    """What a page loads, links to and asks for."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))


def test_a_door_without_a_record_says_so(desk: Desk, told: str) -> None:
    one = owner_page(desk, told, "main", language="en").page
    assert "There is no record of this door yet." in one.kept
    assert one.digest == ""


def test_number_and_head_digest_of_the_last_record_stand_there(
    desk: Desk, told: str
) -> None:
    first = _record(desk, told, 1)
    last = _record(desk, told, 2, first)
    one = owner_page(desk, told, "main", language="en")
    assert any(line.startswith("Record 2 of ") for line in one.page.kept)
    assert one.page.digest.replace(" ", "") == last
    # A chain of two ends: none of them may be missing unnoticed.
    other = _record(desk, told, 3, first)
    both = owner_page(desk, told, "main", language="en").page
    assert {o.replace(" ", "") for o in both.digest.split(", ")} == {last, other}
    assert both.digest_says.startswith("Digests")


def test_the_next_check_stands_there(desk: Desk, told: str) -> None:
    one = owner_page(desk, told, "main", language="en").page
    assert "Next full check by 17 March 2027" in one.kept


def test_a_fault_is_written_first_and_called_second(desk: Desk, told: str) -> None:
    one = owner_page(desk, told, "main", language="en")
    assert [way.address[:7] for way in one.ways] == ["mailto:", "tel:+00"]
    assert one.page.call == ("Telephone: +00 555 0142", "Mail: doors@firm.example")
    assert one.code is not None


def test_without_an_address_there_is_no_code_and_a_line_to_write_on(
    desk: Desk, silent: str
) -> None:
    one = owner_page(desk, silent, "main", language="en")
    assert (one.ways, one.code, one.page.call) == ((), None, ())
    made = PdfReader(BytesIO(owner_paper(desk, silent, "main", ["en"]).data))
    assert "No address for faults is stated" in made.pages[0].extract_text()


def test_an_escape_route_is_never_to_be_locked(desk: Desk, told: str) -> None:
    wrong = " ".join(owner_page(desk, told, "escape", language="en").page.wrong)
    assert "Never lock it closed while anybody is inside" in wrong
    assert "or lock it closed" not in wrong


@pytest.mark.parametrize("paper", SIZES)
@pytest.mark.parametrize("doorway", ["main", "escape"])
def test_the_sheet_has_a_front_and_a_log_of_31_days(
    desk: Desk, told: str, doorway: str, paper: str
) -> None:
    made = owner_paper(desk, told, doorway, ["en"], paper=paper)  # pyright: ignore[reportArgumentType]
    read = PdfReader(BytesIO(made.data))
    assert len(read.pages) == 2
    box = read.pages[0].mediabox
    assert (round(box.width), round(box.height)) == SIZES[paper]
    front, back = (page.extract_text() for page in read.pages)
    one = owner_page(desk, told, doorway, language="en").page
    for step in one.steps:
        assert step.title.split()[0] in front
    days = {int(n) for n in re.findall(r"^(\d{1,2})$", back, re.MULTILINE)}
    assert days == set(range(1, 32))
    assert not PROMISES.search(front + back)


def test_each_further_language_takes_a_sheet_more(desk: Desk, told: str) -> None:
    made = owner_paper(desk, told, "staff", ["en", "de", "en"])
    assert len(PdfReader(BytesIO(made.data)).pages) == 4


def test_the_paper_is_a_pdf_that_lasts_and_can_be_read_aloud(
    desk: Desk, told: str
) -> None:
    """PDF/A-3a and PDF/UA-1 as it says itself; every picture has words."""
    read = PdfReader(BytesIO(owner_paper(desk, told, "main", ["en"]).data))
    says = read.metadata
    assert says is not None
    assert says.title == "Daily check: Main entrance, on the quay"
    xmp = read.trailer["/Root"]["/Metadata"].get_data().decode()  # pyright: ignore[reportIndexIssue, reportAttributeAccessIssue]
    assert "<pdfaid:part>3<" in xmp
    assert "<pdfuaid:part>1<" in xmp


def test_the_same_door_on_the_same_day_gives_the_same_paper(
    desk: Desk, told: str
) -> None:
    one, other = (owner_paper(desk, told, "main", ["en"]).data for _ in range(2))
    assert one == other


# The page for the phone ----------------------------------------------------------


@pytest.mark.parametrize("language", languages())
def test_the_page_for_the_phone_runs_nothing_and_loads_nothing(
    desk: Desk, told: str, language: str
) -> None:
    text = owner_file(desk, told, "main", language=language).data.decode()
    page = Page(text)
    assert not {tag for tag, _ in page.tags} & {
        "script",
        "link",
        "img",
        "iframe",
        "form",
    }
    for _, attrs in page.tags:
        assert not {one for one in attrs if one.startswith("on") or one == "style"}
    addresses = [attrs["href"] for tag, attrs in page.tags if tag == "a"]
    assert [str(one).partition(":")[0] for one in addresses] == ["mailto", "tel"]
    assert page.tags[0] == ("html", {"lang": language})


def test_its_policy_names_its_style_and_nothing_else(desk: Desk, told: str) -> None:
    from base64 import b64encode

    text = owner_file(desk, told, "main", language="en").data.decode()
    style = re.search(r"<style>(.*?)</style>", text, re.DOTALL)
    assert style
    named = b64encode(sha256(style[1].encode()).digest()).decode()
    policy = re.search(r'Policy" content="([^"]+)"', text)
    assert policy
    assert f"style-src 'sha256-{named}'" in policy[1]
    assert policy[1].startswith("default-src 'none'")


def test_what_its_link_begins_is_read_back_at_the_desk(desk: Desk, told: str) -> None:
    from urllib.parse import parse_qs, urlsplit

    text = owner_file(desk, told, "main", language="en").data.decode()
    link = next(
        attrs["href"]
        for tag, attrs in Page(text).tags
        if tag == "a" and str(attrs["href"]).startswith("mailto:")
    )
    body = parse_qs(urlsplit(str(link)).query)["body"][0]
    found = read_mail(body)
    assert (found.site, found.doorway, found.record) == (told, "main", None)


def test_names_of_a_site_are_no_markup(desk: Desk) -> None:
    name = 'name = "Quay <script>alert(1)</script> & Co"'
    site = import_text(desk, DEMO.replace('name = "Alder Quay Library"', name, 1)).id
    text = owner_file(desk, site, "main", language="en").data.decode()
    assert "<script" not in text
    assert "Quay &lt;script&gt;" in text


# Files ---------------------------------------------------------------------------


def test_files_are_named_after_site_and_door(
    desk: Desk, told: str, tmp_path: Path
) -> None:
    made = write_owner(desk, told, "main", ["en"], out=tmp_path, html=True)
    assert [one.name for one in made.files] == ["alder-quay-library-main-owner.html"]
    named = write_owner(desk, told, "main", ["en"], out=tmp_path / "a.pdf")
    assert named.files == (tmp_path / "a.pdf",)
    assert named.files[0].read_bytes().startswith(b"%PDF")


def test_all_doors_of_a_site_go_into_a_folder(
    desk: Desk, told: str, tmp_path: Path
) -> None:
    made = write_owner(desk, told, None, ["en"], out=tmp_path / "all", html=True)
    assert len(made.files) == 5
    assert {one.parent for one in made.files} == {tmp_path / "all"}


def test_a_door_that_is_not_there_is_refused(desk: Desk, told: str) -> None:
    with pytest.raises(Refusal):
        owner_paper(desk, told, "nowhere", ["en"])
