"""All facts of a doorway as fields of forms."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from limen.desk.fact_words import said_choice, said_fact
from limen.desk.facts import Fact, Part, Told
from limen.desk.unknowns import Unknown
from limen.quantity import Show
from limen.web.facts_units import usual_unit
from limen.words import named, retold, say_quantity, say_word

SEPARATOR = "; "
Typed = Mapping[str, Sequence[str]]
Rows = Mapping[str, "Unknown"]


@dataclass(frozen=True, slots=True)
class Field:
    """A fact as a field.

    Attributes:
        key: its name in the form.
        id: its id in the page.
        name: what it is.
        help: what it means.
        kind: which control it has.
        values: what stands in it, one text for each.
        options: value and word of each choice.
        offered: what may be typed, where that can be listed.
        needed: whether it must be stated.
        unknown: whether "not known" is a choice of its own.
        default: what counts while it is not stated, in words; empty for nothing.
        accepted: what is accepted.
        unit: what a bare number counts as.
        read: the same in the reader's units, where it is written in others.
        grade: how well it is known, where it is not simply measured.
        fault: why what was typed is not accepted.
        about: what it holds open, if anything.
    """

    key: str
    id: str
    name: str
    help: str
    kind: str
    values: tuple[str, ...]
    options: tuple[tuple[str, str], ...]
    offered: tuple[str, ...]
    needed: bool
    unknown: bool
    default: str
    accepted: str
    unit: str
    read: str
    grade: str
    fault: str
    about: Unknown | None

    @property
    def text(self) -> str:
        """What stands in it, as one text."""
        return ("\n" if self.kind == "texts" else SEPARATOR).join(self.values)

    @property
    def united(self) -> bool:
        """Whether what stands in it has its unit, so that none need be shown."""
        return any(one.isalpha() or one in "%°" for one in self.text)


@dataclass(frozen=True, slots=True)
class Shown:
    """A part as a form, with the parts within it.

    Attributes:
        key: its name in the form.
        id: its id in the page.
        title: what it is.
        fields: its facts.
        parts: what stands within it.
        listed: whether it is a list; then `blank` is the form of one more.
        stated: whether anything of it is written.
        gone: whether it can be taken out.
        waits: how many of its facts hold something open.
    """

    key: str
    id: str
    title: str
    fields: tuple[Field, ...]
    parts: tuple["Shown", ...] = ()
    listed: bool = False
    stated: bool = False
    gone: bool = False
    waits: int = 0
    blank: "Shown | None" = None


@dataclass(frozen=True, slots=True)
class Dressing:
    """What a form shows besides the facts themselves.

    Attributes:
        system: the reader's units.
        waiting: what holds something open, by the key of its fact.
        typed: what was typed and is not saved.
        faults: why, by key.
    """

    system: Show
    waiting: Rows
    typed: Typed
    faults: Mapping[str, str]

    def part(self, part: Part) -> Shown:
        """A part as a form."""
        inner = tuple(self.part(one) for one in part.parts)
        fields = tuple(self.field(one) for one in part.facts)
        waits = sum(one.about is not None and bool(one.about.opens) for one in fields)
        return Shown(
            part.key,
            id_of("p", part.key),
            _title(part),
            fields,
            inner,
            part.listed,
            part.stated,
            part.gone,
            waits + sum(one.waits for one in inner),
            self._blank(part) if part.listed else None,
        )

    def field(self, fact: Fact) -> Field:
        """A fact as a field."""
        told, key = fact.told, fact.key
        typed = self.typed.get(key)
        return Field(
            key=key,
            id=id_of("f", key),
            name=said_fact(told),
            help=say_word(f"facts.help.{told.model}", told.name),
            kind=told.kind,
            values=fact.values if typed is None else tuple(typed),
            options=_options(told),
            offered=fact.offered,
            needed=told.needed,
            unknown=told.unknown,
            default=_default(told),
            accepted=retold(told.accepted),
            unit=usual_unit(told.dimension, self.system),
            read=_read(fact, self.system),
            grade=_grade(fact),
            fault=self.faults.get(key, ""),
            about=self.waiting.get(key),
        )

    def _blank(self, part: Part) -> Shown:
        key = f"{part.key}.{len(part.parts)}"
        fields = tuple(self.field(one) for one in part.blank)
        title = say_word("facts.one", part.model)
        name = id_of("p", key)
        return Shown(key, name, title, fields)


def id_of(kind: str, key: str) -> str:
    """An id for a page."""
    return f"{kind}-{key.replace('.', '-') or 'doorway'}"


def waiting_of(unknowns: Sequence[Unknown]) -> Rows:
    """What is open by the key of the fact that would settle it."""
    facts = (one for one in unknowns if one.where == "door")
    return {".".join(map(str, one.way)): one for one in facts}


def _title(part: Part) -> str:
    if not part.name:
        in_list = bool(part.way) and isinstance(part.way[-1], int)
        return say_word("facts.one" if in_list else "facts.part", part.model)
    return named(say_word("facts.one", part.model), said_choice(part.name))


def _options(told: Told) -> tuple[tuple[str, str], ...]:
    return tuple((one, said_choice(one, told.model)) for one in told.choices)


def _default(told: Told) -> str:
    if told.default is None:
        return ""
    if isinstance(told.default, bool):
        return "yes" if told.default else "no"
    if isinstance(told.default, tuple):
        return ", ".join(said_choice(str(one), told.model) for one in told.default)
    return said_choice(str(told.default), told.model)


def _read(fact: Fact, system: Show) -> str:
    """What is written in the reader's own units, if they are others."""
    found = fact.quantity
    if found is None:
        return ""
    said = say_quantity(*found, system)
    return said if said not in fact.values else ""


def _grade(fact: Fact) -> str:
    found = fact.quantity
    if found is None or found[0].grade == "measured":
        return ""
    return say_word("grade", str(found[0].grade))
