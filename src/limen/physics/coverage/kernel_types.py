"""The signatures of the compiled search: what its tuples hold, and how it is compiled.

Each tuple is told twice, for the compiler in capitals and for the reader.
"""

from collections.abc import Callable
from typing import TypeVar, cast

from numba import njit, types

from limen.physics.coverage.problem import Floats, Ints

F8, I8, B1 = types.float64, types.int64, types.boolean
TABLE = types.Array(F8, 2, "C", readonly=True)
COLUMN = types.Array(I8, 1, "C", readonly=True)
ROWS, LISTS, LINE, LIST = F8[:, ::1], I8[:, ::1], F8[::1], I8[::1]
CELL = types.UniTuple(F8, 9)  # x, y, yaw, cos, sin, rx, ry, ra, sin ra
SIZE = types.UniTuple(F8, 6)  # W, D, extra, reach, radius, leaf
UNITS = types.Tuple((TABLE, COLUMN, COLUMN, TABLE))  # beams, group, needed, common
PLACE = types.Tuple((F8, F8, TABLE, TABLE))  # W, D as given, walls, boxes asked
MARKS = types.Tuple((LIST, LIST, LINE, ROWS))  # sure, met, pull, shift
ROOM = types.Tuple((LISTS, LIST, ROWS))  # beams kept by depth, how many, cells to do
SCENE = types.Tuple((UNITS, PLACE))
COUNTS = types.UniTuple(I8, 2)
FOUND = types.Tuple((I8, F8, F8, I8))  # state, x, y, cells
PAIR = types.UniTuple(F8, 2)
OCTAGON = types.UniTuple(F8, 9)  # W', D', kw, kd, t, its normals in the world

Cell = tuple[float, float, float, float, float, float, float, float, float]
Size = tuple[float, float, float, float, float, float]
Octagon = tuple[float, float, float, float, float, float, float, float, float]
Pair = tuple[float, float]
Units = tuple[Floats, Ints, Ints, Floats]
Place = tuple[float, float, Floats, Floats]
Scene = tuple[Units, Place]
Marks = tuple[Ints, Ints, Floats, Floats]
Room = tuple[Ints, Ints, Floats]
Body = TypeVar("Body", bound=Callable[..., object])


def compiled(signature: object) -> Callable[[Body], Body]:
    """Compile for this signature when the module is imported, or take it from cache."""
    compiler = cast("Callable[..., Callable[[Body], Body]]", njit)
    return compiler(
        signature, cache=True, nogil=True, fastmath=False, error_model="numpy"
    )
