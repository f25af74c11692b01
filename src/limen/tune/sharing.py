"""Which channel each unit of one doorway takes, those of all others left as set."""

from collections.abc import Sequence

from limen.findings.tuned import Turned
from limen.model.doorway import Doorway
from limen.questions.channels import shared_in_chain
from limen.tune.scales import channel_turned


def shared_out(doorway: Doorway, around: Sequence[Doorway] = ()) -> tuple[Turned, ...]:
    """The change of channels with which the least light that may meet shares one.

    Of all such ways the one with the fewest changes, then with the fewest channels;
    the search is that of the plan of a whole site.

    Args:
        doorway: its rows set as they will be.
        around: the doorways of the site, this one as it was among them or not.
    """
    doors = [doorway if one.id == doorway.id else one for one in around]
    if doorway not in doors:
        doors.append(doorway)
    told = shared_in_chain(doors, doorway.id, only_here=True)
    return tuple(
        turned
        for unit in doorway.fitting
        if (channel := told.get((doorway.id, unit.id))) is not None
        for turned in channel_turned(unit, channel)
    )
