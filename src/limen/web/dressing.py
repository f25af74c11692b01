"""The pages' templates, with the words and files that all of them use."""

from typing import cast

from jinja2 import Environment, PackageLoader, StrictUndefined, pass_context
from jinja2.runtime import Context

from limen.findings import Measure, Message
from limen.quantity import Show
from limen.web.assets import Assets
from limen.web.spans import shown, span_on
from limen.web.verify_shown import grouped
from limen.words import has_comma, languages, reading, say

Fill = str | int | Measure | Message


def environment(assets: Assets) -> Environment:
    """Make the templates' environment.

    Every value is escaped; a name that a page forgot to give is an error.

    Args:
        assets: the bundled scripts and styles.
    """
    made = Environment(
        loader=PackageLoader("limen.web"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    common = cast("dict[str, object]", made.globals)  # pyright: ignore[reportUnknownMemberType]
    common |= {"assets": assets, "say": _said, "shown": shown, "span_on": span_on}
    common |= {"languages": languages, "comma": _comma, "say_in": _said_in}
    filters = cast("dict[str, object]", made.filters)  # pyright: ignore[reportUnknownMemberType]
    filters |= {"slug": slug, "grouped": grouped}
    return made


def _said_in(language: str, key: str) -> str:
    """A sentence without gaps in a language of one's choice."""
    return say(Message(key), language=language)


def _comma() -> str:
    """What stands between a number's units and its tenths, for the page's scripts."""
    return "," if has_comma(reading()) else "."


def slug(verdict: str) -> str:
    """A verdict as it stands in classes: ``not-shown``."""
    return verdict.replace(" ", "-")


@pass_context
def _said(context: Context, key: str, /, **fills: Fill) -> str:
    """A sentence in the page's language and units."""
    look = context.get("look")
    return say(
        Message(key, fills),
        system=look.system if look else Show.METRIC,
    )
