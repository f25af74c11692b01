"""Branch and bound over poses, compiled.

A cell is a box of poses: middle (x, y, yaw), half-sizes rx, ry, ra. Write W, D for the
half sides of the body, H for the half vector of a beam's segment, m for its middle.

*Surely met.* Write t for sin ra. A point (u, v) of the body's frame with |u| + t |v| <= W
and |v| + t |u| <= D stays in the body turned by any a up to ra, as its new |u| is at most
|u| cos a + |v| sin a, and likewise for v. These points form an octagon O, with corners
(W', 0), (kw, kd) and (0, D') in the first quadrant, where W' = min(W, D / t) and
D' = min(D, W / t). A beam meets every body of the cell if m lies in O + H for every
shift of the centre in the box rx, ry: in O + H eroded by that box. The sum of an octagon
and a segment is bounded by half-planes with the normals (1, t), (1, -t), (t, 1), (-t, 1)
and the segment's own; eroding lowers each bound by the support of the box. The beam's
own error is a further box. Certificates keep a further 1e-9 m.

*May be met.* Conversely every body of the cell lies in the rectangle W + D sin ra by
D + W sin ra, and in the square of its half diagonal, moved over the same box.

*Order.* The largest of rx, ry and 1.4 R ra is halved (R: half diagonal; 1.4 gave the
fewest cells), and the half farther from the beams that met at the middle comes first.
Each depth keeps the beams that may still meet, so that a cell tries only its parent's.

*Undecided.* With rx, ry and R ra at most the resolution r, an undecided cell is decided
for the body grown by 2.5 r, as (sqrt 2 + 1) r + 3e-9 < 2.5 r: its middle is no witness,
so enough beams meet there. Once one cell is undecided, the others are certified for the
body grown by 2.5 r, and only witnesses are still looked for.

*Shared shifts.* A shift of all beams of a unit by s is a shift of the body by -s. A unit
covers a cell for every shift if it covers the cell enlarged by the shift's box with only
the beams' own errors left: an inner search over that box with this unit alone. Cells are
then halved to r / 2 outside and inside, so that the two together stay within 2.5 r.
"""

from math import ceil, cos, log2, sin, sqrt

import numpy as np
from numba import njit, types

GUARD = 1e-9
HOLDS, FAILS, UNDECIDED, LIMIT = 0, 1, 2, 3
TURN_WEIGHT = 1.4
DEEPER = 16.0
INNER = 512

_f, _i, _b = types.float64, types.int64, types.boolean
_fr = types.Array(_f, 2, "C", readonly=True)
_ir = types.Array(_i, 1, "C", readonly=True)
_f2, _i2, _f1, _i1 = _f[:, ::1], _i[:, ::1], _f[::1], _i[::1]
_cell = types.UniTuple(_f, 9)  # x, y, yaw, cos, sin, rx, ry, ra, sin ra
_size = types.UniTuple(_f, 6)  # W, D, extra, reach, radius, leaf
_units = types.Tuple((_fr, _ir, _ir, _fr))  # beams, group, needed, common
_place = types.Tuple((_f, _f, _fr, _fr))  # W, D as given, walls, boxes asked
_marks = types.Tuple((_i1, _i1, _f1, _f2))  # sure, met, pull, shift
_room = types.Tuple((_i2, _i1, _f2))  # beams kept by depth, their number, cells to do
_octagon = types.UniTuple(_f, 9)  # W', D', kw, kd, t, |c - ts|, |s + tc|, |c + ts|, |s - tc|
_settings = {"cache": True, "nogil": True, "fastmath": False}


@njit(types.UniTuple(_f, 2)(_f, _f, _f), **_settings)
def kept_rectangle(w, d, turn):
    """The corner kw, kd of O: kw + kd sin ra = W, kd + kw sin ra = D."""
    rest = 1.0 - turn * turn
    if rest < 1e-3:
        return -1.0, -1.0
    return (w - d * turn) / rest, (d - w * turn) / rest


@njit(types.UniTuple(_f, 2)(_f, _f, _f), **_settings)
def swept_rectangle(w, d, turn):
    """Half sides of a rectangle that holds the body throughout a cell's turn."""
    far = sqrt(w * w + d * d)
    return min(far, w + d * turn), min(far, d + w * turn)


