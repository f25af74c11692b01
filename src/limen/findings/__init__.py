"""What may be said of a doorway: verdicts, findings, figures, the study.

Everything that outputs may see stands here.  A finding carries keys and
numbers, never sentences: `limen.words` says them.
"""

from limen.findings.figures import Figure, Mark, Polygon, Pose, Role, Spots, Stroke
from limen.findings.finding import (
    Assumed,
    Change,
    Finding,
    Lack,
    Margin,
    Remedy,
    Target,
    Witness,
)
from limen.findings.message import Measure, Message
from limen.findings.study import BeamLine, RowOnFloor, Study, UnitDrawn
from limen.findings.verdict import Verdict

__all__ = [
    "Assumed",
    "BeamLine",
    "Change",
    "Figure",
    "Finding",
    "Lack",
    "Margin",
    "Mark",
    "Measure",
    "Message",
    "Polygon",
    "Pose",
    "Remedy",
    "Role",
    "RowOnFloor",
    "Spots",
    "Stroke",
    "Study",
    "Target",
    "UnitDrawn",
    "Verdict",
    "Witness",
]
