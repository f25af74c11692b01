"""Rulebooks as data: rules with limits, clauses and grades, and who said so.

Files come in parsed; nothing here reads one. Physics is not known here, so that
a rulebook can be reviewed by someone who does not program.
"""

from limen.rules.binding import bind
from limen.rules.differing import Difference, How
from limen.rules.editions import AskEdition, Edition, WhyAsk, choose_edition
from limen.rules.laying import lay
from limen.rules.mistakes import Mistake, RulebookError
from limen.rules.overlay import Overlay
from limen.rules.overriding import OwnValue, override, read_values
from limen.rules.reading import BOOK, read_edition, read_rulebook
from limen.rules.reading_overlay import OVERLAY, read_overlay, read_overlay_head
from limen.rules.rule import (
    CLAUSE_TO_BE_CONFIRMED,
    Authority,
    Excluded,
    Given,
    Rule,
    RuleCase,
    Unsettled,
    Weight,
)
from limen.rules.rulebook import Document, Override, Rulebook

__all__ = [
    "BOOK",
    "CLAUSE_TO_BE_CONFIRMED",
    "OVERLAY",
    "AskEdition",
    "Authority",
    "Difference",
    "Document",
    "Edition",
    "Excluded",
    "Given",
    "How",
    "Mistake",
    "Overlay",
    "Override",
    "OwnValue",
    "Rule",
    "RuleCase",
    "Rulebook",
    "RulebookError",
    "Unsettled",
    "Weight",
    "WhyAsk",
    "bind",
    "choose_edition",
    "lay",
    "override",
    "read_edition",
    "read_overlay",
    "read_overlay_head",
    "read_rulebook",
    "read_values",
]
