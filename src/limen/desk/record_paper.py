"""The paper of a record: set from its sealed text, and sealed in its turn."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from limen.desk.drawing import first_to_mend
from limen.desk.fact_words import APART, said_key
from limen.desk.refusal import Refusal
from limen.desk.reporting import Paper, paper_of
from limen.findings import Message
from limen.quantity import Show
from limen.record import seal_paper
from limen.record.certifying import certificate_of
from limen.words import languages, read_as, reading, say

if TYPE_CHECKING:
    from limen.desk.keys import Hand
    from limen.findings import Study

Table = Mapping[str, Any]


def record_paper(
    table: Table,
    sealed: bytes,
    digest: str,
    hand: "Hand",
    *,
    number: int | None,
    contract: str = "",
    study: "Study | None" = None,
    photos: Mapping[str, bytes] | None = None,
    paper: Paper | None = None,
) -> bytes:
    """The PDF of a record, sealed over every byte of it, in the record's own language.

    Args:
        table: what the record says, its visit folded.
        sealed: its sealed text.
        digest: SHA-256 of that.
        hand: what seals the PDF: at the desk, whoever sealed the text.
        number: of the record at its site.
        contract: the whole study as JSON.
        study: what the drawings show; without it there are none.
        photos: those at hand, by SHA-256.
        paper: size of the pages; that of the rulebook's country if not given.

    Raises:
        Refusal: a letter of it cannot be printed.
    """
    from limen.report import ReportError
    from limen.report.record import RecordPaper, record_pdf
    from limen.report.record_pictures import drawn
    from limen.report.tongue import Tongue
    from limen.store.causes import known_causes

    own = _language(table)
    by = certificate_of(_by(table) or hand.certificate)
    try:
        with read_as(own):
            tongue = Tongue(own, Show(str(table.get("units", "metric"))))
            one = RecordPaper(
                table=table,
                sealed=sealed,
                digest=digest,
                contract=contract,
                number=number,
                device=by.name,
                firm=by.firm_name,
                drawn=drawn(study, first_to_mend(study), tongue) if study else (),
                photos=photos or {},
                names=_names(table),
                owed={each.id: each.owed for each in known_causes().causes},
                paper=paper or paper_of(table["study"]["rulebook"]),
                tongue=tongue,
            )
            made = record_pdf(one)
    except ReportError as error:
        told = {"why": str(error)}
        raise Refusal([say(Message("record.new.no_paper", told))]) from error
    return seal_paper(made, hand.key, hand.certificate)


def _language(table: Table) -> str:
    """That of the record; the reader's where there is no catalogue for it."""
    own = str(table.get("language", ""))
    return own if own in languages() else reading()


def _by(table: Table) -> bytes:
    """What the firm says of the device that sealed the text; empty if not there."""
    return str(table.get("by", "")).encode()


def _names(table: Table) -> dict[str, str]:
    """By key of a value that was read its name in words."""
    visit: Table = table.get("visit") or {}
    said = (
        one["said"] for part in ("as_found", "readings") for one in visit.get(part, ())
    )
    keys = {str(one["key"]) for one in said if "key" in one}
    return {key: value_name(str(table["doorway"]), key) for key in keys}


def value_name(doorway: str, key: str) -> str:
    """A key of a doorway in words; as it is written where nobody has words for it."""
    parts = key.split(".")
    way = ["doorway", f"[{doorway}]", *parts]
    if parts[0] == "fitting" and len(parts) > 1:
        way[3] = f"[{parts[1]}]"
    return APART.join(said_key(tuple(way)).split(APART)[1:]) or key
