"""Where a number comes from, and how much it may carry."""

from enum import StrEnum


class Grade(StrEnum):
    """The origin of a number, from a published text down to a doubtful memory.

    The grade caps what a comparison may say: see `limen.quantity.comparing`.
    """

    SEEN = "seen"
    """Read in the published text."""
    SHEET = "sheet"
    """Read in the sensor's manual."""
    MEASURED = "measured"
    """Measured at the door."""
    OWN = "own"
    """Entered from the user's own copy."""
    DERIVED = "derived"
    """Computed from numbers that may hold."""
    MEMORY = "memory"
    """From memory of a named publication, to be confirmed."""
    PRACTICE = "practice"
    """Common practice, no source."""
    ESTIMATE = "estimate"
    """An engineering estimate."""
    UNSURE = "unsure"
    """Not to be relied on until somebody enters it anew."""

    @property
    def may_hold(self) -> bool:
        """Whether a number of this grade may support *holds*."""
        return self not in (Grade.ESTIMATE, Grade.UNSURE)

    @property
    def to_confirm(self) -> bool:
        """Whether *holds* on this grade is marked "on a figure to be confirmed"."""
        return self in (Grade.MEMORY, Grade.PRACTICE)


_WEAKER = (Grade.MEMORY, Grade.PRACTICE, Grade.ESTIMATE, Grade.UNSURE)


def least(*grades: Grade) -> Grade:
    """Return the grade of a result that rests on all of `grades`.

    `seen`, `sheet`, `measured`, `own` and `derived` are equal in strength: the
    same grade throughout is kept, a mixture is `derived`. Below them, weakest
    last: `memory`, `practice`, `estimate`, `unsure`.

    Args:
        grades: The grades of everything the result was computed from, at least
            one.

    Raises:
        ValueError: No grade was given; a result from nothing has no grade.
    """
    if not grades:
        raise ValueError("least() needs at least one grade")
    weak = [grade for grade in grades if grade in _WEAKER]
    if weak:
        return max(weak, key=_WEAKER.index)
    return grades[0] if len(set(grades)) == 1 else Grade.DERIVED
