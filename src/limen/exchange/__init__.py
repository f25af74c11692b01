"""A study handed on: the JSON that other programs read, and what it adds up to."""

from limen.exchange.contract import SCHEMA, contract, dumps
from limen.exchange.schema import findings_schema
from limen.exchange.tally import Tally, exit_code, tally, together

__all__ = [
    "SCHEMA",
    "Tally",
    "contract",
    "dumps",
    "exit_code",
    "findings_schema",
    "tally",
    "together",
]
