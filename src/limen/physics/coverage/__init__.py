"""Proof that a body is reached by presence beams at every pose it can take.

`prove` answers for one zone and one body; `Problem`, `solve`, `bracket`,
`printable` and `meets` are its parts, for callers that ask several things of the
same beams. The search is branch and bound over poses (x, y, yaw): see `kernel`
for the mathematics and `twin` for the same in plain NumPy.
"""

from limen.physics.coverage.margin import Bracket, bracket
from limen.physics.coverage.pose import clearance, meets
from limen.physics.coverage.printing import printable
from limen.physics.coverage.problem import Problem
from limen.physics.coverage.seam import Proof, prove, solve

__all__ = [
    "Bracket",
    "Problem",
    "Proof",
    "bracket",
    "clearance",
    "meets",
    "printable",
    "prove",
    "solve",
]
