"""A fault told by mail: what a code begins, a person writes, and the desk reads back.

RFC 6068 (The 'mailto' URI Scheme, 2010), section 5: line breaks in a body are %0D%0A;
section 2: what is not allowed as it is stands percent-encoded.
RFC 3966 (The tel URI, 2004), section 3.
"""

import re
from contextlib import suppress
from urllib.parse import parse_qs, unquote, urlsplit

import numpy as np
import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st

from limen.draw.code import QUIET, code_square
from limen.exchange.fault_mail import (
    BREAK,
    FIELDS,
    Door,
    Field,
    UnreadableMailError,
    call_address,
    desk_line,
    mail_address,
    mail_body,
    read_mail,
    web_address,
)
from limen.findings import Message
from limen.words import languages, read_in, say

DOOR = Door("deae35006972", "main", "Alder Quay Library", "Main & “old” entrance", 12)
MAIL = "doors@harbour-care.example"
LONGEST = 900
"""Letters of a mail that still fit a code a phone reads from paper 33 mm wide: version
20 of level L holds 858 bytes (ISO/IEC 18004:2015, table 7); ours are less."""

ids = st.from_regex(r"[a-z0-9][a-z0-9-]{0,30}", fullmatch=True)
words = st.text(
    st.characters(
        codec="utf-8",
        exclude_categories=("Cc", "Cs", "Zl", "Zp", "Zs", "Cf", "Cn"),
    )
    | st.just(" "),
    max_size=60,
)


def _plain(text: str) -> bool:
    """What no mail program changes, and no question begins with."""
    one = text.strip()
    asked = [
        say(Message(f"fault_mail.{f}"), language=t) for f in FIELDS for t in TONGUES
    ]
    return not one.startswith((">", "limen-fault", *asked)) and one == text


TONGUES = languages()
answers = words.map(str.strip).filter(_plain)


@given(
    ids,
    ids,
    st.none() | st.integers(1, 999_999),
    st.sampled_from(TONGUES),
    st.fixed_dictionaries(dict.fromkeys(FIELDS, answers)),
)
def test_what_is_written_into_a_mail_is_read_back(
    site: str, doorway: str, record: int | None, tongue: str, told: dict[Field, str]
) -> None:
    door = Door(site, doorway, "Site", "Door", record)
    found = read_mail(mail_body(door, told, language=tongue))
    assert (found.site, found.doorway, found.record) == (site, doorway, record)
    assert found.language == tongue
    assert found.answers == told


@given(st.lists(answers.filter(bool), min_size=1, max_size=4))
def test_several_lines_of_an_answer_stay_several(lines: list[str]) -> None:
    told: dict[Field, str] = {"does": BREAK.join(lines)}
    assert read_mail(mail_body(DOOR, told)).answers["does"] == "\n".join(lines)


@given(st.text(max_size=400))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    with suppress(UnreadableMailError):
        assert read_mail(text).doorway


def test_an_answer_behind_its_question_counts_like_one_below_it() -> None:
    text = mail_body(DOOR).replace("Since when?", "Since when? Monday")
    assert read_mail(text).answers["since"] == "Monday"


@pytest.mark.parametrize("quote", ["> ", ">> ", "\u00a0> ", ">"])
def test_a_quoted_mail_between_other_words_is_read(quote: str) -> None:
    told: dict[Field, str] = {"does": "stays open", "who": "A. Keeper"}
    body = mail_body(DOOR, told).split(BREAK)
    text = "\n".join(["Hello,", "", *(quote + one for one in body), "", "Regards"])
    found = read_mail(text)
    assert found.answers["does"] == "stays open"
    assert found.answers["who"] == "A. Keeper"


@pytest.mark.parametrize("tongue", TONGUES)
def test_no_question_begins_like_another(tongue: str) -> None:
    asked = [say(Message(f"fault_mail.{one}"), language=tongue) for one in FIELDS]
    for one in asked:
        assert [other for other in asked if other.startswith(one)] == [one]


