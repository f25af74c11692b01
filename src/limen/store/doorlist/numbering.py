"""Numbers as people write them become numbers as files hold them.

Whatever may mean two things is refused: `1.800` without a word on the decimal sign,
`01/02/2025` without the order of day and month.
"""

import re
from datetime import date
from typing import NoReturn

from limen.quantity import Dimension, QuantityError, parse
from limen.store.doorlist.known import meaning
from limen.store.doorlist.targets import UNITS

Decimal = str | None

_GROUP = 3
_NUMBER = r"\d[\d.,\u0020\u00a0\u202f\u2009'’]*\d|\d"
_AMOUNT = re.compile(rf"({_NUMBER})\s*([^\d\s.,]*[^\d.,]*?)\.?")
_SPACED = re.compile(r"\d{1,3}(?:[\u0020\u00a0\u202f\u2009'’]\d{3})+(?:[.,]\d+)?")
_SIGNS = re.compile(r"[.,]")
_TIMES = re.compile(r"\s*[x×*X]\s*|\s+by\s+|\s+auf\s+|\s+sur\s+")
_FORMULA = tuple("=+-@\u2212\uff1d\uff0b\uff0d\uff20")
DIMENSIONS = {"length": Dimension.LENGTH, "mass": Dimension.MASS}


class CellRefused(Exception):  # noqa: N818 - it refuses; nothing went wrong
    """A cell that cannot be what its column becomes.

    Attributes:
        reason: key of the reason.
        accepted: what would be accepted, ready to be read; may be empty.
    """

    def __init__(self, reason: str, accepted: str = "") -> None:
        """Say why."""
        super().__init__(reason)
        self.reason = reason
        self.accepted = accepted


def is_formula(text: str) -> bool:
    """Whether a program that opens the list may reckon this text."""
    return text.lstrip().startswith(_FORMULA)


def measure(text: str, kind: str, unit: str | None, decimal: Decimal) -> str:
    """A length or a mass with its unit, as a site file holds it.

    Args:
        text: the cell.
        kind: ``length`` or ``mass``.
        unit: unit of bare numbers; None if a number without unit is refused.
        decimal: the decimal sign of the list, if it is known.

    Raises:
        CellRefused: it is no such measure, or may mean two.
    """
    said = " ".join(text.split())
    if is_formula(said):
        raise CellRefused("formula", _example(kind))
    found = _AMOUNT.fullmatch(said)
    if found is None:
        return _as_it_stands(said, kind)
    number = plain_number(found[1], decimal)
    name = found[2].strip()
    known = meaning(name.casefold() if name else "") if name else unit
    if not name and unit is None:
        raise CellRefused("no_unit", _example(kind))
    if known not in UNITS[kind]:
        return _as_it_stands(said, kind)
    return _as_it_stands(f"{number} {known}", kind)


def several(text: str, count: int) -> list[str]:
    """The parts of a size such as ``90x210 cm``: the last one's unit counts for all.

    Raises:
        CellRefused: there are more or fewer parts.
    """
    if is_formula(text):
        raise CellRefused("formula", "90 x 210 cm")
    parts = [part for part in _TIMES.split(text.strip()) if part]
    if len(parts) != count:
        raise CellRefused("parts", "90 x 210 cm")
    found = _AMOUNT.fullmatch(parts[-1])
    unit = found[2].strip() if found else ""
    return [f"{one} {unit}" if _bare(one) and unit else one for one in parts]


def _bare(text: str) -> bool:
    found = _AMOUNT.fullmatch(text)
    return found is not None and not found[2].strip()


def _example(kind: str) -> str:
    return "900 mm" if kind == "length" else "80 kg"


def _as_it_stands(text: str, kind: str) -> str:
    try:
        parse(text, DIMENSIONS[kind])
    except QuantityError:
        raise CellRefused("number", _example(kind)) from None
    return text


# Numbers ---------------------------------------------------------------------------


