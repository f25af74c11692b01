# pyright: reportMissingTypeStubs=false, reportUnknownVariableType=false
# pyright: reportUnknownMemberType=false, reportUnknownArgumentType=false
# pyright: reportArgumentType=false
"""The seam to scipy, imported where it is used: it is slow to load, and untyped."""

from collections.abc import Callable

import numpy as np

from limen.geometry.turns import Array

CLOSE = 1e-12


def least_squares(
    terms: Callable[[Array], Array],
    derivatives: Callable[[Array], Array],
    start: Array,
) -> Array:
    """Where the sum of the squares of some terms is least.

    Args:
        terms: the terms (n,) of a point (m,), n at least m.
        derivatives: of the terms, (n, m).
        start: a point near by.

    Source:
        Levenberg and Marquardt's method, MINPACK by way of scipy.
    """
    from scipy.optimize import least_squares as solve

    found = solve(
        terms, start, derivatives, method="lm", xtol=CLOSE, ftol=CLOSE, gtol=CLOSE
    )
    return np.asarray(found.x, dtype=np.float64)


def chance_above(misfit: float, spare: int) -> float:
    """How often a chi-squared with so many degrees of freedom is larger."""
    from scipy.special import chdtrc

    return float(chdtrc(spare, misfit))


def bound_of(chance: float, spare: int) -> float:
    """The chi-squared that is exceeded with this chance."""
    from scipy.special import chdtri

    return float(chdtri(spare, chance))
