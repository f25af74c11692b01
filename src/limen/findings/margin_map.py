"""How much room there is at each place of the presence zone."""

from dataclasses import dataclass

from limen.findings.verdict import Verdict


@dataclass(frozen=True, slots=True)
class Spot:
    """What is shown for one small piece of floor, wherever in it the body's middle is.

    Attributes:
        verdict: *holds*: reached at every turn.  *Fails*: missed at some turn.  *Not
            shown*: neither could be shown.  *Not asked*: no body can stand there.
        least: the room to spare that was shown, or by how much it is missed at the
            least (m); None if it was not measured out.
        most: no more room than this, or missed by no more (m); None if that is open.
        pose: a body in this piece that is missed by as much: x, y (m) and yaw (rad).
    """

    verdict: Verdict
    least: float | None = None
    most: float | None = None
    pose: tuple[float, float, float] | None = None

    @property
    def yaw(self) -> float | None:
        """How the body that is missed is turned (rad)."""
        return self.pose[2] if self.pose else None


@dataclass(frozen=True, slots=True)
class MarginMap:
    """The presence zone cut into equal pieces, with what is shown for each.

    Attributes:
        question, case: of the finding that is mapped.
        face: the face on which the body rests.
        half: half the clear width (m).
        faces: the leaf faces inside and outside, y (m).
        zone: of body middles: left, right, near, far (m).
        columns, rows: pieces along and across.
        spots: row by row from the near side, each from the left.
        ample: room beyond this is not measured out (m).
    """

    question: str
    case: str
    face: str
    half: float
    faces: tuple[float, float]
    zone: tuple[float, float, float, float]
    columns: int
    rows: int
    spots: tuple[Spot, ...]
    ample: float

    @property
    def size(self) -> tuple[float, float]:
        """Width and depth of a piece (m)."""
        left, right, near, far = self.zone
        return (right - left) / self.columns, (far - near) / self.rows

    def at(self, column: int, row: int) -> Spot:
        """One piece.

        Raises:
            IndexError: there is none.
        """
        if not (0 <= column < self.columns and 0 <= row < self.rows):
            raise IndexError(f"no piece {column}, {row}")
        return self.spots[row * self.columns + column]

    def middle(self, column: int, row: int) -> tuple[float, float]:
        """Where the middle of a piece lies: x, y (m)."""
        wide, deep = self.size
        return (
            self.zone[0] + (column + 0.5) * wide,
            self.zone[2] + (row + 0.5) * deep,
        )

    @property
    def worst(self) -> tuple[int, int] | None:
        """The piece with least room: most missed, else not shown, else least to spare.

        None where nothing was asked.
        """
        asked = [
            (_standing(spot), number)
            for number, spot in enumerate(self.spots)
            if spot.verdict is not Verdict.NOT_ASKED
        ]
        if not asked:
            return None
        number = min(asked)[1]
        return number % self.columns, number // self.columns


def _standing(spot: Spot) -> tuple[int, float]:
    """How well a piece stands, the worst first."""
    room = spot.least or 0.0
    match spot.verdict:
        case Verdict.FAILS:
            return 0, -room
        case Verdict.NOT_SHOWN:
            return 1, 0.0
        case Verdict.HOLDS:
            return 2, room
        case Verdict.NOT_ASKED:
            return 3, 0.0