@njit(_b(_place, _cell), **_settings)
def blocked_throughout(place, cell):
    """Whether every body of the cell overlaps one and the same wall."""
    w, d, boxes, _ = place
    cx, cy, _, c, s, rx, ry, _, turn = cell
    kw, kd = kept_rectangle(w - GUARD, d - GUARD, turn)
    if kw < 0.0 or kd < 0.0:
        return False
    ac, sc = abs(c), abs(s)
    for k in range(boxes.shape[0]):
        x, y = boxes[k, 0] - cx, boxes[k, 1] - cy
        hx, hy = boxes[k, 2] - rx, boxes[k, 3] - ry
        if (
            abs(x) + GUARD < hx + ac * kw + sc * kd
            and abs(y) + GUARD < hy + sc * kw + ac * kd
            and abs(c * x + s * y) + GUARD < kw + ac * hx + sc * hy
            and abs(c * y - s * x) + GUARD < kd + sc * hx + ac * hy
        ):
            return True
    return False


@njit(_b(_place, _cell, _f), **_settings)
def meets_some(place, cell, spare):
    """Whether some body of the cell, moved by `spare`, may meet a box asked."""
    w, d, _, boxes = place
    cx, cy, _, c, s, rx, ry, _, turn = cell
    gw, gd = swept_rectangle(w, d, turn)
    ac, sc = abs(c), abs(s)
    for k in range(boxes.shape[0]):
        x, y = boxes[k, 0] - cx, boxes[k, 1] - cy
        hx, hy = boxes[k, 2] + rx + spare, boxes[k, 3] + ry + spare
        if (
            abs(x) <= hx + ac * gw + sc * gd
            and abs(y) <= hy + sc * gw + ac * gd
            and abs(c * x + s * y) <= gw + ac * hx + sc * hy
            and abs(c * y - s * x) <= gd + sc * hx + ac * hy
        ):
            return True
    return False


@njit(_cell(_cell), **_settings)
def middle(cell):
    """The middle pose of a cell, as a cell of no size."""
    return (cell[0], cell[1], cell[2], cell[3], cell[4], 0.0, 0.0, 0.0, 0.0)


@njit(_b(_place, _cell), **_settings)
def stands(place, cell):
    """Whether the middle pose is admissible and asked; touching counts, to 1e-9 m."""
    w, d, walls, asked = place
    cx, cy, _, c, s, _, _, _, _ = cell
    ac, sc = abs(c), abs(s)
    for k in range(walls.shape[0]):
        x, y = walls[k, 0] - cx, walls[k, 1] - cy
        hx, hy = walls[k, 2], walls[k, 3]
        if (
            abs(x) + GUARD < hx + ac * w + sc * d
            and abs(y) + GUARD < hy + sc * w + ac * d
            and abs(c * x + s * y) + GUARD < w + ac * hx + sc * hy
            and abs(c * y - s * x) + GUARD < d + sc * hx + ac * hy
        ):
            return False
    return asked.shape[0] == 0 or meets_some(place, middle(cell), GUARD / 2)


@njit(_octagon(_f, _f, _cell), **_settings)
def octagon(w, d, cell):
    """The points a body keeps throughout a cell's turn, and the world's view of it."""
    _, _, _, c, s, _, _, _, t = cell
    if t * w > d:
        w = d / t
    elif t * d > w:
        d = w / t
    kw, kd = kept_rectangle(w, d, t)
    if kw < 0.0 or kd < 0.0:
        kw, kd = w, 0.0
    ct, st = c * t, s * t
    return w, d, kw, kd, t, abs(c - st), abs(s + ct), abs(c + st), abs(s - ct)


@njit(_b(_f, _f, _f, _f, _f, _f, _f, _f, _f, _octagon), **_settings)
def surely(u, v, hu, hv, n, nx, ny, ex, ey, kept):
    """Whether a beam meets an octagon wherever the box ex, ey moves it.

    u, v: its middle, hu, hv: its half vector, in the body's frame; n: their cross
    product; nx, ny: the half vector's normal in the doorway's frame; both unsigned.
    """
    w, d, kw, kd, t, p, q, r, o = kept
    if abs(u + t * v) > w + abs(hu + t * hv) - p * ex - q * ey:
        return False
    if abs(u - t * v) > w + abs(hu - t * hv) - r * ex - o * ey:
        return False
    if abs(v + t * u) > d + abs(hv + t * hu) - o * ex - r * ey:
        return False
    if abs(v - t * u) > d + abs(hv - t * hu) - q * ex - p * ey:
        return False
    hu, hv = abs(hu), abs(hv)
    reach = max(w * hv, kw * hv + kd * hu, d * hu)
    return n <= reach - nx * ex - ny * ey


