"""The owner's page as one HTML file: nothing beside it, no script, large letters.

Its policy names its style by digest and allows nothing else.  What is ticked is not
kept: the log is on paper, and the page says so.
"""

from base64 import b64encode
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from hashlib import sha256
from html import escape
from importlib.resources import files

from limen.draw.daily import Shape, picture
from limen.draw.daily_strokes import ON_SCREEN
from limen.draw.themes import PAPER, SLATE
from limen.words.owner import SaidPage, SaidStep, said

STYLE = "owner.css"
_INKS = ("paper", "inside", "ink", "quiet", "line", "wall", "fails")


@dataclass(frozen=True, slots=True)
class Link:
    """What is tapped to tell of a fault.

    Attributes:
        address: a mail that is begun, a page, a telephone number.
        says: what happens then.
    """

    address: str
    says: str


def owner_file(
    page: SaidPage,
    shape: Shape,
    links: Sequence[Link],
    *,
    regular: bytes = b"",
    bold: bytes = b"",
) -> str:
    """The page as a file.

    Args:
        page: what it says.
        shape: of the door, for its pictures.
        links: to tell of a fault, the best first.
        regular: letters to be carried along (TrueType); the reader's own if empty.
        bold: the same for what is bold.
    """
    style = "\n".join((*_letters(regular, bold), _inks(), owner_style()))
    title = said("title_door", page.language, door=page.door)
    return _PAGE.format(
        language=escape(page.language),
        policy=_policy(style),
        title=escape(f"{title}, {page.site}"),
        style=style,
        body=owner_article(page, shape, links),
    )


def owner_style() -> str:
    """How the page looks, wherever it stands; its inks are the page's own."""
    return files("limen.report").joinpath("pages", STYLE).read_text("utf-8")


def owner_article(
    page: SaidPage, shape: Shape, links: Sequence[Link], *, top: str = "h1"
) -> str:
    """The page without what is around it.

    Args:
        page: what it says.
        shape: of the door, for its pictures.
        links: to tell of a fault, the best first.
        top: the element of its heading.
    """
    return "\n".join(_article(page, shape, links, top))


def _article(
    page: SaidPage, shape: Shape, links: Sequence[Link], top: str
) -> Iterator[str]:
    tongue = page.language
    yield f'<article class="owner" lang="{escape(tongue)}">'
    yield f'<header><p class="owner-site">{escape(page.site)}</p>'
    title = said("title_door", tongue, door=page.door)
    yield f'<{top} class="owner-title">{escape(title)}</{top}>'
    yield _p(said("intro", tongue))
    yield f"<p><strong>{escape(said('rule', tongue))}</strong></p></header>"
    for heading, steps in page.parts:
        yield f'<section><h2>{escape(heading)}</h2><ol class="owner-steps">'
        yield from (_step(one, shape, tongue) for one in steps)
        yield "</ol></section>"
    yield _p(said("then_sign_phone", tongue), "owner-sign")
    yield _p(said("ticks", tongue), "owner-quiet")
    yield from _wrong(page, links)
    yield from _foot(page)
    yield "</article>"


def _step(one: SaidStep, shape: Shape, tongue: str) -> str:
    words = said(f"picture.{one.id}", tongue)
    name = f"owner-{one.id}"
    return (
        f'<li class="owner-step">{picture(one.id, shape, words, ON_SCREEN)}'
        f'<div><h3><span class="owner-number">{one.number}</span> '
        f"{escape(one.title)}</h3>{_p(one.says)}</div>"
        f'<label class="owner-tick" for="{name}"><input type="checkbox" id="{name}" '
        f'autocomplete="off"><span>{escape(said("done", tongue))}'
        f'<span class="owner-unseen">: {escape(one.title)}</span></span></label></li>'
    )


def _wrong(page: SaidPage, links: Sequence[Link]) -> Iterator[str]:
    tongue = page.language
    yield '<section class="owner-wrong">'
    yield f"<h2>{escape(said('wrong.title', tongue))}</h2>"
    yield from (_p(one) for one in page.wrong)
    yield f"<h3>{escape(said('wrong.struck_title', tongue))}</h3>"
    yield _p(said("wrong.struck", tongue))
    yield f"<h3>{escape(said('call.title', tongue))}</h3>"
    if not links:
        yield _p(said("call.nobody_phone", tongue))
    for number, one in enumerate(links):
        kind = "owner-do" if number == 0 else "owner-act"
        says = escape(one.says)
        yield f'<p><a class="{kind}" href="{escape(one.address)}">{says}</a></p>'
    yield from (_p(one, "owner-quiet") for one in (*page.call, *page.people))
    yield "</section>"


def _foot(page: SaidPage) -> Iterator[str]:
    tongue = page.language
    yield '<footer class="owner-foot">'
    yield from (_p(one) for one in page.kept)
    if page.digest:
        yield _p(f"{page.digest_says} {page.digest}", "owner-digest")
        yield _p(said("kept.why", tongue))
    sources = "; ".join(page.sources)
    yield _p(f"{said('log.sources', tongue)}: {sources}.")
    yield _p(page.made)
    yield "</footer>"


def _p(text: str, kind: str = "") -> str:
    named = f' class="{kind}"' if kind else ""
    return f"<p{named}>{escape(text)}</p>"


# What is around it ---------------------------------------------------------------


def _letters(regular: bytes, bold: bytes) -> Iterator[str]:
    for data, weight in ((regular, 400), (bold, 700)):
        if data:
            inside = b64encode(data).decode()
            yield (
                '@font-face{font-family:"Atkinson Hyperlegible Next";'
                f"font-weight:{weight};"
                f'src:url(data:font/ttf;base64,{inside}) format("truetype")}}'
            )


def _inks() -> str:
    """The page's inks by day and by night; buttons large enough for a thumb."""
    inks = "".join(f"--{one}:light-dark({PAPER[one]},{SLATE[one]});" for one in _INKS)
    letters = '"Atkinson Hyperlegible Next",Verdana,sans-serif'
    return (
        f":root{{color-scheme:light dark;--target:48px;{inks}"
        f"--letters:{letters}}}"
        "body{margin:0;background:var(--paper);color:var(--ink);"
        "font:400 18px/1.45 var(--letters)}"
        "main{padding:1rem 1rem 3rem;max-width:46rem;margin:auto}"
    )


def _policy(style: str) -> str:
    named = b64encode(sha256(style.encode()).digest()).decode()
    return (
        f"default-src 'none'; style-src 'sha256-{named}'; font-src data:; "
        "base-uri 'none'; form-action 'none'"
    )


_PAGE = """<!doctype html>
<html lang="{language}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta name="format-detection" content="telephone=no">
<title>{title}</title>
<style>{style}</style>
</head>
<body>
<main>
{body}
</main>
</body>
</html>
"""
