"""The job card: what a doorway's page for the phone is given along."""

from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING

from limen.desk.drawing import Units
from limen.desk.library import Desk, open_site, study_of
from limen.draw import lay_out, scene, write_sheet
from limen.draw.bare import bare
from limen.draw.turning import seen_from_inside
from limen.findings import Study
from limen.quantity import Show
from limen.words import reading, say_unit
from limen.words.catalogue import catalogue

if TYPE_CHECKING:
    from limen.model.doorway import Doorway

PREFIX = "card."
GROUND_WIDTH = 360.0  # px, of the plan under the box: a narrow phone's


@dataclass(frozen=True, slots=True)
class Ground:
    """The plan without words, on which the card lays the box.

    Attributes:
        svg: the drawing.
        says: the drawing in words.
        zero: where the middle of the opening lies in it (px).
        scale: px a metre; negative where the plan is turned.
        posts: left and right post, from the middle of the opening (m).
    """

    svg: str
    says: str
    zero: tuple[float, float]
    scale: float
    posts: tuple[float, float]


def card_words() -> dict[str, str]:
    """Every sentence of the card's page in the reader's language, by key.

    A sentence that the language lacks is given in English, as everywhere.
    """
    words = {key: catalogue().sentence(key) for key in catalogue().under(PREFIX)}
    own = catalogue(reading()).sentences
    return {key: own.get(key, sentence) for key, sentence in words.items()}


def ground_of(study: Study, system: Show, *, turned: bool = False) -> Ground:
    """The plan near the leaves, without words.

    Args:
        study: of the doorway.
        system: units of the drawing in words.
        turned: whether the inside is at the lower edge.
    """
    drawn = bare(scene(study, "plan", system=system), study)
    way = -1.0 if turned else 1.0
    sheet = lay_out(seen_from_inside(drawn) if turned else drawn, GROUND_WIDTH)
    fit = sheet.panels[0].fit
    half = study.doorway.clear_width.value / 2
    return Ground(
        svg=write_sheet(sheet),
        says=f"{drawn.title}. {drawn.description}",
        zero=fit.at((0.0, 0.0)),
        scale=way * fit.scale,
        posts=(-half, half),
    )


def taken_along(
    desk: Desk,
    site_id: str,
    doorway: str,
    *,
    units: Units = "metric",
    turned: bool,
    only_owed: bool = False,
) -> dict[str, object]:
    """A doorway's card pack with what the page lays beside it.

    Args:
        desk: the desk.
        site_id: the site.
        doorway: id of the doorway.
        units: of the reader.
        turned: whether the inside is at the lower edge of the plan.
        only_owed: whether it is to ask for the tests that a change owes, and no others.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway, or nothing settles an edition.
        FileFaults: the site's text cannot be read.
    """
    from limen.desk.card_pack import card_pack

    opened = open_site(desk, site_id)
    door = opened.doorway(doorway)
    study = study_of(desk, opened, doorway)
    packed = card_pack(desk, site_id, doorway, units=units, only_owed=only_owed)
    ground = ground_of(study, Show(units), turned=turned)
    beside = {
        "site": opened.site.name,
        "ground": asdict(ground),
        "units": _units(door),
        "language": reading(),
        "feet": Show(units) is Show.FEET,
    }
    return {**packed, "card": beside}


def _units(door: "Doorway") -> list[dict[str, str]]:
    return [{"id": one.id, "name": say_unit(one.id)} for one in door.fitting]