@njit(types.UniTuple(_i, 2)(_units, _i1, _i, _i1, _cell, _size, _marks), **_settings)
def examine(units, listed, count, kept, cell, size, marks):
    """Count, unit by unit, the beams that surely meet all bodies of a cell.

    Fills `kept` with the beams that may meet some body of the cell, `sure` with the
    counts of those that meet all, `met` with the counts at the middle pose (body grown
    by the guard, own errors against it) and `pull` with where those lie. Beams that
    met are moved to the front of both lists: the next cell tries them first.

    Returns:
        The number kept, and the unit that covers the cell or -1. With a unit, and the
        body not grown by `extra`, counting ended early.
    """
    beams, group, needed, common = units
    cx, cy, _, c, s, rx, ry, _, turn = cell
    w, d, extra, reach, _, _ = size
    sure, met, pull, _ = marks
    ac, sc = abs(c), abs(s)
    kept_points = octagon(w + extra, d + extra, cell)
    gw, gd = swept_rectangle(w + reach, d + reach, turn)
    sure[:] = 0
    met[:] = 0
    pull[:] = 0.0
    some, first, front, by = 0, 0, 0, -1
    for i in range(count):
        j = listed[i]
        x, y, hx, hy = beams[j, 0] - cx, beams[j, 1] - cy, beams[j, 2], beams[j, 3]
        unit = group[j]
        u, v, hu, hv = c * x + s * y, c * y - s * x, c * hx + s * hy, c * hy - s * hx
        au, av, bu, bv = abs(u), abs(v), abs(hu), abs(hv)
        ex, ey = rx + common[unit, 0] + GUARD, ry + common[unit, 1] + GUARD
        if au > gw + bu + ac * ex + sc * ey or av > gd + bv + sc * ex + ac * ey:
            continue
        n, nx, ny = abs(hx * y - hy * x), abs(hy), abs(hx)
        if n > gw * bv + gd * bu + nx * ex + ny * ey:
            continue
        kept[some] = j
        some += 1
        tx, ty = beams[j, 4] - GUARD, beams[j, 5] - GUARD
        a, b, e = ac * tx + sc * ty, sc * tx + ac * ty, nx * tx + ny * ty
        if au <= w + bu - a and av <= d + bv - b and n <= w * bv + d * bu - e:
            met[unit] += 1
            kept[some - 1], kept[first] = kept[first], j
            first += 1
            pull[0], pull[1] = pull[0] + x, pull[1] + y
        elif extra == 0.0:
            continue
        ex, ey = ex + beams[j, 4], ey + beams[j, 5]
        if surely(u, v, hu, hv, n, nx, ny, ex, ey, kept_points):
            sure[unit] += 1
            listed[i], listed[front] = listed[front], j
            front += 1
            if sure[unit] >= needed[unit]:
                by = unit
                if extra == 0.0:
                    break
    return some, by


@njit(_room(_cell, _f, _f, _i), **_settings)
def room(root, radius, least, beams):
    """Space for a search of a cell down to half-sizes of at most `least`."""
    depth = 4
    for extent in (root[5], root[6], root[7] * radius):
        if extent > least:
            depth += int(ceil(log2(extent / least))) + 1
    stack = np.empty((depth + 3, 10))
    for k in range(9):
        stack[0, k] = root[k]
    stack[0, 9] = 1.0
    lists = np.empty((depth + 1, max(1, beams)), np.int64)
    return lists, np.zeros(depth + 1, np.int64), stack


@njit(types.Tuple((_cell, _i))(_f1), **_settings)
def unpack(row):
    """The cell and the depth in a row of the stack."""
    cell = (row[0], row[1], row[2], row[3], row[4], row[5], row[6], row[7], row[8])
    return cell, int(row[9])


