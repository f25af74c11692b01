"""How faults are told."""

import pickle

from limen.store.faults import Fault, FileFaults, printable


def test_faults_stand_in_the_order_of_their_lines() -> None:
    late, early = Fault("b", 9, "", "why"), Fault("a", 2, "", "why")
    whole = Fault("", None, "", "why")
    assert FileFaults("x", [late, early, whole]).faults == (whole, early, late)


def test_what_is_not_known_is_left_out() -> None:
    assert Fault("", None, "", "no such file").lines() == ["  the file: no such file"]
    assert Fault("a", 3, "", "bad", "good").lines() == [
        "  line 3 · a: bad",
        "    accepted  good",
    ]


def test_the_message_is_the_list() -> None:
    faults = FileFaults("x.toml", [Fault("a", 3, "1", "bad")])
    assert str(faults) == "\n".join(faults.lines())


def test_faults_survive_a_journey_between_processes() -> None:
    faults = FileFaults("x.toml", [Fault("a", 3, "1", "bad", "good", "a = 2")])
    again = pickle.loads(pickle.dumps(faults))  # noqa: S301 - made one line above
    assert (again.file, again.faults) == (faults.file, faults.faults)


def test_what_cannot_be_printed_is_shown_as_such() -> None:
    assert printable("a\x1b[31m\nb") == "a�[31m�b"
    assert printable("x" * 100, 10) == "x" * 9 + "…"
    assert "\x1b" not in FileFaults("\x1b.toml", [Fault("", None, "", "w")]).lines()[0]
