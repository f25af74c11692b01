"""Taking typed values out of a table of data, collecting what is wrong.

A reader never stops at the first mistake: it notes it, hands back an empty value
of the right type and reads on. Whoever reads the whole file raises at the end.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import cast

from limen.rules.mistakes import Mistake


@dataclass(frozen=True, slots=True)
class Table:
    """A table that is being read, with its place.

    Attributes:
        data: keys and values as parsed.
        mistakes: where mistakes are collected; shared by all tables of a file set.
        file: the file it stands in.
        rule: the rule it belongs to, if any.
        path: the key path of this table inside the rule or file.
    """

    data: Mapping[str, object]
    mistakes: list[Mistake]
    file: str
    rule: str = ""
    path: str = ""

    def wrong(self, key: str, why: str) -> None:
        """Note a mistake at a key of this table."""
        where = f"{self.path}.{key}" if self.path and key else self.path or key
        self.mistakes.append(Mistake(self.file, self.rule, where, why))

    def only(self, accepted: Collection[str]) -> None:
        """Note every key that is not among the accepted ones."""
        for key in self.data:
            if key not in accepted:
                self.wrong(key, f"unknown key; known here: {', '.join(accepted)}")

    def text(self, key: str, *, needed: bool = True) -> str:
        """A text that is not blank; blank when absent or wrong."""
        value = self._value(key, needed=needed)
        if value is None:
            return ""
        if isinstance(value, str) and value.strip():
            return value
        self.wrong(key, f"{value!r} found; a text in quotes is needed")
        return ""

    def choice(self, key: str, accepted: Collection[str]) -> str:
        """A text that is one of the accepted words; blank when wrong."""
        value = self.text(key)
        if value and value not in accepted:
            self.wrong(key, f"{value!r} found; one of: {', '.join(accepted)}")
            return ""
        return value

    def flag(self, key: str) -> bool:
        """Yes or no; absent means no."""
        value = self._value(key, needed=False)
        if value is None or isinstance(value, bool):
            return bool(value)
        self.wrong(key, f"{value!r} found; true or false is needed")
        return False

    def day(self, key: str, *, needed: bool = False) -> date | None:
        """A date without a time."""
        value = self._value(key, needed=needed)
        if value is None:
            return None
        if isinstance(value, date) and not isinstance(value, datetime):
            return value
        self.wrong(key, f"{value!r} found; a date without quotes, as 2024-09-01")
        return None

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of texts; absent means none."""
        value = self._value(key, needed=False)
        items = cast("list[object]", value) if isinstance(value, list) else None
        if value is None:
            return ()
        if items is not None and all(isinstance(item, str) for item in items):
            return tuple(str(item) for item in items)
        self.wrong(key, f"{value!r} found; a list of texts is needed")
        return ()

    def table(self, key: str, *, needed: bool = True) -> "Table | None":
        """A table inside this one."""
        value = self._value(key, needed=needed)
        if value is None:
            return None
        if isinstance(value, dict):
            return self._inner(key, cast("dict[str, object]", value))
        self.wrong(key, f"{value!r} found; a table is needed")
        return None

    def tables(self, key: str) -> "tuple[Table, ...]":
        """A list of tables inside this one; absent means none."""
        value = self._value(key, needed=False)
        if value is None:
            return ()
        if not isinstance(value, list):
            self.wrong(key, f"{value!r} found; a list of tables is needed")
            return ()
        return self._numbered(key, cast("list[object]", value))

    def _numbered(self, key: str, items: list[object]) -> "tuple[Table, ...]":
        found: list[Table] = []
        for number, item in enumerate(items, start=1):
            if isinstance(item, dict):
                data = cast("dict[str, object]", item)
                found.append(self._inner(f"{key}[{number}]", data))
            else:
                self.wrong(f"{key}[{number}]", f"{item!r} found; a table is needed")
        return tuple(found)

    def _inner(self, key: str, data: Mapping[str, object]) -> "Table":
        path = f"{self.path}.{key}" if self.path else key
        return replace(self, data=data, path=path)

    def _value(self, key: str, *, needed: bool) -> object | None:
        value = self.data.get(key)
        if value is None and needed:
            self.wrong(key, "is missing")
        return value