LINE = desk_line(DOOR, "en")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "no text"),
        ("   \n", "no text"),
        ("x" * 20_001, "too long"),
        ("The door sticks.", "limen-fault"),
        (mail_body(DOOR) + f"\n{LINE}x", "several lines"),
        (mail_body(DOOR).replace(" r12 ", " rx "), "changed"),
        (mail_body(DOOR).replace("limen-fault 1", "limen-fault 2"), "newer"),
        (mail_body(DOOR).replace(" r12 en", " r12 xx"), "language"),
        (mail_body(DOOR).replace("Since when?", ""), "missing"),
        (f"Since when?\n{mail_body(DOOR)}", "twice"),
    ],
)
def test_what_cannot_be_read_says_why(text: str, said: str) -> None:
    with pytest.raises(UnreadableMailError, match=said):
        read_mail(text)


def test_questions_in_another_order_are_refused() -> None:
    text = (
        mail_body(DOOR)
        .replace("Since when?", "X")
        .replace("What does the door do?", "Since when?")
    )
    text = text.replace("X", "What does the door do?")
    with pytest.raises(UnreadableMailError, match="another order"):
        read_mail(text)


# Addresses -----------------------------------------------------------------------


@pytest.mark.parametrize("tongue", TONGUES)
def test_an_address_carries_subject_and_body_and_nothing_that_is_not_allowed(
    tongue: str,
) -> None:
    made = mail_address(MAIL, DOOR, language=tongue)
    assert re.fullmatch(r"mailto:[A-Za-z0-9@.%?&=_~-]+(/[A-Za-z0-9@.%?&=_~-]*)*", made)
    parts = urlsplit(made)
    found = parse_qs(parts.query)
    assert parts.path == MAIL
    assert DOOR.door_name in found["subject"][0]
    assert found["body"][0] == mail_body(DOOR, language=tongue)
    assert "%0D%0A" in made
    assert len(made) <= LONGEST


def test_a_page_has_the_doorway_in_its_query_beside_what_stood_there() -> None:
    made = web_address("https://firm.example/faults?form=3", DOOR)
    assert parse_qs(urlsplit(made).query) == {
        "form": ["3"],
        "site": [DOOR.site],
        "doorway": [DOOR.doorway],
        "record": ["12"],
    }


def test_a_number_is_called_without_what_only_eases_reading() -> None:
    assert call_address("+00 (555) 01-42") == "tel:+005550142"


# The code ------------------------------------------------------------------------


def _dots(svg: str) -> np.ndarray:
    """The square as grey values, read from its drawing: runs of dark on rows."""
    size = int(re.search(r'viewBox="0 0 (\d+) (\d+)"', svg)[1])  # pyright: ignore[reportOptionalSubscript]
    grey = np.full((size, size), 255, np.uint8)
    way = re.search(
        r'class="qrline"[^>]* d="([^"]+)"|d="(M[^"]+)"[^>]*class="qrline"', svg
    )
    assert way
    x = y = 0.0
    for step, one, other in re.findall(
        r"([MmhH])(-?[\d.]+)(?:[ ,]?(-?[\d.]+))?", way[1] or way[2]
    ):
        if step == "h":
            grey[int(y), int(x) : int(x + float(one))] = 0
            x += float(one)
        elif step == "m":
            x, y = x + float(one), y + float(other)
        else:
            x, y = float(one), float(other)
    return np.kron(grey, np.ones((6, 6), np.uint8))


@pytest.mark.parametrize(
    "text",
    [
        *(mail_address(MAIL, DOOR, language=one) for one in TONGUES),
        web_address("https://firm.example/faults", DOOR),
        call_address("+00 555 0142"),
    ],
)
def test_another_reader_reads_of_the_code_what_was_written(text: str) -> None:
    found = zxingcpp.read_barcodes(np.ascontiguousarray(_dots(code_square(text))))
    assert [one.text for one in found] == [text]


def test_there_is_white_around_the_code() -> None:
    """ISO/IEC 18004:2015, 9.1: four modules on every side."""
    dots = _dots(code_square("x"))
    assert QUIET == 4
    assert (dots[: 6 * QUIET] == 255).all()
    assert (dots[:, : 6 * QUIET] == 255).all()


def test_the_body_reads_as_it_is_meant_to() -> None:
    read_in("en")
    body = unquote(mail_address(MAIL, DOOR).partition("&body=")[2])
    assert body.splitlines()[0] == "What does the door do?"
    assert body.splitlines()[-1] == "limen-fault 1 deae35006972/main r12 en"
