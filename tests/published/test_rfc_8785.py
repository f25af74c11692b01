"""RFC 8785, JSON Canonicalization Scheme (JCS), June 2020.

Numbers: appendix B (IEEE 754 double as hexadecimal digits, and its text).  Sorting:
section 3.2.3, the rule; the order of the three keys was worked out from it here.
"""

import struct

import pytest

from limen.record.canonical import NotCanonicalError, canonical, read

APPENDIX_B = {
    "0000000000000000": "0",
    "8000000000000000": "0",
    "0000000000000001": "5e-324",
    "8000000000000001": "-5e-324",
    "7fefffffffffffff": "1.7976931348623157e+308",
    "4340000000000000": "9007199254740992",
    "c340000000000000": "-9007199254740992",
    "4430000000000000": "295147905179352830000",
    "44b52d02c7e14af5": "9.999999999999997e+22",
    "44b52d02c7e14af6": "1e+23",
    "44b52d02c7e14af7": "1.0000000000000001e+23",
    "444b1ae4d6e2ef4e": "999999999999999700000",
    "444b1ae4d6e2ef4f": "999999999999999900000",
    "444b1ae4d6e2ef50": "1e+21",
    "3eb0c6f7a0b5ed8c": "9.999999999999997e-7",
    "3eb0c6f7a0b5ed8d": "0.000001",
    "41b3de4355555553": "333333333.3333332",
    "41b3de4355555554": "333333333.33333325",
    "41b3de4355555555": "333333333.3333333",
    "41b3de4355555556": "333333333.3333334",
    "41b3de4355555557": "333333333.33333343",
    "becbf647612f3696": "-0.0000033333333333333333",
    "43143ff3c1cb0959": "1424953923781206.2",
}
NO_NUMBER = ("7fffffffffffffff", "7ff0000000000000")


def _double(digits: str) -> float:
    return struct.unpack(">d", bytes.fromhex(digits))[0]


@pytest.mark.parametrize(("digits", "text"), APPENDIX_B.items())
def test_numbers_are_written_as_in_appendix_b(digits: str, text: str) -> None:
    assert canonical([_double(digits)]) == f"[{text}]".encode()


@pytest.mark.parametrize("digits", NO_NUMBER)
def test_what_is_no_number_has_no_text(digits: str) -> None:
    with pytest.raises(NotCanonicalError):
        canonical([_double(digits)])


def test_keys_stand_in_the_order_of_their_utf_16_units() -> None:
    keys = {"\ufb33": 3, "\U0001f600": 2, "\u20ac": 1}
    text = '{"\u20ac":1,"\U0001f600":2,"\ufb33":3}'
    assert canonical(keys) == text.encode()


def test_a_whole_number_has_no_point() -> None:
    assert canonical({"b": 1, "a": 1.0}) == b'{"a":1,"b":1}'


def test_what_was_written_is_read() -> None:
    value = {"a": [1, 2.5, "ä\n\u2028", None, True], "b": {}}
    assert read(canonical(value)) == value
