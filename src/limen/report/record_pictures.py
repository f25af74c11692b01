"""Pictures of a record: drawings of the doorway, the code, the signature, photos."""

from collections.abc import Generator, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from limen.draw import lay_out, scene, write_sheet
from limen.draw.themes import PAPER
from limen.findings import Finding, Study
from limen.report.drawings import VIEWS, WIDTHS
from limen.report.tongue import Plain, Tongue

_WHITE = {PAPER["paper"]: "#FFFFFF", PAPER["inside"]: "#F4F2EC"}
_KINDS = {b"\xff\xd8\xff": "jpg", b"\x89PNG\r\n\x1a\n": "png", b"RIFF": "webp"}
"""Beginnings of the pictures that can be set."""
MEDIA = {"jpg": "image/jpeg", "png": "image/png", "webp": "image/webp"}
_PEN = 0.012
"""Width of a line of a signature, of its longer side."""

Table = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawing, ready to be set.

    Attributes:
        file: its name.
        svg: its text.
        said: what the page needs to know of it.
    """

    file: str
    svg: bytes
    said: Plain


def drawn(study: Study, shown: Finding | None, tongue: Tongue) -> tuple[Drawn, ...]:
    """Plan, section and front of a doorway, for paper.

    Args:
        study: of the doorway.
        shown: the finding that is shown in them.
        tongue: the reader's language and units.
    """
    return tuple(_drawn(study, shown, tongue))


def _drawn(study: Study, shown: Finding | None, tongue: Tongue) -> Iterator[Drawn]:
    for view in VIEWS:
        seen = scene(
            study, view, finding=shown, language=tongue.language, system=tongue.system
        )
        sheet = lay_out(seen, WIDTHS[view])
        text = write_sheet(sheet)
        for tint, white in _WHITE.items():
            text = text.replace(tint, white)
        words = f"{seen.title}. {seen.description} {seen.note}"
        ratio = sheet.height / sheet.width
        file = f"{view}.svg"
        said: Plain = {"kind": view, "file": file, "words": words, "ratio": ratio}
        yield Drawn(file, text.encode(), said)


def code(digest: str) -> bytes:
    """A digest as a code to be scanned (QR, ISO/IEC 18004), as SVG."""
    import segno

    made = BytesIO()
    segno.make(digest, error="m", micro=False).save(
        made, kind="svg", border=0, xmldecl=False, nl=False, omitsize=True
    )
    return made.getvalue()


def signature(table: Table) -> bytes | None:
    """The strokes of whoever took the door over, as SVG; None if there are none."""
    strokes = _strokes(table)
    points = [point for stroke in strokes for point in stroke]
    if not points:
        return None
    left, top = (min(one[axis] for one in points) for axis in (0, 1))
    wide, high = (max(one[axis] for one in points) for axis in (0, 1))
    size = max(wide - left, high - top, 1.0)
    pen = size * _PEN
    box = f"{left - pen:g} {top - pen:g} {wide - left + 2 * pen:g}"
    lines = "".join(_line(stroke) for stroke in strokes if stroke)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" '
        f'viewBox="{box} {high - top + 2 * pen:g}">'
        f'<g fill="none" stroke="{PAPER["ink"]}" stroke-width="{pen:g}" '
        f'stroke-linecap="round" stroke-linejoin="round">{lines}</g></svg>'
    ).encode()


def _strokes(table: Table) -> list[list[tuple[float, float]]]:
    visit: Table = table.get("visit") or {}
    handed: Sequence[Table] = visit.get("handed_over", ())
    counting = [one for one in handed if one.get("counts", True)]
    if not counting:
        return []
    said: Table = counting[-1]["said"]
    strokes: Sequence[Sequence[tuple[float, float]]] = said.get("signature", ())
    return [[(float(x), float(y)) for x, y in stroke] for stroke in strokes]


def _line(stroke: list[tuple[float, float]]) -> str:
    """A stroke; one of a single point is a dot."""
    every = stroke if len(stroke) > 1 else [*stroke, stroke[0]]
    return f'<polyline points="{" ".join(f"{x:g},{y:g}" for x, y in every)}"/>'


def photo_names(at_hand: Mapping[str, bytes]) -> dict[str, str]:
    """By digest what each photo is called inside the paper; its kind by its bytes."""
    found: dict[str, str] = {}
    for sha, data in at_hand.items():
        kind = next((end for head, end in _KINDS.items() if data.startswith(head)), "")
        found[sha] = f"photo-{sha[:16]}{kind and f'.{kind}'}"
    return found


def media_of(name: str) -> str:
    """The media type of a photo by its name; empty if its kind is not known."""
    return MEDIA.get(name.rpartition(".")[2], "")


@contextmanager
def laid_out(at_hand: Mapping[str, bytes]) -> Generator[Path | None]:
    """A folder with the photos for as long as the paper is set; None without any.

    What is set is read from memory but for pictures: the typesetter takes text alone.
    """
    if not at_hand:
        yield None
        return
    names = photo_names(at_hand)
    with TemporaryDirectory(prefix="limen-") as folder:
        for sha, data in at_hand.items():
            Path(folder, names[sha]).write_bytes(data)
        yield Path(folder)
