"""A study on paper: what one would hand to the owner of a building.

`Contents` is what a report says; `pdf` sets it as PDF/A-3 with the findings as JSON
inside.  The form of the pages stands in ``pages``, their words in the catalogue.
"""

from limen.report.contents import Body, Book, Contents, Limit, PaperName, Part
from limen.report.pdf import ReportError, pdf

__all__ = [
    "Body",
    "Book",
    "Contents",
    "Limit",
    "PaperName",
    "Part",
    "ReportError",
    "pdf",
]
