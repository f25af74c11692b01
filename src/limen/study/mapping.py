"""The room at each place of the presence zone, for one finding of a study."""

from collections.abc import Callable

from limen.findings.margin_map import MarginMap
from limen.model.doorway import Doorway
from limen.questions.asking import Asked
from limen.questions.margin_map import Mapped, mapped, margin_map
from limen.questions.settled import settle
from limen.rules import Rule, Rulebook
from limen.study.running import facts_of

MAPPED = ("presence.threshold", "presence.leaf_path", "presence.side_screen")
"""Questions whose zone can be mapped."""


def room_map(
    doorway: Doorway,
    rulebook: Rulebook,
    question: str,
    case: str | None,
    *,
    fine: bool = False,
    wanted: Callable[[], bool] = lambda: True,
) -> MarginMap | None:
    """By how much the test body is reached or missed at each place.

    Args:
        doorway: as it stands.
        rulebook: one edition.
        question: one of `MAPPED`.
        case: name of the case; the question's first if none is named.
        fine: whether places without ample room are cut again.
        wanted: asked now and then; False ends the work.

    Returns:
        None where the case has no map, or once it is not wanted any more.
    """
    what = _what(doorway, rulebook, question, case)
    return margin_map(question, what, fine=fine, wanted=wanted) if what else None


def _what(
    doorway: Doorway, rulebook: Rulebook, question: str, case: str | None
) -> Mapped | None:
    rule = rulebook.rule_for(question, facts_of(doorway))
    if question not in MAPPED or not isinstance(rule, Rule):
        return None
    return mapped(Asked(doorway, settle(doorway), rule), case)
