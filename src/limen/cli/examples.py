"""What help says at length: texts and examples of the commands."""

EXAMPLES = """\b
Examples:
  limen demo                            see it at work on an invented building
  limen new --ask door.toml             two minutes at a door of yours
  limen check door.toml                 what holds, what fails, what to do
  limen check door.toml --doorway main --explain presence.leaf_path
  limen draw door.toml --out drawings   plan, section and front as SVG
"""

CHECK = """Say what holds, what fails and what is not shown.

SITE.toml is read, never written. One line a finding, worst first, with what to do.

Exit status: 0 nothing fails and nothing is not shown among musts; 1 a must fails;
3 none fails but some must is not shown; 2 the input cannot be used.
"""

CHECK_EXAMPLES = """\b
Examples:
  limen check door.toml
  limen check door.toml --doorway main --all
  limen check door.toml --rulebook en --edition 2023 --on 2026-03-01
  limen check door.toml --json > findings.json
  limen check door.toml --report door.pdf
  limen check door.toml --explain presence.leaf_path
"""

NEW = """Write a site file to begin with; it never overwrites one.

With --ask it asks about a dozen things by tape and stopwatch and writes a short form.
With --full it writes a short form in full, what was assumed marked as such.
"""

NEW_EXAMPLES = """\b
Examples:
  limen new door.toml                   a commented file to fill in
  limen new --ask door.toml             two minutes at the door
  limen new all.toml --full door.toml   the short form, written in full
  limen check door.toml                 put your door in first
"""

DRAW_EXAMPLES = """\b
Examples:
  limen draw door.toml --view plan
  limen draw door.toml --width 360      for a phone
"""

FLEET = "Take many doors in, and check them at once."

FLEET_CHECK = """Study every doorway of many sites; what is done is kept.

FOLDER is searched to the bottom for site files. Findings go to CSV files in DIR, and to
Parquet files where the extra limen[fleet] is installed. Stop it with Ctrl-C, or lose
power: the same command goes on, and studies only what is new or was changed.

Exit status: 0 all doorways stand in the results, with their faults where they have
some; 130 stopped before; 70 some had to be given up; 2 there is nothing to study.
"""

FLEET_CHECK_EXAMPLES = """\b
Examples:
  limen fleet check sites --out results
  limen fleet check sites --out results --workers 4 --rulebook en
  limen fleet check north south --out results --cluster tcp://host:8786
"""

DUE_EXAMPLES = """\b
Examples:
  limen due library.toml
  limen due sites/*.toml --within 60 --ics checks.ics
  limen due sites/*.toml --by person --ics calendars   a calendar each
  limen due library.toml --records records             sealed visits count
"""

CHANGE = """Say what changed since a record, and which tests that owes.

SITE.toml is the door as it is now, RECORD the last record of the doorway, as JSON or
as its PDF. Facts and readings are compared within their ±. What rests on nothing that
changed is not asked again. Where the site file was edited since, --was names the one
of that day.

Exit status: 0 the work is done; 2 the input cannot be used.
"""

CHANGE_EXAMPLES = """\b
Examples:
  limen change door.toml --doorway main --record records/record-0001-main.json
  limen change door.toml --doorway main --record record.pdf --was was.toml
  limen change door.toml --doorway main --record record.json --visit visit.json
  limen change door.toml --doorway main --record record.json --done aim --json
"""

TRACE = """Say why a door misbehaves: causes, and the question that tells most a minute.

Asks at the terminal, or weighs what a call-out file answers. Sensor, wires, drive,
building and people rank as equals. With a site file the doorway's own figures count.
Where somebody was struck it looks for nothing.
"""
TRACE_EXAMPLES = """\b
Examples:
  limen trace
  limen trace library.toml --doorway main --save call.toml
  limen trace --answers call.toml --json
  limen trace --answers call.toml --describe -
"""
FLOWS_EXAMPLES = """\b
Examples:
  limen flows door.toml --doorway main
  limen flows door.toml --weather our-town.epw
  limen flows door.toml --instead "hold_open=1 s" --instead "outside.reach=60 %"
"""

FIT = """Say where units really hang, by what tape, finder and box showed.

READINGS.toml names its site file; both are read, never written.

Exit status: 0 the work is done, also where more is to be taped; 2 the input cannot be
used.
"""

FIT_EXAMPLES = """\b
Examples:
  limen fit readings.toml               where it hangs, what to turn
  limen fit readings.toml --out as-it-hangs.toml
  limen fit readings.toml --json > fitted.json
"""

READINGS_EXAMPLES = """\b
Examples:
  limen readings door.toml              a page a doorway, to write on
  limen readings door.toml --doorway main --out main.pdf --paper letter
"""

