"""Forms that a browser sends by itself, where scripts are off.

Such a form cannot carry a header of ours.  In its place both things that a browser
says of its own accord, and no page can make it say, must name this server: where the
request came from, and that it came from the same origin.
"""

import re
from collections.abc import Mapping

_FORMS = re.compile(
    r"(?:/sites/[\w-]{1,40})?/survey|/sheets/new|/sheets/[a-z0-9-]{1,40}/change"
    r"|/doors/study(?:/stop)?|/take-in/[0-9a-f]{16}(?:/back)?"
    r"|/sites/[\w-]{1,40}/plan/(?:name|pin|back|gone)"
    r"|/sites/[\w-]{1,40}/facts(?:/undo|/redo)?"
    r"|/sites/[\w-]{1,40}/doorways/[a-z0-9-]{1,80}/readings"
    r"|/sites/[\w-]{1,40}/doorways/[a-z0-9-]{1,80}/report(?:/[0-9a-f-]{8,40})?"
    r"|/sites/[\w-]{1,40}/doorways/[a-z0-9-]{1,80}/trace(?:/[0-9a-f]{8,40})?"
    r"|/sites/[\w-]{1,40}/doorways/[a-z0-9-]{1,80}/visits/[0-9a-f-]{36}/(?:settle|reopen|record)"
    r"|/sites/[\w-]{1,40}/doorways/[a-z0-9-]{1,80}/life/(?:plan|follow_up|part)"
    r"|/sites/[\w-]{1,40}/doorways/[a-z0-9-]{1,80}/life/[0-9a-f-]{8,40}/[a-z_]{4,10}"
)
_KIND = "application/x-www-form-urlencoded"
_WITH_FILES = re.compile(
    r"/verify|/take-in|/visits/take-in|/sites/[\w-]{1,40}/plan(?:/add)?"
)
_FILES_KIND = "multipart/form-data"


def plain_form(path: str, method: str, headers: Mapping[str, str], host: str) -> bool:
    """Whether a request is a form of ours, sent without a script.

    Args:
        path: what was asked for.
        method: how.
        headers: of the request, names in small letters.
        host: the name that was asked for, port and all.
    """
    kind = headers.get("content-type", "").partition(";")[0].strip().lower()
    forms = {_KIND: _FORMS, _FILES_KIND: _WITH_FILES}.get(kind)
    return (
        method == "POST"
        and forms is not None
        and forms.fullmatch(path) is not None
        and headers.get("sec-fetch-site") == "same-origin"
        and headers.get("origin", "").lower() == f"http://{host}"
    )
