"""Where each first row must land, in floor millimetres first."""

from collections.abc import Iterator

from limen.desk.card_pack_said import Sayer
from limen.desk.card_pack_shape import Target
from limen.findings import Finding, Message, Remedy, Study, Verdict
from limen.findings.message import length
from limen.model.doorway import Doorway
from limen.physics.reach import Placed, row_distance
from limen.questions.settled import Settled
from limen.rules import Weight
from limen.tune.fitting import turning

ASKED = "presence."


def targets_of(
    doorway: Doorway, settled: Settled, study: Study, say: Sayer
) -> list[Target]:
    """A target of the first row of each unit that throws rows.

    Where the study has rows brought elsewhere, that, with what to turn; else where the
    row lands as planned, within what its aim leaves open.

    Args:
        doorway: as described.
        settled: the same, settled.
        study: of the doorway.
        say: in whose words.
    """
    units = {
        facts.fitting.id: facts.choices[0] for facts in settled.units if facts.choices
    }
    remedy = next(_aimed(study), None)
    turned = {one.fitting: one for one in remedy.targets} if remedy else {}
    made: list[Target] = []
    for fitting in doorway.fitting:
        unit = units.get(fitting.id)
        if not isinstance(unit, Placed):
            continue
        face = settled.plan.side(unit.side).face
        target = turned.get(fitting.id)
        if target is None:
            made.append(_planned(unit, row_distance(unit, 0, face), say))
            continue
        said = turning(fitting, unit, face, target).said
        made.append(
            Target(
                fitting=fitting.id,
                row=target.row,
                least=target.least,
                best=target.best,
                most=target.most,
                was=target.was,
                open=True,
                says=say(said),
            )
        )
    return made


def _aimed(study: Study) -> Iterator[Remedy]:
    """Remedies of presence that bring rows somewhere, of what is more than advice."""
    for one in study.of(Verdict.FAILS, Verdict.NOT_SHOWN):
        if _counts(one) and one.remedy is not None and one.remedy.targets:
            yield one.remedy


def _counts(one: Finding) -> bool:
    return one.question.startswith(ASKED) and one.weight is not Weight.ADVICE


def _planned(unit: Placed, lands: float, say: Sayer) -> Target:
    room = unit.errors.floor_y
    said = {
        "fitting": unit.fitting,
        "least": length(lands - room),
        "most": length(lands + room),
    }
    return Target(
        fitting=unit.fitting,
        row=1,
        least=lands - room,
        best=lands,
        most=lands + room,
        was=lands,
        open=False,
        says=say(Message("card_tests.target", said)),
    )