WIRES_EXAMPLES = """\b
Examples:
  limen wires door.toml --doorway main
  limen wires door.toml --out wires.pdf   to take to the operator
"""

TUNE = """Find the best settings: what to turn, by how much, and what it costs.

SITE.toml is read, never written. Every adjustment that the sheets allow is tried, all
units of a doorway together; what is printed has been proved.

Exit status: 0 the work is done, also where nothing is better; 2 the input cannot be
used.
"""

TUNE_EXAMPLES = """\b
Examples:
  limen tune door.toml
  limen tune door.toml --doorway main --units feet
  limen tune door.toml --json > settings.json
"""

CHANNELS_EXAMPLES = """\b
Examples:
  limen channels site.toml
  limen channels site.toml --all        every pair, and why
  limen channels site.toml --json > channels.json
"""

KEYS_EXAMPLES = """\b
Examples:
  limen keys new --firm "Weir & Sons" --device "Desk 1"
  limen keys list
  limen keys vouch 6e7a… --name "Phone 2"
  limen keys withdraw "Phone 2" --because "left in a train"

The passphrase is asked for, or read from the file that LIMEN_PASSPHRASE_FILE names.
"""

KEYS_NEW_EXAMPLES = """\b
Examples:
  limen keys new --firm "Weir & Sons" --device "Desk 1"
  limen keys new --device "Laptop 2"    its firm’s key lies elsewhere
"""

KEYS_VOUCH_EXAMPLES = """\b
Example:
  limen keys vouch 6e7a…90f1 --name "Phone 2"   the digits stand on the phone
"""

KEYS_WITHDRAW_EXAMPLES = """\b
Examples:
  limen keys withdraw "Phone 2" --because "left in a train"
  limen keys withdraw 6e7a90f1 --because "given back"
"""

CARD = """Write the job card of a site: a page for the phone and paper to print.

Both are for whoever has no line to this desk. What was done comes back as a file that
the page saves: limen card take-in FILE.
"""

CARD_EXAMPLES = """\b
Examples:
  limen card door.toml --out cards      the page and the PDF, every doorway
  limen card door.toml --doorway main --only html
  limen card door.toml --only pdf --paper letter --units feet
  limen card "Alder Quay Library"       a site of the library, by its name
  limen card take-in limen-visit.json   what came back from the door
"""

OWNER_EXAMPLES = """\b
Examples:
  limen owner door.toml --doorway main  the sheet that hangs beside the door
  limen owner door.toml --doorway main --language de --also fr
  limen owner door.toml --html --out phone
"""

RECORD_NEW = """Seal a record of a doorway: JSON and PDF, in a folder of records.

SITE.toml is read, never written. The record says what was found of the doorway on that
day and, with --visit, what was done at the door; without, that nothing was tested. It
names the records of the doorway that lie in DIR already; nothing there is replaced.

Exit status: 0 the record is sealed; 2 the input cannot be used, or there is no key.
"""

RECORD_NEW_EXAMPLES = """\b
Examples:
  limen record new door.toml --doorway main --out records
  limen record new door.toml --doorway main --out records --visit visit.json
  limen record new door.toml --doorway main --out records --paper letter
"""

VERIFY = """Say whether sealed files are unchanged, and who sealed them.

FILE is a record as JSON or PDF, or a folder of them: then it is also said whether one
lacks that another names. Known are the firms whose keys lie here, and those of --trust.

Exit status: 0 every file is unchanged and its signer known; 1 one is changed, its
signer unknown or withdrawn, or a record lacks in a folder; 2 a file cannot be read or
is no sealed file, and no other is worse.
"""

VERIFY_EXAMPLES = """\b
Examples:
  limen verify records/record-0001-main.pdf
  limen verify records                  all of them, and whether one lacks
  limen verify record.json --trust weir.pub --json
"""

TAKE_IN = """Take doors in from a list: CSV, or Excel (.xlsx).

MAP.toml says what each column becomes. If it is not there yet, it is written as the
words of the list suggest, and nothing is taken in. Every row is taken, or refused with
its line and reasons; refused rows stand in DIR/refused.csv, to be mended and taken in
again. What is in DIR already stays as it is.

Exit status: 0 the list was read, rows may be refused; 2 it cannot be used.
"""

TAKE_IN_EXAMPLES = """\b
Examples:
  limen fleet take-in doors.csv                        how it would be read
  limen fleet take-in doors.csv --map map.toml         write the suggestion
  limen fleet take-in doors.csv --map map.toml --out sites --dry-run
  limen fleet take-in doors.csv --map map.toml --out sites
  limen fleet take-in sites/refused.csv --map map.toml --out sites
  limen fleet take-in doors.xlsx --sheet "North" --map map.toml --out sites
"""