def plain_number(text: str, decimal: Decimal) -> str:
    """Digits with at most one point.

    Raises:
        CellRefused: it is no number, or may mean two.
    """
    said = text
    if _SPACED.fullmatch(said):
        said = re.sub(r"[^\d.,]", "", said)
    if re.search(r"[^\d.,]", said):
        raise CellRefused("number")
    signs = _SIGNS.findall(said)
    if not signs:
        return said
    if len(set(signs)) > 1:
        return _two_signs(said, signs, decimal)
    if len(signs) > 1:
        return _grouped(said, signs[0], decimal)
    return _one_sign(said, signs[0], decimal)


def _one_sign(text: str, sign: str, decimal: Decimal) -> str:
    whole, part = text.split(sign)
    groups = len(part) == _GROUP and whole.strip("0") != "" and len(whole) <= _GROUP
    if not groups or sign == decimal:
        return f"{whole}.{part}"
    if decimal is None:
        raise CellRefused("comma", f"{whole}{part}; {whole}.{part}")
    return whole + part


def _grouped(text: str, sign: str, decimal: Decimal) -> str:
    """Several signs of one kind part thousands."""
    if sign == decimal or not _in_groups(text.split(sign)):
        raise CellRefused("number")
    return text.replace(sign, "")


def _two_signs(text: str, signs: list[str], decimal: Decimal) -> str:
    """The last one is the decimal sign, if it stands once and fits."""
    last = signs[-1]
    whole, part = text.rsplit(last, 1)
    other = signs[0]
    fits = signs.count(last) == 1 and decimal in (None, last)
    if not fits or not _in_groups(whole.split(other)):
        raise CellRefused("number")
    return f"{whole.replace(other, '')}.{part}"


def _in_groups(parts: list[str]) -> bool:
    first, rest = parts[0], parts[1:]
    return 0 < len(first) <= _GROUP and all(len(one) == _GROUP for one in rest)


def decimal_seen(texts: list[str]) -> tuple[bool, bool]:
    """Whether numbers with a decimal comma are among texts, and with a point."""
    comma = any(re.search(r"\d,(?:\d{1,2}|\d{4,})(?!\d|[.,])", one) for one in texts)
    point = any(re.search(r"\d\.(?:\d{1,2}|\d{4,})(?!\d|[.,])", one) for one in texts)
    return comma, point


# Days --------------------------------------------------------------------------------

_ISO = re.compile(r"(\d{4})-(\d\d)-(\d\d)(?:[T ]00:00(?::00(?:\.0+)?)?)?")
_PARTED = re.compile(r"(\d{1,4})([-./])(\d{1,2})\2(\d{2,4})")
_FOUR = 4
_CENTURY = 2000
EARLIEST = date(1950, 1, 1)


def day(text: str, form: str | None) -> date:
    """A day.

    Args:
        text: the cell.
        form: how days are written in this column; without it only what can mean one
            day is read: 2025-03-31 and 31.03.2025.

    Raises:
        CellRefused: it is no day, or may be two.
    """
    said = " ".join(text.split())
    if is_formula(said):
        raise CellRefused("formula", "2025-03-31")
    iso = _ISO.fullmatch(said)
    if iso:
        return _date(int(iso[1]), int(iso[2]), int(iso[3]))
    found = _PARTED.fullmatch(said)
    if found is None:
        raise CellRefused("day", "2025-03-31; 31.03.2025")
    if form is None and found[2] != "." and len(found[4]) == _FOUR:
        raise CellRefused("day_order", "day = d/m/y; day = m/d/y")
    return _in_form(found, form or "d.m.y")


def _in_form(found: re.Match[str], form: str) -> date:
    sign = "-" if "-" in form else "." if "." in form else "/"
    order = [part[0] for part in form.split(sign)]
    digits = 2 if form.endswith("yy") else _FOUR
    parts = dict(zip(order, (found[1], found[3], found[4]), strict=True))
    if found[2] != sign or len(parts["y"]) != digits:
        raise CellRefused("day", f"day = {form}")
    year = int(parts["y"]) + (_CENTURY if digits == 2 else 0)  # noqa: PLR2004 - digits
    return _date(year, int(parts["m"]), int(parts["d"]))


def _date(year: int, month: int, number: int) -> date:
    try:
        return date(year, month, number)
    except ValueError:
        _no_day()


def _no_day() -> NoReturn:
    raise CellRefused("no_such_day", "2025-03-31")
