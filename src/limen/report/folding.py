"""The cutting plan of a cardboard test body, one a size."""

from limen.findings import Message
from limen.findings.message import length
from limen.report.contents import Body
from limen.report.tongue import Plain, Tongue

SCALE = 10
FLAP = 0.030  # m
CLOSE = 0.005  # m, how far a side may be off: common practice, no source


def folding(bodies: tuple[Body, ...], tongue: Tongue) -> list[Plain]:
    """Each body's plan: sizes on paper (mm) and in words."""
    return [_plan(body, tongue) for body in bodies]


def _plan(body: Body, tongue: Tongue) -> Plain:
    around = 2 * (body.wide + body.deep) + FLAP
    tall = body.high + 2 * body.deep
    size = {
        "wide": length(body.wide),
        "deep": length(body.deep),
        "high": length(body.high),
    }
    board = {"wide": length(around), "high": length(tall)}
    source = tongue.clause(body.document, body.clause)
    grade = tongue.say(Message(f"grade.{body.grade}"))
    return {
        "title": tongue.named(Message("report.fixed.folding"), body.rulebook),
        "rulebook": body.rulebook,
        "scale": SCALE,
        "w": _on_paper(body.wide),
        "d": _on_paper(body.deep),
        "h": _on_paper(body.high),
        "flap": _on_paper(FLAP),
        "wide": tongue.length(body.wide),
        "deep": tongue.length(body.deep),
        "high": tongue.length(body.high),
        "flap_words": tongue.length(FLAP),
        "size": tongue.say(Message("report.fold.size", size)),
        "glue": tongue.say(Message("report.fold.glue", {"near": length(CLOSE)})),
        "board": tongue.say(Message("report.fold.board", board)),
        "source": f"{source} ({grade})",
    }


def _on_paper(metres: float) -> float:
    return round(metres * 1000 / SCALE, 3)
