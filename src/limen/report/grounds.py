"""Where every number came from: figures, values, files."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from importlib.metadata import version
from typing import cast

from limen.findings import Message
from limen.model.doorway import Doorway
from limen.quantity import Grade
from limen.report.contents import Contents, Limit
from limen.report.tongue import Plain, Tongue
from limen.words import SOURCE

_NUMBER = re.compile(r"[-−]?\d")
_STATED = "stated"
_GRADES = {str(grade) for grade in Grade}


def grounds(contents: Contents, tongue: Tongue, digest: str) -> Plain:
    """The last pages as plain values.

    Args:
        contents: of the report.
        tongue: of the reader.
        digest: SHA-256 of the findings that travel inside the document.
    """
    return {
        "limits": _limits(contents.limits, tongue),
        "books": [
            {"mark": one.mark, "title": one.title, "digest": one.digest}
            for one in contents.books
        ],
        "grades": [_graded(one, tongue) for one in _used(contents.limits)],
        "notes": [*_foreign(tongue), *_notes(contents)],
        "files": [{"name": n, "digest": d} for n, d in contents.files.items()],
        "findings": digest,
        "version": version("limen"),
        "values": [_doorway(part.study.doorway, tongue) for part in contents.parts],
    }


def _foreign(tongue: Tongue) -> list[str]:
    """In which language the rulebooks speak, for a reader of another one."""
    if tongue.language == SOURCE:
        return []
    return [tongue.say(Message("layout.rulebook_language"))]


def _notes(contents: Contents) -> list[str]:
    return list(dict.fromkeys(n for one in contents.books for n in one.notes))


def _limits(limits: Sequence[Limit], tongue: Tongue) -> list[Plain]:
    """One row a figure; the question stands in the first of its rows.

    Two rules of a question may rest on the same figure: it stands once.
    """
    rows: list[Plain] = []
    before: tuple[str, str] | None = None
    for one in dict.fromkeys(limits):
        now = one.rulebook, one.question
        rows.append({**_limit(one, tongue), "first": now != before})
        before = now
    return rows


def _used(limits: Sequence[Limit]) -> list[str]:
    """The grades that stand in the table, best first."""
    found = {one.grade for one in limits if one.value}
    return [str(grade) for grade in Grade if str(grade) in found]


def _graded(grade: str, tongue: Tongue) -> list[str]:
    return [_short(grade, tongue), tongue.say(Message(f"grade.{grade}"))]


def _short(grade: str, tongue: Tongue) -> str:
    return tongue.say(Message(f"grade_short.{grade}"))


def _limit(limit: Limit, tongue: Tongue) -> Plain:
    none = tongue.say(Message("cli.no_figure"))
    return {
        "rulebook": limit.rulebook,
        "question": tongue.question(limit.question),
        "name": limit.name.replace("_", " "),
        "value": limit.value or none,
        "source": tongue.clause(limit.document, limit.clause),
        "grade": _short(limit.grade, tongue) if limit.value else "",
    }


def _doorway(door: Doorway, tongue: Tongue) -> Plain:
    """What the file states of a doorway, as it stands there, and its grades."""
    values = door.model_dump(mode="json", exclude_none=True)
    rows = [_value(key, text) for key, text in flat(values)]
    grades = Counter(grade for _, _, grade in rows if grade != _STATED)
    said = [
        f"{count} {tongue.say(Message(f'grade.{grade}'))}"
        for grade, count in sorted(grades.items())
    ]
    return {
        "name": door.name,
        "grades": " · ".join(said),
        "groups": _groups(rows, tongue),
    }


def _groups(rows: Sequence[tuple[str, str, str]], tongue: Tongue) -> list[Plain]:
    """The values of one thing together, their keys without the way to it."""
    groups: dict[str, list[list[str]]] = {}
    for key, value, grade in rows:
        name, within, rest = key.partition("].")
        name = f"{name}]" if within else ""
        said = [rest or key, value, _mark(grade, tongue)]
        groups.setdefault(name, []).append(said)
    return [{"name": name, "rows": said} for name, said in groups.items()]


def _mark(grade: str, tongue: Tongue) -> str:
    """The grade in words, where it is neither the usual one nor none at all."""
    if grade in (_STATED, Grade.MEASURED):
        return ""
    return tongue.say(Message(f"grade.{grade}"))


def _value(key: str, text: str) -> tuple[str, str, str]:
    """A value and its grade: written behind it, else measured if it is a number."""
    value, _, last = text.rpartition(", ")
    if value and last in _GRADES:
        return key, value, last
    measured = bool(_NUMBER.match(text)) and " " in text.replace("°", " ")
    return key, text, Grade.MEASURED.value if measured else _STATED


def flat(values: Mapping[str, object], above: str = "") -> Iterator[tuple[str, str]]:
    """Walk nested values: key as in a file, and text.  What is empty is left out."""
    for name, value in values.items():
        yield from _flat(f"{above}{name}", value)


def _flat(key: str, value: object) -> Iterator[tuple[str, str]]:
    if isinstance(value, Mapping):
        yield from flat(cast("Mapping[str, object]", value), f"{key}.")
    elif isinstance(value, list | tuple):
        yield from _listed(key, cast("Sequence[object]", value))
    else:
        yield key, str(value).lower() if isinstance(value, bool) else str(value)


def _listed(key: str, items: Sequence[object]) -> Iterator[tuple[str, str]]:
    if items and not any(isinstance(one, Mapping) for one in items):
        yield key, ", ".join(str(one) for one in items)
        return
    for number, item in enumerate(items):
        if isinstance(item, Mapping):
            table = cast("Mapping[str, object]", item)
            name = table.get("id") or table.get("side") or number + 1
            yield from flat(table, f"{key}[{name}].")
