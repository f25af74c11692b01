"""The tests that a doorway's card offers, as a record names them."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from limen.quantity import Show

if TYPE_CHECKING:
    from limen.findings import Study
    from limen.model.site import Site


def tests_of(study: "Study", site: "Site", system: Show) -> Sequence[Mapping[str, Any]]:
    """Id and title of every test, and whether it may never be skipped."""
    del study, site, system
    return ()
