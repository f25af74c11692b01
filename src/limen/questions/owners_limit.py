"""A figure beside the limit that the owner set: nobody else asks for it."""

from collections.abc import Mapping
from typing import Literal

from limen.findings import Finding, Lack, Margin, Measure, Message
from limen.quantity import Dimension, Quantity, at_most
from limen.questions.asking import Asked, compared


def held_to(
    asked: Asked,
    found: Quantity,
    limit: Quantity,
    weak: str | tuple[Lack, ...],
    *,
    name: Literal["passers", "energy"],
    dimension: Dimension,
    said: Mapping[str, str | Measure],
    told: Mapping[str, object],
) -> Finding:
    """Whether a figure stays within the owner's limit, as far as it is known.

    It *holds* if even the most is no more, *fails* if even the least is more.

    Args:
        asked: the question.
        found: the figure.
        limit: the most that the owner wants.
        weak: what it rests on least, or where it is stated.
        name: what its sentences are called by.
        dimension: of both.
        said: figure and limit, as the sentences name them.
        told: what else the finding says.
    """
    comparison = at_most(found, limit)
    verdict = compared(comparison, weak)
    return asked.answer(
        verdict.verdict,
        Message(f"flows.{name}.{verdict.verdict.key}", dict(said)),
        margin=Margin(comparison.margin, comparison.u, dimension),
        needed=Message(f"flows.{name}.needed", {"limit": said["limit"]}),
        lacking=verdict.lacking,
        to_confirm=verdict.to_confirm,
        **told,
    )
