"""The types of the compiled search: what its tuples hold, and how it is compiled.

What `search` is given is told twice, for the compiler in capitals and for the reader.
"""

import sys
from collections.abc import Callable
from importlib import import_module
from typing import TypeVar, cast

from numba import njit, types

from limen.physics.coverage.problem import Floats, Ints

F8, I8, B1 = types.float64, types.int64, types.boolean
TABLE = types.Array(F8, 2, "C", readonly=True)
ROWS, PAIR = F8[:, ::1], types.UniTuple(F8, 2)
_COLUMN = types.Array(I8, 1, "C", readonly=True)
_UNITS = types.Tuple((TABLE, _COLUMN, _COLUMN, TABLE))  # beams, group, needed, common
_PLACE = types.Tuple((F8, F8, TABLE, TABLE))  # W, D as given, walls, boxes asked
SCENE = types.Tuple((_UNITS, _PLACE))
FOUND = types.Tuple((I8, F8, F8, F8, I8, B1))  # state, x, y, yaw, cells, stood

Pair = tuple[float, float]
Cell = tuple[float, float, float, float, float, float, float, float, float]
"""x, y, yaw, cos, sin, rx, ry, ra, sin ra."""
Size = tuple[float, float, float, float, float, float]
"""W, D, extra, reach, radius, leaf."""
Octagon = tuple[float, float, float, float, float, float, float, float, float]
"""W', D', kw, kd, t, its normals in the world."""
Units = tuple[Floats, Ints, Ints, Floats]
Place = tuple[float, float, Floats, Floats]
Scene = tuple[Units, Place]
Marks = tuple[Ints, Ints, Floats, Floats]
"""Of each unit sure and met beams; where to halve; the shifts found."""
Room = tuple[Ints, Ints, Floats]
"""Beams kept by depth, how many, cells to do."""
Body = TypeVar("Body", bound=Callable[..., object])

LINEAR_ALGEBRA = "scipy.linalg"


def _lightly(module: str) -> None:
    """Load a part of the compiler without SciPy's linear algebra.

    It looks for that when it is loaded, and takes a fifth of the time in which a
    doorway is checked to find it.  No kernel has any use for it.
    """
    if LINEAR_ALGEBRA in sys.modules:
        return
    sys.modules[LINEAR_ALGEBRA] = None  # pyright: ignore[reportArgumentType]
    try:
        import_module(module)
    finally:
        del sys.modules[LINEAR_ALGEBRA]


_lightly("numba.np.arraymath")

_HOW = {"nogil": True, "fastmath": False, "error_model": "numpy"}


def inner(body: Body) -> Body:
    """Compile as part of what calls it: only `search` is loaded from the cache."""
    compiler = cast("Callable[..., Callable[[Body], Body]]", njit)
    return compiler(**_HOW)(body)


def compiled(signature: object) -> Callable[[Body], Body]:
    """Compile for this signature when the module is imported, or take it from cache."""
    compiler = cast("Callable[..., Callable[[Body], Body]]", njit)
    return compiler(signature, cache=True, **_HOW)
