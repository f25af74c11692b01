"""Keys that anybody can sign for are none.

Source:
    RFC 8032 (2017), 5.1: the curve, its prime, how a point is written.  Points of small
    order are those of which eight times is nothing (the cofactor, 5.1, is 8).
"""

import pytest

from limen.record.certifying import certify
from limen.record.keys import WEAK, KeyRefusedError, signed, usable
from record.signing import DEVICE, FIRM, SINCE

PRIME = 2**255 - 19
D = -121665 * pow(121666, -1, PRIME) % PRIME
ROOT = pow(2, (PRIME - 1) // 4, PRIME)
"""Of minus one."""
Point = tuple[int, int]


def _x(y: int) -> int | None:
    """An x that goes with a y (5.1.3), or None."""
    square = (y * y - 1) * pow(D * y * y + 1, -1, PRIME) % PRIME
    x = pow(square, (PRIME + 3) // 8, PRIME)
    if x * x % PRIME != square:
        x = x * ROOT % PRIME
    return x if x * x % PRIME == square else None


def _sum(a: Point, b: Point) -> Point:
    """5.1.4, not in projective form."""
    (x1, y1), (x2, y2) = a, b
    k = D * x1 * x2 * y1 * y2 % PRIME
    x = (x1 * y2 + x2 * y1) * pow(1 + k, -1, PRIME) % PRIME
    y = (y1 * y2 + x1 * x2) * pow(1 - k, -1, PRIME) % PRIME
    return x, y


def _eightfold(point: Point) -> Point:
    for _ in range(3):
        point = _sum(point, point)
    return point


@pytest.mark.parametrize("written", sorted(WEAK))
def test_eight_times_a_refused_point_is_nothing(written: str) -> None:
    y = int.from_bytes(bytes.fromhex(written), "little") % PRIME
    x = _x(y)
    assert x is not None
    assert _eightfold((x, y)) == (0, 1)


def test_all_eight_points_of_small_order_are_refused() -> None:
    """There are as many as the cofactor; y and −y and the two signs of x."""
    heights = {int.from_bytes(bytes.fromhex(one), "little") % PRIME for one in WEAK}
    points = {(x % PRIME, y) for y in heights for x in (_x(y) or 0, -(_x(y) or 0))}
    assert len(points) == 8


@pytest.mark.parametrize("last", [0, 0x80])
def test_nothing_is_signed_by_them(last: int) -> None:
    for written in WEAK:
        key = written[:-2] + f"{int(written[-2:], 16) | last:02x}"
        nothing = "01" + "00" * 63
        assert not usable(key)
        assert not any(signed(key, nothing, bytes([one])) for one in range(16))


@pytest.mark.parametrize("key", ["", "0" * 64, "F" * 64, DEVICE.public[:-1], "ü" * 64])
def test_a_firm_certifies_no_such_key(key: str) -> None:
    with pytest.raises(KeyRefusedError):
        certify(FIRM, "Weir & Söhne", key, "Tablet 3", since=SINCE)


def test_a_key_made_here_is_one() -> None:
    assert usable(DEVICE.public)
