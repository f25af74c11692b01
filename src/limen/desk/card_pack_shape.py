"""The card pack: all that a phone at a door needs of one doorway, as JSON.

The shape is held by types here, by tests, and by the card's own script
(web/src/card/pack.ts).  Lengths are metres, angles radians; sentences are in the
language and the units of whoever takes it along.
"""

from typing import Literal, NotRequired, TypedDict

from limen.keep.carried import CarriedCause, CarriedQuestion

Answer = Literal["stayed open", "touched", "lamp only"]
Tool = Literal["body", "carton", "leg"]
Bad = Literal["touched", "lamp only"]


class Place(TypedDict):
    """Where the box goes: its middle, turn and size, and how that is taped."""

    x: float
    y: float
    yaw: float
    width: float
    depth: float
    height: float
    face: Literal["upright", "on its face", "on its edge"]
    post: Literal["left", "right"] | None
    far: float


class Cause(TypedDict):
    """What is likely wrong, what to turn, the tests that are owed then."""

    cause: str
    turn: str
    again: list[str]
    after: list[Bad]


class Test(TypedDict):
    """One test; where it is `like` another one, that one's causes are its own."""

    id: str
    minimum: bool
    minutes: float
    title: str
    says: str
    why: str
    place: Place | None
    tools: list[Tool]
    if_failed: list[Cause]
    like: NotRequired[str]
    seconds: NotRequired[float]
    answers: NotRequired[dict[Answer, str]]


class Work(TypedDict):
    """One piece of work, in its order; `after` the tests, or before them."""

    id: str
    title: str
    says: str
    found: list[Literal["new", "existing", "called out"]]
    after: bool
    seconds: NotRequired[float]


class Target(TypedDict):
    """Where a first row must land, from the leaf face on its side."""

    fitting: str
    row: int
    least: float
    best: float
    most: float
    was: float
    open: bool
    says: str


class Guess(TypedDict):
    """What may be wrong, to be weighed by the card (prove/packing.py)."""

    weights: list[float]
    hole: list[int]
    reached: list[str | None]
    room: list[float | None]
    sure: dict[Tool, list[float]]


class TraceQuestion(CarriedQuestion):
    """A question of the fault finder: its words, those of its answers, what to heed."""

    asks: str
    words: dict[str, str]
    warns: list[str]


class TraceCause(CarriedCause):
    """A cause: its words, what to do, the tests that are owed once it is done."""

    named: str
    do: str
    owed: str
    again: list[str]


class Told(TypedDict):
    """What the desk was told of a door that misbehaves before anybody went there.

    ``says`` when and by whom, ``cause`` what was taken to be the cause; None while
    nothing was.
    """

    call: str
    says: str
    answers: dict[str, str]
    cause: str | None


class Trace(TypedDict):
    """The fault finder, the doorway's own figures weighed in (keep/carried.py)."""

    ladder: float
    known: float
    enough: float
    glance: float
    upset: float
    slip: float
    struck: str
    struck_do: str
    questions: list[TraceQuestion]
    causes: list[TraceCause]
    told: NotRequired[Told]


class Budget(TypedDict):
    """How many further places, and minutes for them, a visit has."""

    steps: int
    minutes: float


class Way(TypedDict):
    """One way to read the fan of a unit's manual."""

    fans: list[list[float]]
    by_angle: bool
    share: bool


class FitUnit(TypedDict):
    """What is known of a unit before it is read."""

    fitting: str
    turned: bool
    face: float
    rows: list[float]
    rows_on: list[int]
    low: float | None
    ways: list[Way]
    lens: list[float]
    within: list[float | None]
    tilt: float
    usual: tuple[float | None, float, float]
    angle_error: float
    evenness: float
    step: float | None


class Fit(TypedDict):
    """What the small fit needs."""

    units: list[FitUnit]
    half: float
    half_within: float
    read_within: dict[Literal["spot", "line", "end", "in", "out"], float]
    along_line: float


class OwedTest(TypedDict):
    """A test that is owed because something changed, and why."""

    id: str
    because: list[str]


class LeftAs(TypedDict):
    """How a row was left, and the tests that are owed where it is found moved.

    ``left`` is from the leaf face, or of a row's end along the opening; ``place`` where
    along the opening it was read, null where that does not matter.
    """

    fitting: str
    kind: str
    row: int | None
    end: str
    left: float
    within: float
    place: float | None
    what: str
    owes: list[str]


class Change(TypedDict):
    """What changed since the last record, and what that owes.

    ``only`` where the card is to ask for the tests owed and no others; ``left_out``
    tests rest on nothing that changed.
    """

    number: int | None
    only: bool
    owed: list[OwedTest]
    left_out: int
    left: list[LeftAs]


class Rulebook(TypedDict):
    """By which numbers the doorway was studied."""

    id: str
    edition: str
    digest: str


class Pack(TypedDict):
    """The whole of it.

    ``record`` is all that a record says before anybody goes to the door, the study in
    brief with the digest of the whole among it: what a device seals at the door.
    """

    schema: Literal[1]
    limen: str
    site: str
    doorway: str
    name: str
    version: int
    digest: str
    made: str
    rulebook: Rulebook
    record: dict[str, object]
    drawings: dict[Literal["plan", "section", "front"], str]
    targets: list[Target]
    work: list[Work]
    tests: list[Test]
    guess: Guess
    trace: NotRequired[Trace]
    budgets: dict[Literal["yearly", "acceptance", "after repair"], Budget]
    fit: Fit
    last: dict[str, object] | None
    parents: list[str]
    words: dict[str, str]
    change: NotRequired[Change]
