"""Broken site files: each is the reference doorway's file with one thing wrong."""
# ruff: noqa: E501  # a table is read line by line

from dataclasses import dataclass
from importlib.resources import files

GOOD = files("limen").joinpath("rulebooks", "reference_doorway.toml").read_text("utf-8")
GOOD_SHEET = files("limen").joinpath("sheets", "two-row.toml").read_text("utf-8")

DOOR = 'doorway "reference"'
OUTSIDE = f'{DOOR} · fitting "outside"'
WIDTH = 'clear_width = "2000 mm"'
LEFT = '[[doorway.side_space]]\nside = "left"'
SIDE = '[[doorway.side_space]]\nside = "right"'
OUT = 'id = "outside"\nsheet = "reference-two-row"'
LENS = (
    'lens = { along = "0 mm ± 5 mm", from_leaf = "120 mm ± 5 mm", '
    'height = "2200 mm ± 5 mm" }'
)
FACING = '[[doorway.facing]]\ndoorway = "nobody"\nside = "inside"\ndistance = "2 m"\n\n'
THING = """[[doorway.thing]]
name = "plant"
side = "inside"
along = "900 mm"
out = "450 mm"
width = "300 mm"
depth = "300 mm"
height = "1 m"

"""


@dataclass(frozen=True)
class Broken:
    """One way to break a file.

    Attributes:
        name: what is wrong, in a few words.
        old: what stands in the good file.
        new: what stands there instead.
        key: the key path that must be named; empty for the file as a whole.
        word: what the reason must say.
    """

    name: str
    old: str
    new: str
    key: str
    word: str

    def of(self, good: str) -> str:
        """The broken text."""
        assert self.old in good, f"{self.old!r} is not in the good file"
        return good.replace(self.old, self.new, 1)


def _width(name: str, value: str, word: str) -> Broken:
    return Broken(name, WIDTH, f"clear_width = {value}", f"{DOOR} · clear_width", word)


