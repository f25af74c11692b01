"""How a question is answered: its proof sheet, as it stands in the code."""

import inspect
from dataclasses import dataclass

from limen.desk.refusal import Refusal


@dataclass(frozen=True, slots=True)
class ProofSheet:
    """How a question is answered.

    Attributes:
        question: the question.
        sections: heading and text of each part; the first has no heading.
    """

    question: str
    sections: tuple[tuple[str, str], ...]


_HEADINGS = ("Args:", "Returns:", "Raises:", "Source:")


def proof_sheet(question: str) -> ProofSheet:
    """The proof sheet of a question.

    Raises:
        Refusal: there is no such question; those that are there are listed.
    """
    from limen.questions import QUESTIONS

    if question not in QUESTIONS:
        there = ", ".join(QUESTIONS)
        raise Refusal([f'no question "{question}"; there are: {there}'])
    text = inspect.getdoc(QUESTIONS[question].ask) or ""
    return ProofSheet(question, tuple(_sections(text)))


def _sections(text: str) -> list[tuple[str, str]]:
    """Cut a docstring at its headings."""
    cut: list[tuple[str, list[str]]] = [("", [])]
    for line in text.splitlines():
        if line in _HEADINGS:
            cut.append((line.removesuffix(":"), []))
        else:
            cut[-1][1].append(line)
    return [(head, inspect.cleandoc("\n".join(body))) for head, body in cut]