@njit(_i(_f2, _i, _cell, _f, _i, _f1), **_settings)
def halve(stack, top, cell, radius, depth, pull):
    """Push both halves of a cell; on top the one farther from the beams that met."""
    x, y, yaw, _, _, rx, ry, ra, _ = cell
    turned = ra * radius
    for half in range(2):
        sign = 0.5 if half == 0 else -0.5
        row = stack[top + half]
        for k in range(9):
            row[k] = cell[k]
        row[9] = depth + 1
        if turned >= rx and turned >= ry:
            row[2] = yaw + sign * ra
            row[3], row[4] = cos(row[2]), sin(row[2])
            row[7], row[8] = ra / 2, sin(ra / 2)
        elif rx >= ry:
            row[0] = x + sign * (rx if pull[0] >= 0.0 else -rx)
            row[5] = rx / 2
        else:
            row[1] = y + sign * (ry if pull[1] >= 0.0 else -ry)
            row[6] = ry / 2
    return top + 2


@njit(
    types.Tuple((_i, _f, _f, _i))(_units, _i, _i1, _i, _cell, _size, _i, _marks),
    **_settings,
)
def covers(units, unit, listed, count, root, size, budget, marks):
    """Whether one unit covers every pose of a box, with its beams' own errors only.

    `units` comes without shared shifts. A box of one yaw is searched for a failure to
    the end, else the first undecided cell ends the search.

    Returns:
        (HOLDS, ., ., cells) if it does; (FAILS, x, y, cells) if it fails at a pose with
        that centre; (UNDECIDED or LIMIT, ., ., cells) otherwise.
    """
    needed, met, radius, leaf = units[2], marks[1], size[4], size[5]
    lists, counts, stack = room(root, radius, leaf, count)
    for i in range(count):
        if units[1][listed[i]] == unit:
            lists[0, counts[0]] = listed[i]
            counts[0] += 1
    top, cells, state = 1, 0, HOLDS
    while top > 0:
        if cells >= budget:
            return LIMIT, 0.0, 0.0, cells
        top -= 1
        cells += 1
        cell, at = unpack(stack[top])
        counts[at], by = examine(
            units, lists[at - 1], counts[at - 1], lists[at], cell, size, marks
        )
        if by >= 0:
            continue
        if met[unit] < needed[unit]:
            return FAILS, cell[0], cell[1], cells
        if max(cell[5], cell[6], cell[7] * radius) > leaf:
            top = halve(stack, top, cell, radius, at, marks[2])
            continue
        state = UNDECIDED
        if root[7] > 0.0:
            break
        size = (size[0], size[1], size[3], size[3], radius, leaf)
    return state, 0.0, 0.0, cells


@njit(
    types.UniTuple(_i, 2)(_units, _i1, _i, _cell, _size, _i, _marks, _i1), **_settings
)
def each_unit(units, listed, count, cell, size, budget, marks, met):
    """Search, for each unit, the cell enlarged by the unit's shared shifts.

    `met`: the counts at the middle of the cell.

    Returns:
        (HOLDS, cells) if one unit covers the cell for all its shifts; (FAILS, cells) if
        each unit fails somewhere in its enlarged cell, the way there left in `shift`;
        else (UNDECIDED or LIMIT, cells).
    """
    beams, group, needed, common = units
    still = (beams, group, needed, np.zeros(common.shape))
    shift, state, spent = marks[3], FAILS, 0
    x, y, yaw, c, s, rx, ry, ra, turn = cell
    for unit in range(needed.size):
        shift[unit, 0], shift[unit, 1] = 0.0, 0.0
        if met[unit] < needed[unit]:
            continue
        ex, ey = rx + common[unit, 0], ry + common[unit, 1]
        wide = (x, y, yaw, c, s, ex, ey, ra, turn)
        found, px, py, cells = covers(
            still, unit, listed, count, wide, size, budget, marks
        )
        spent += cells
        if found == HOLDS:
            return HOLDS, spent
        if found == FAILS:
            shift[unit, 0], shift[unit, 1] = x - px, y - py
        else:
            state = max(state, found)
            if ra == 0.0:
                break
    return state, spent