SITES = [
    # numbers
    _width("a wrong unit", '"2000 kg"', "kg measures mass"),
    _width("an unknown unit", '"2000 furlong"', "no unit known"),
    _width("a misspelt unit", '"2 metres"', "write 2 m"),
    _width("a bare number in quotes", '"2000"', "no unit"),
    _width("a bare number", "2000", "needs its unit"),
    _width("a bare decimal number", "2.0", "needs its unit"),
    _width("true for a length", "true", "needs its unit"),
    _width("a list for a length", '["2000 mm"]', "needs its unit"),
    _width("a table for a length", "{ mm = 2000 }", "needs its unit"),
    _width("a decimal comma", '"1,8 m"', "write 1.8 m"),
    _width("a comma for thousands", '"2,000 mm"', "thousands or decimals"),
    _width("not a number, as text", '"nan m"', "not a measured number"),
    _width("not a number", "nan", "needs its unit"),
    _width("infinity, as text", '"inf m"', "not a measured number"),
    _width("infinity", "-inf", "needs its unit"),
    _width("beyond all floats", '"1e308 m"', "out of bounds"),
    _width("beyond all exponents", '"1e999999 m"', "out of bounds"),
    _width("a negative width", '"-2000 mm"', "outside what a door can have"),
    _width("an opening narrower than the body", '"200 mm"', "outside what a door"),
    _width("a wide dash for minus", '"2000 mm – 3 mm"', "dash"),
    _width("digits of another script", '"٢٠٠٠ mm"', "digits 0 to 9"),
    _width("an empty text", '""', "nothing is written"),
    _width("a negative uncertainty", '"2000 mm ± -3 mm"', "not negative"),
    _width("an unknown grade", '"2000 mm, guess"', "no grade"),
    _width("ten thousand digits", f'"{"9" * 10000} mm"', "more than 120 characters"),
    _width("an invisible character", '"2000\\u200b mm"', "invisible"),
    _width("twelve inches or more", '"6 ft 13 in"', "12 inches or more"),
    # keys and tables
    Broken("an unknown key", WIDTH, f'{WIDTH}\ncolour = "red"', f"{DOOR} · colour", "no such key"),
    Broken("a misspelt key", WIDTH, 'clear_widht = "2000 mm"', f"{DOOR} · clear_widht", "did you mean clear_width"),
    Broken("a key left out", WIDTH, "", f"{DOOR} · clear_width", "needed"),
    Broken("no leaves but leafs", "[doorway.leaves]\nkind", "[doorway.leafs]\nkind", f"{DOOR} · leafs", "did you mean leaves"),
    Broken("no leaf at all", GOOD[GOOD.index("[doorway.leaves]") : GOOD.index("[doorway.motion]")], "", f"{DOOR} · leaves", "needed"),
    Broken("a key written twice", WIDTH, f"{WIDTH}\n{WIDTH}", "clear_width", "twice"),
    Broken("a table written twice", SIDE, f"[doorway.leaves]\n{SIDE}", "", "twice"),
    Broken("a table for a list", "[[doorway]]", "[doorway]", "doorway", "is not accepted here"),
    Broken("a unit in the file itself", OUT, f'{OUT}\nunit = {{ name = "x" }}', f"{OUTSIDE} · unit", "no such key"),
    # ids and words
    Broken("a blank in an id", 'id = "reference"', 'id = "main door"', 'doorway "main door" · id', "characters"),
    Broken("an id that differs in case only", 'id = "inside"', 'id = "Outside"', f'{DOOR} · fitting "Outside" · id', "characters"),
    Broken("the same id twice", 'id = "inside"', 'id = "outside"', f"{OUTSIDE} · id", "same id"),
    Broken("an empty name", 'name = "Reference doorway"', 'name = "  "', "name", "1 or more"),
    Broken("a name of a thousand letters", 'name = "Reference doorway"', f'name = "{"n" * 1000}"', "name", "120 or fewer"),
    Broken("a word that is none of the words", 'kind = "bi-parting"', 'kind = "bi-partin"', f"{DOOR} · leaves.kind", "did you mean bi-parting"),
    Broken("a rulebook nobody has", 'note = "Invented."', 'rulebook = "xx"', "rulebook", "accepted words"),
    Broken("a single leaf without its hand", 'kind = "bi-parting"', 'kind = "single"', f"{DOOR} · leaves", "names the side"),
    Broken("a hand for two leaves", 'kind = "bi-parting"', 'kind = "bi-parting"\nhand = "left"', f"{DOOR} · leaves.hand", "names the side"),
    Broken("a date in quotes", "2018-06-01", '"2020-06-01"', f"{DOOR} · commissioned", "text is not accepted here"),
    Broken("a day that is not in the calendar", "2018-06-01", "2021-02-30", "commissioned", "no such day"),
    Broken("yes for true", "escape_route = false", 'escape_route = "yes"', f"{DOOR} · use.escape_route", "text is not accepted here"),
    # the doorway
    Broken("one side told twice", SIDE, SIDE.replace("right", "left"), f"{DOOR} · side_space[2].side", "twice"),
    Broken("a space the single leaf does not open into", 'kind = "bi-parting"', 'kind = "single"\nhand = "left"', f"{DOOR} · side_space[2].side", "opens to the left"),
    Broken("one thing told twice", LEFT, THING + THING + LEFT, f"{DOOR} · thing[2].name", "twice"),
    Broken("a reduced width wider than the door", WIDTH, f'{WIDTH}\nreduced_width = "2100 mm"', f"{DOOR} · reduced_width", "not narrower"),
    Broken("a reduced mode without its width", 'modes = ["automatic"]', 'modes = ["automatic", "reduced"]', DOOR, "missing"),
    Broken("an ignored gap wider than the door", 'presence_ignored_below = "0 mm"', 'presence_ignored_below = "2.5 m"', f"{DOOR} · presence_ignored_below", "wider than the opening"),
    Broken("a header that hangs into the opening", 'underside = "2100 mm"', 'underside = "1.9 m"', f"{DOOR} · header.underside", "lower than the clear height"),
    Broken("a doorway that faces a stranger", LEFT, FACING + LEFT, f"{DOOR} · facing[1].doorway", "another doorway"),
    Broken("a doorway that faces itself", LEFT, FACING.replace("nobody", "reference") + LEFT, f"{DOOR} · facing[1].doorway", "another doorway"),
    # fittings
    Broken("a unit inside the header", LENS, LENS.replace("120 mm", "60 mm"), f"{OUTSIDE} · lens.from_leaf", "inside the header"),
    Broken("a unit inside the leaf path", f'place = "header face"\n{LENS}', 'place = "underside"\nlens = { from_leaf = "2 mm", height = "2050 mm" }', f"{OUTSIDE} · lens.from_leaf", "leaf path"),
    Broken("a unit that hangs in the walkway", LENS, LENS.replace("2200 mm", "1800 mm"), f"{OUTSIDE} · lens.height", "below the header"),
    Broken("a lens no higher than the body", LENS, LENS.replace("2200 mm", "650 mm"), f"{OUTSIDE} · lens.height", "outside what a door"),
    Broken("row ends that are crossed", LENS, f'{LENS}\nread = {{ left_end = "1 m", right_end = "-1 m" }}', f"{OUTSIDE} · read.right_end", "to the right of"),
    Broken("rows without a lens", LENS, "", f"{OUTSIDE} · lens", "place of its lens"),
    Broken("a fan choice the sheet does not have", 'fan = "wide"', 'fan = "widest"', f"{OUTSIDE} · settings.fan", "no such fan choice"),
    Broken("a row the sheet does not have", "rows_on = [1, 2]", "rows_on = [1, 3]", f"{OUTSIDE} · settings.rows_on[2]", "2 rows"),
    Broken("a row switched on twice", "rows_on = [1, 2]", "rows_on = [2, 2]", f"{OUTSIDE} · settings.rows_on[2]", "twice"),
    Broken("row number nought", "rows_on = [1, 2]", "rows_on = [0, 1]", f"{OUTSIDE} · settings.rows_on[1]", "1 or more"),
    Broken("no row switched on", "rows_on = [1, 2]", "rows_on = []", f"{OUTSIDE} · settings.rows_on", "at least 1"),
    Broken("a channel the sheet does not have", "channel = 1", "channel = 9", f"{OUTSIDE} · settings.channel", "no such channel"),
    Broken("half a channel", "channel = 1", "channel = 1.5", f"{OUTSIDE} · settings.channel", "number is not accepted here"),
    Broken("a tilt the unit does not have", 'tilt = "-1.458 deg"', 'tilt = "25 deg"', f"{OUTSIDE} · settings.tilt", "cannot be tilted"),
    Broken("a step the sheet does not have", 'steadiness = "low"', 'steadiness = "storm"', f"{OUTSIDE} · settings.steadiness", "no such step"),
    Broken("beams on a unit that is no barrier", LENS, f'{LENS}\nbeams = [{{ height = "200 mm", from_leaf = "30 mm" }}]', f"{OUTSIDE} · beams", "no light barrier"),
    Broken("a barrier without beams", OUT, OUT.replace("reference-two-row", "edge-barrier"), f"{OUTSIDE} · beams", "needs its beams"),
    Broken("a fan on a unit without rows", OUT, OUT.replace("reference-two-row", "radar-only"), f"{OUTSIDE} · settings.fan", "no presence sense"),
    Broken("an output the sheet does not have", '{ output = "opening"', '{ output = "escape opening"', f"{OUTSIDE} · wires[1].output", "no such output"),
    # sheets by name
    Broken("a sheet that is not there", OUT, OUT.replace("reference-two-row", "no-such-sheet"), f"{OUTSIDE} · sheet", "no sensor sheet"),
    Broken("a sheet above the folder", OUT, OUT.replace("reference-two-row", "../secret"), f"{OUTSIDE} · sheet", "characters"),
    Broken("a sheet by an absolute path", OUT, OUT.replace("reference-two-row", "/etc/passwd"), f"{OUTSIDE} · sheet", "characters"),
    Broken("a sheet by its file name", OUT, OUT.replace("reference-two-row", "two-row.toml"), f"{OUTSIDE} · sheet", "characters"),
    # text that is no TOML
    Broken("a quote that is not closed", WIDTH, 'clear_width = "2000 mm', "clear_width", "not closed"),
    Broken("a value without quotes", WIDTH, "clear_width = 2000 mm", "clear_width", "not a value"),
    Broken("a key without a value", WIDTH, "clear_width =", "clear_width", "nothing after ="),
    Broken("a table that is not closed", "[doorway.leaves]", "[doorway.leaves", "", "not closed"),
    Broken("a sentence", WIDTH, "the door is two metres wide", "", ""),
]  # fmt: skip

ROW = 'angle = "0 deg"\nspots = 24'
SHEETS = [
    Broken("one spot a row", ROW, ROW.replace("24", "1"), "presence.rows[1].spots", "2 or more"),
    Broken("a million spots", ROW, ROW.replace("24", "1000000"), "presence.rows[1].spots", "200 or less"),
    Broken("a range that runs backwards", 'least = "-6 deg"', 'least = "7 deg"', "presence.tilt.most", "backwards"),
    Broken("a form of fan nobody knows", 'form = "width"', 'form = "guess"', "presence.fan.form", "accepted words"),
    Broken("a fan without its form", 'form = "width"', "", "presence.fan.form", "needed"),
    Broken("an angle for a width", 'wide = "2600 mm"', 'wide = "30 deg"', "presence.fan.choices.wide", "measures angle"),
    Broken("a negative height", 'lowest_height = "50 mm"', 'lowest_height = "-50 mm"', "presence.lowest_height", "outside"),
    Broken("no spots needed at all", "spots_needed = 1", "spots_needed = 0", "presence.spots_needed", "1 or more"),
]  # fmt: skip
