"""The pages' templates, with the words and files that all of them use."""

from typing import cast

from jinja2 import Environment, PackageLoader, StrictUndefined, pass_context
from jinja2.runtime import Context

from limen.findings import Measure, Message
from limen.quantity import Show
from limen.web.assets import Assets
from limen.web.spans import shown, span_on
from limen.words import say

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
    cast("dict[str, object]", made.filters)["slug"] = slug  # pyright: ignore[reportUnknownMemberType]
    return made


def slug(verdict: str) -> str:
    """A verdict as it stands in classes: ``not-shown``."""
    return verdict.replace(" ", "-")


@pass_context
def _said(context: Context, key: str, /, **fills: Fill) -> str:
    """A sentence in the page's language and units."""
    look = context.get("look")
    return say(
        Message(key, fills),
        language=str(context.get("language") or "en"),
        system=look.system if look else Show.METRIC,
    )