@njit(
    types.UniTuple(_i, 2)(_units, _i1, _i, _cell, _size, _place, _marks), **_settings
)
def under_shifts(units, listed, count, cell, size, place, marks):
    """Decide a cell under shared shifts: HOLDS, FAILS, UNDECIDED or LIMIT; and cells.

    LIMIT only where the cell is too small to be halved and its middle is open.
    """
    sure, met, pull, shift = marks
    inner = (np.empty_like(sure), np.empty_like(met), np.empty_like(pull), shift)
    small = max(cell[5], cell[6], cell[7] * size[4]) <= size[5]
    state, spent = each_unit(units, listed, count, cell, size, INNER, inner, met)
    if state == HOLDS:
        return HOLDS, spent
    if not (small or state == FAILS) or not stands(place, cell):
        return UNDECIDED, spent
    budget = 64 * INNER if small else INNER
    state, cells = each_unit(
        units, listed, count, middle(cell), size, budget, inner, met
    )
    if state == FAILS or (state == LIMIT and small):
        return state, spent + cells
    return UNDECIDED, spent + cells


@njit(
    types.UniTuple(_i, 2)(_units, _i1, _i, _cell, _size, _place, _marks, _b),
    **_settings,
)
def judge(units, listed, count, cell, size, place, marks, moving):
    """Decide a cell that plain counting has not certified; states as above; and cells."""
    needed, met, shift = units[2], marks[1], marks[3]
    missed = True
    for unit in range(needed.size):
        missed = missed and met[unit] < needed[unit]
    if missed and stands(place, cell):
        shift[:] = 0.0
        return FAILS, 0
    if moving:
        return under_shifts(units, listed, count, cell, size, place, marks)
    return UNDECIDED, 0


@njit(
    types.Tuple((_i, _f, _f, _f, _i, _b))(
        _units, _place, _fr, _f, types.UniTuple(_f, 2), _f, _i, _f2
    ),
    **_settings,
)
def search(units, place, zone, span, grown, resolution, limit, shift):
    """Search all poses of a zone for one that the body, W, D `grown`, is missed at.

    Returns:
        (state, x, y, yaw, cells, stood): HOLDS, FAILS (with the pose, and the shifts in
        `shift`), UNDECIDED or LIMIT; whether a pose seen was admissible and asked.
    """
    w, d = grown
    reach, moving = 2.5 * resolution, units[3].any()
    radius = TURN_WEIGHT * sqrt((w + reach) ** 2 + (d + reach) ** 2)
    leaf = resolution / 2 if moving else resolution
    rx, ry = (zone[0, 1] - zone[0, 0]) / 2, (zone[0, 3] - zone[0, 2]) / 2
    root = (zone[0, 0] + rx, zone[0, 2] + ry, 0.0, 1.0, 0.0, rx, ry, span, sin(span))
    beams, groups = units[0].shape[0], units[2].size
    lists, counts, stack = room(root, radius, leaf / DEEPER, beams)
    lists[0, :beams], counts[0] = np.arange(beams), beams
    marks = (np.empty(groups, np.int64), np.empty(groups, np.int64), np.empty(2), shift)
    top, cells, extra, state, stood = 1, 0, 0.0, HOLDS, False
    while top > 0:
        if cells >= limit:
            return LIMIT, 0.0, 0.0, 0.0, cells, stood
        top -= 1
        cells += 1
        cell, at = unpack(stack[top])
        if blocked_throughout(place, cell):
            continue
        if place[3].shape[0] > 0 and not meets_some(place, cell, GUARD):
            continue
        size = (w, d, extra, reach, radius, leaf)
        counts[at], by = examine(
            units, lists[at - 1], counts[at - 1], lists[at], cell, size, marks
        )
        stood = stood or stands(place, cell)
        if by >= 0 and extra == 0.0:
            continue
        found, spent = judge(
            units, lists[at], counts[at], cell, size, place, marks, moving and by < 0
        )
        cells += spent
        if found == HOLDS or (by >= 0 and found == UNDECIDED):
            continue
        if found != UNDECIDED:
            return found, cell[0], cell[1], cell[2], cells, stood
        small = max(cell[5], cell[6], cell[7] * radius)
        here = small <= leaf and stands(place, cell)
        if small > leaf or not (here or small <= leaf / DEEPER):
            top = halve(stack, top, cell, radius, at, marks[2])
        elif here or extra == 0.0:
            top += 0 if here else 1
            state, extra = max(state, UNDECIDED), reach
        else:
            state = LIMIT
    return state, 0.0, 0.0, 0.0, cells, stood
