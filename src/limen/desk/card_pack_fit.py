"""What the card's small fit needs of each unit: what is known before it is read."""

from limen.desk.card_pack_shape import Fit, FitUnit, Way
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.readings import UnitRead
from limen.questions.settled import Settled
from limen.tune.fitting_given import ALONG_LINE, WITHIN, Given, given


def fit_of(doorway: Doorway, settled: Settled) -> Fit:
    """What is known of every unit that throws rows.

    Args:
        doorway: as described.
        settled: the same, settled.
    """
    return Fit(
        units=[
            _unit(
                fitting,
                given(doorway, settled, fitting, fitting.unit, _unread(fitting)),
            )
            for fitting in doorway.fitting
            if fitting.unit is not None and fitting.unit.presence is not None
        ],
        half=doorway.clear_width.value / 2,
        half_within=doorway.clear_width.u / 2,
        read_within={kind: within.value for kind, within in WITHIN.items()},
        along_line=ALONG_LINE,
    )


def _unread(fitting: Fitting) -> UnitRead:
    return UnitRead(fitting=fitting.id)


def _unit(fitting: Fitting, known: Given) -> FitUnit:
    first, usual = known.known[0], known.usual
    step = known.presence.tilt.step
    return FitUnit(
        fitting=fitting.id,
        turned=first.curtain.turned,
        face=known.face,
        rows=list(first.curtain.row_angles),
        rows_on=list(first.curtain.rows_on),
        low=first.curtain.low,
        ways=[
            Way(
                fans=[[float(angle) for angle in row] for row in one.curtain.fans],
                by_angle=one.curtain.by_angle,
                share=one.share,
            )
            for one in known.known
        ],
        lens=list(first.lens),
        within=list(known.within),
        tilt=first.tilt,
        usual=(usual.tilt, usual.level, usual.scale),
        angle_error=first.angle_error,
        evenness=first.evenness,
        step=step.value if step else None,
    )
