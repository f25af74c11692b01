"""A text as a square to be scanned (QR, ISO/IEC 18004)."""

from io import BytesIO

QUIET = 4
"""Modules of white around it, as ISO/IEC 18004 asks."""


def code_square(text: str) -> str:
    """The square as SVG, dark on white in any light, so that every phone reads it.

    Args:
        text: what is read of it.
    """
    import segno

    made = BytesIO()
    segno.make(text, error="l", micro=False).save(
        made,
        kind="svg",
        border=QUIET,
        dark="#000",
        light="#fff",
        xmldecl=False,
        nl=False,
        omitsize=True,
    )
    return made.getvalue().decode()
