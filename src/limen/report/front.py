"""The front page: what is to be done, where, by whom, and what is not said."""

from limen.exchange import Tally, tally, together
from limen.findings import Finding, Message, Study, Verdict
from limen.report.contents import Contents
from limen.report.tongue import Plain, Tongue

MOST_NAMED = 3
MOST_PLAIN = 2
MANY = 2


def front(contents: Contents, tongue: Tongue) -> Plain:
    """The front page as plain values."""
    studies = [part.study for part in contents.parts]
    return {
        "site": contents.site,
        "place": contents.place if contents.place != contents.site else "",
        "valid": _valid(contents, tongue),
        "counts": counted(together(studies), tongue),
        "doorways": [_doorway(study, tongue) for study in studies],
        "books": [f"{book.mark}: {book.title}" for book in contents.books],
        "to_confirm": any(f.to_confirm for s in studies for f in s.findings),
    }


def day_of(contents: Contents, tongue: Tongue) -> str:
    """The day in words, as "12 November 2026"."""
    return tongue.day(contents.on)


def counted(counts: Tally, tongue: Tongue) -> list[Plain]:
    """Each count with its words and whose work it is; what is advised only if any."""
    every = (
        ("mend", counts.mend),
        ("measure", counts.measure),
        ("office", counts.office),
        ("advised", counts.advised),
    )
    return [
        {
            "count": number,
            "kind": kind,
            "words": _alone(kind, number or MANY, tongue),
            "said": tongue.count(f"tally.{kind}", number),
            "who": tongue.say(Message(f"report.who.{kind}")) if number else "",
        }
        for kind, number in every
        if number or kind != "advised"
    ]


def _alone(kind: str, number: int, tongue: Tongue) -> str:
    """The words of a count whose number stands above them."""
    return tongue.count(f"tally.{kind}", number).removeprefix(f"{number} ")


def _valid(contents: Contents, tongue: Tongue) -> str:
    return tongue.say(Message("report.valid", {"day": day_of(contents, tongue)}))


def _doorway(study: Study, tongue: Tongue) -> Plain:
    counts = tally(study.findings)
    mend = study.musts(Verdict.FAILS)
    return {
        "id": study.doorway.id,
        "name": study.doorway.name,
        "state": "mend" if counts.mend else "unshown" if _unshown(study) else "none",
        "counts": counted(counts, tongue),
        "lines": _lines(study, mend, tongue),
    }


def _unshown(study: Study) -> tuple[Finding, ...]:
    return study.musts(Verdict.NOT_SHOWN)


def _lines(study: Study, mend: tuple[Finding, ...], tongue: Tongue) -> list[str]:
    """What a doorway is about, in at most two sentences."""
    if mend:
        first = next((one.remedy for one in mend if one.remedy), None)
        return [_plainly(mend, tongue), *([tongue.say(first.message)] if first else [])]
    unshown = _unshown(study)
    key = "report.about.unshown" if unshown else "report.about.none"
    return [tongue.say(Message(key, {"what": _named(unshown, tongue)}))]


def _plainly(mend: tuple[Finding, ...], tongue: Tongue) -> str:
    """What fails, in words for someone who knows no door: the first few."""
    questions = list(dict.fromkeys(one.question for one in mend))
    said = dict.fromkeys(tongue.plainly(one) for one in questions)
    more = len(said) - MOST_PLAIN
    text = " ".join(list(said)[:MOST_PLAIN])
    return f"{text} {tongue.count('report.about.further', more)}" if more > 0 else text


def _named(findings: tuple[Finding, ...], tongue: Tongue) -> str:
    """The questions by name, the first few."""
    names = list(dict.fromkeys(tongue.question(one.question) for one in findings))
    more = len(names) - MOST_NAMED
    said = tongue.apart(names[:MOST_NAMED])
    if more <= 0:
        return said
    return tongue.say(Message("report.about.more", {"what": said, "count": more}))
