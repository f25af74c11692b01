"""Branch and bound over poses, compiled.

A cell is a box of poses: middle (x, y, yaw), half-sizes rx, ry, ra. Write W, D for the
half sides of the body, H for the half vector of a beam's segment, m for its middle.

*Surely met.* Turned by at most ra about its centre, the body keeps the rectangle
W - D sin ra by D - W sin ra of its own frame: a point with |u| <= W - D sin ra and
|v| <= D turns to |u'| <= |u| + |v| sin ra <= W, and likewise for v. With K that
rectangle, a beam meets every body of the cell if m lies in K + H for every shift of the
centre in the box rx, ry: in (K + H) eroded by that box. The sum of a rectangle and a
segment is bounded by three pairs of half-planes (the axes of the rectangle and the
normal of the segment), and eroding lowers each bound by the support of the box. The
beam's own error is a further box. Certificates keep a further 1e-9 m.

*May be met.* Conversely every body of the cell lies in the rectangle W + D sin ra by
D + W sin ra moved over the same box.

*Undecided.* With rx, ry and ra R at most the resolution r, an undecided cell is decided
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
from numba import njit, types  # pyright: ignore[reportMissingTypeStubs]

GUARD = 1e-9
HOLDS, FAILS, UNDECIDED, LIMIT = 0, 1, 2, 3
DEEPER = 16.0
INNER = 512

_f, _i, _b = types.float64, types.int64, types.boolean
_fr = types.Array(_f, 2, "C", readonly=True)
_ir = types.Array(_i, 1, "C", readonly=True)
_f2, _i2, _i1 = _f[:, ::1], _i[:, ::1], _i[::1]
_cell = types.UniTuple(_f, 8)  # x, y, yaw, cos, sin, rx, ry, ra
_size = types.UniTuple(_f, 5)  # W, D, extra, reach, leaf
_settings = {"cache": True, "nogil": True, "fastmath": False}


@njit(_b(_f, _f, _cell, _fr), **_settings)
def blocked_throughout(w, d, cell, boxes):
    """Whether every body of the cell overlaps one and the same wall."""
    cx, cy, _, c, s, rx, ry, ra = cell
    turn = sin(ra)
    kw, kd = w - d * turn - GUARD, d - w * turn - GUARD
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


@njit(_b(_f, _f, _cell, _f, _fr), **_settings)
def meets_some(w, d, cell, spare, boxes):
    """Whether some body of the cell, moved by `spare`, may meet a box."""
    cx, cy, _, c, s, rx, ry, ra = cell
    turn = sin(ra)
    gw, gd = w + d * turn, d + w * turn
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


@njit(_b(_f, _f, _cell, _fr, _fr), **_settings)
def stands(w, d, cell, walls, asked):
    """Whether the middle pose is admissible and asked; touching counts, to 1e-9 m."""
    cx, cy, _, c, s, _, _, _ = cell
    ac, sc = abs(c), abs(s)
    for k in range(walls.shape[0]):
        x, y = walls[k, 0] - cx, walls[k, 1] - cy
        hx, hy = walls[k, 2] - GUARD, walls[k, 3] - GUARD
        if (
            abs(x) < hx + ac * w + sc * d
            and abs(y) < hy + sc * w + ac * d
            and abs(c * x + s * y) + GUARD < w + ac * walls[k, 2] + sc * walls[k, 3]
            and abs(c * y - s * x) + GUARD < d + sc * walls[k, 2] + ac * walls[k, 3]
        ):
            return False
    if asked.shape[0] == 0:
        return True
    point = (cx, cy, 0.0, c, s, 0.0, 0.0, 0.0)
    return meets_some(w, d, point, GUARD / 2, asked)


@njit(
    types.UniTuple(_i, 2)(
        _fr, _ir, _ir, _fr, _i1, _i, _i1, _cell, _size, _i1, _i1, _f[::1]
    ),
    **_settings,
)
def examine(beams, group, needed, common, listed, count, kept, cell, size, sure, met, pull):
    """Count, unit by unit, the beams that surely meet all bodies of a cell.

    Fills `kept` with the beams that may meet some body of the cell, `sure` with the
    counts of those that meet all, `met` with the counts at the middle pose (body grown
    by the guard, own errors against it) and `pull` with where those lie.

    Returns:
        The number kept, and the unit that covers the cell or -1.
    """
    cx, cy, _, c, s, rx, ry, ra = cell
    w, d, extra, reach, _ = size
    ac, sc, turn = abs(c), abs(s), sin(ra)
    kw, kd = w + extra - (d + extra) * turn, d + extra - (w + extra) * turn
    gw, gd = w + reach + (d + reach) * turn, d + reach + (w + reach) * turn
    sure[:] = 0
    met[:] = 0
    pull[:] = 0.0
    some = 0
    for i in range(count):
        j = listed[i]
        x, y, hx, hy = beams[j, 0] - cx, beams[j, 1] - cy, beams[j, 2], beams[j, 3]
        unit = group[j]
        hu, hv = abs(c * hx + s * hy), abs(c * hy - s * hx)
        u, v = abs(c * x + s * y) - hu, abs(c * y - s * x) - hv
        n, nx, ny = abs(hx * y - hy * x), abs(hy), abs(hx)
        ex, ey = rx + common[unit, 0] + GUARD, ry + common[unit, 1] + GUARD
        if u > gw + ac * ex + sc * ey or v > gd + sc * ex + ac * ey:
            continue
        if n > gw * hv + gd * hu + nx * ex + ny * ey:
            continue
        kept[some] = j
        some += 1
        tx, ty = beams[j, 4] - GUARD, beams[j, 5] - GUARD
        if (
            u <= w - ac * tx - sc * ty
            and v <= d - sc * tx - ac * ty
            and n <= w * hv + d * hu - nx * tx - ny * ty
        ):
            met[unit] += 1
            pull[0] += x
            pull[1] += y
        ex += beams[j, 4]
        ey += beams[j, 5]
        if (
            kw >= 0.0
            and kd >= 0.0
            and u <= kw - ac * ex - sc * ey
            and v <= kd - sc * ex - ac * ey
            and n <= kw * hv + kd * hu - nx * ex - ny * ey
        ):
            sure[unit] += 1
            if sure[unit] == needed[unit]:
                return some, unit
    return some, -1


@njit(_i(_f2, _i, _cell, _f, _i, _f[::1]), **_settings)
def halve(stack, top, cell, radius, depth, pull):
    """Push both halves of a cell; on top the one farther from the beams that met."""
    x, y, a, c, s, rx, ry, ra = cell
    long = ra * radius
    for half in range(2):
        sign = 1.0 if half == 0 else -1.0
        row = stack[top + half]
        row[0], row[1], row[2], row[3], row[4] = x, y, a, c, s
        row[5], row[6], row[7], row[8] = rx, ry, ra, depth + 1
        if long >= rx and long >= ry:
            row[7] = ra / 2
            row[2] = a + sign * ra / 2
            row[3], row[4] = cos(row[2]), sin(row[2])
        elif rx >= ry:
            row[5] = rx / 2
            row[0] = x + sign * rx / 2 * (1.0 if pull[0] >= 0.0 else -1.0)
        else:
            row[6] = ry / 2
            row[1] = y + sign * ry / 2 * (1.0 if pull[1] >= 0.0 else -1.0)
    return top + 2


@njit(_i(_f, _f, _f, _f), **_settings)
def levels(rx, ry, turned, least):
    """How deep halving can go until every half-size is at most `least`."""
    depth = 4
    for extent in (rx, ry, turned):
        if extent > least:
            depth += int(ceil(log2(extent / least))) + 1
    return depth


@njit(
    types.UniTuple(_f, 4)(
        _fr, _ir, _ir, _fr, _i, _i1, _i, _cell, _size, _f, _i
    ),
    **_settings,
)
def covers(beams, group, needed, still, unit, listed, count, root, size, radius, budget):
    """Whether one unit covers every pose of a box, with its beams' own errors only.

    Returns:
        (1, ., ., cells) if it does; (-1, x, y, cells) if it fails at a pose with that
        centre; (0, ., ., cells) if the budget or the resolution ends first.
    """
    leaf = size[4]
    depth = levels(root[5], root[6], root[7] * radius, leaf)
    lists = np.empty((depth + 1, max(1, count)), np.int64)
    counts = np.zeros(depth + 1, np.int64)
    for i in range(count):
        if group[listed[i]] == unit:
            lists[0, counts[0]] = listed[i]
            counts[0] += 1
    sure, met = np.empty(needed.size, np.int64), np.empty(needed.size, np.int64)
    pull = np.empty(2)
    stack = np.empty((depth + 3, 9))
    for k in range(8):
        stack[0, k] = root[k]
    stack[0, 8] = 1.0
    top, cells, open_cells = 1, 0, False
    while top > 0:
        if cells >= budget:
            return 0.0, root[0], root[1], float(cells)
        top -= 1
        cells += 1
        r = stack[top]
        cell = (r[0], r[1], r[2], r[3], r[4], r[5], r[6], r[7])
        at = int(r[8])
        counts[at], by = examine(
            beams, group, needed, still, lists[at - 1], counts[at - 1], lists[at],
            cell, size, sure, met, pull,
        )
        if by >= 0:
            continue
        if met[unit] < needed[unit]:
            return -1.0, cell[0], cell[1], float(cells)
        if max(cell[5], cell[6], cell[7] * radius) <= leaf:
            open_cells = True
            if root[7] > 0.0:
                break
            size = (size[0], size[1], size[3], size[3], leaf)
            continue
        top = halve(stack, top, cell, radius, at, pull)
    return (0.0 if open_cells else 1.0), root[0], root[1], float(cells)


@njit(
    types.UniTuple(_i, 2)(
        _fr, _ir, _ir, _fr, _fr, _i1, _i, _cell, _size, _f, _i, _i1, _f2
    ),
    **_settings,
)
def shifted(
    beams, group, needed, common, still, listed, count, cell, size, radius, budget,
    met, shift,
):
    """Decide a cell under shared shifts, unit by unit.

    Returns:
        (HOLDS, cells) if one unit covers the cell for all its shifts; (FAILS, cells) if
        for every unit a shift was found that undoes it at the middle pose exactly, left
        in `shift`; else (UNDECIDED, cells). `cell` of no size asks about its middle.
    """
    spent, lost = 0, 0
    x, y, a, c, s, rx, ry, ra = cell
    for unit in range(needed.size):
        shift[unit, 0], shift[unit, 1] = 0.0, 0.0
        if met[unit] < needed[unit]:
            lost += 1
            continue
        wide = (
            x, y, a, c, s, rx + common[unit, 0], ry + common[unit, 1], ra,
        )
        state, px, py, cells = covers(
            beams, group, needed, still, unit, listed, count, wide, size, radius, budget
        )
        spent += int(cells)
        if state > 0.0:
            return HOLDS, spent
        if state < 0.0:
            lost += 1
            shift[unit, 0], shift[unit, 1] = x - px, y - py
    if lost == needed.size and rx == 0.0 and ry == 0.0 and ra == 0.0:
        return FAILS, spent
    return (LIMIT if lost < needed.size and spent >= budget else UNDECIDED), spent


@njit(
    types.Tuple((_i, _f, _f, _f, _i, _b))(
        _fr, _ir, _ir, _fr, _fr, _f, types.UniTuple(_f, 4), _fr, _fr, _f, _i, _f2
    ),
    **_settings,
)
def search(
    beams, group, needed, common, zone, turn, body, walls, asked, resolution, limit,
    shift,
):
    """Search all poses of a zone; `body` is W, D as given and W, D grown.

    Returns:
        (state, x, y, yaw, cells, stood): state HOLDS, FAILS (with the pose, and the
        shifts in `shift`), UNDECIDED or LIMIT; stood: whether some pose seen was
        admissible and asked.
    """
    w0, d0, w, d = body
    reach = 2.5 * resolution
    radius = sqrt((w + reach) ** 2 + (d + reach) ** 2)
    moving = common.any()
    leaf = resolution / 2 if moving else resolution
    still = np.zeros(common.shape)
    rx, ry = (zone[0, 1] - zone[0, 0]) / 2, (zone[0, 3] - zone[0, 2]) / 2
    depth = levels(rx, ry, turn * radius, leaf / DEEPER)
    lists = np.empty((depth + 1, max(1, beams.shape[0])), np.int64)
    counts = np.zeros(depth + 1, np.int64)
    for i in range(beams.shape[0]):
        lists[0, i] = i
    counts[0] = beams.shape[0]
    sure, met = np.empty(needed.size, np.int64), np.empty(needed.size, np.int64)
    pull = np.empty(2)
    stack = np.empty((depth + 3, 9))
    stack[0] = np.array(
        [zone[0, 0] + rx, zone[0, 2] + ry, 0.0, 1.0, 0.0, rx, ry, turn, 1.0]
    )
    top, cells, extra, state, stood = 1, 0, 0.0, HOLDS, False
    while top > 0:
        if cells >= limit:
            return LIMIT, 0.0, 0.0, 0.0, cells, stood
        top -= 1
        cells += 1
        r = stack[top]
        cell = (r[0], r[1], r[2], r[3], r[4], r[5], r[6], r[7])
        at = int(r[8])
        if walls.shape[0] > 0 and blocked_throughout(w0, d0, cell, walls):
            continue
        if asked.shape[0] > 0 and not meets_some(w0, d0, cell, GUARD, asked):
            continue
        size = (w, d, extra, reach, leaf)
        counts[at], by = examine(
            beams, group, needed, common, lists[at - 1], counts[at - 1], lists[at],
            cell, size, sure, met, pull,
        )
        if by >= 0 and stood:
            continue
        here = stands(w0, d0, cell, walls, asked)
        stood = stood or here
        if by >= 0:
            continue
        if here:
            missed = True
            for unit in range(needed.size):
                missed = missed and met[unit] < needed[unit]
            if missed:
                shift[:] = 0.0
                return FAILS, cell[0], cell[1], cell[2], cells, stood
        small = max(cell[5], cell[6], cell[7] * radius)
        if moving:
            found, spent = shifted(
                beams, group, needed, common, still, lists[at], counts[at], cell, size,
                radius, INNER, met, shift,
            )
            cells += spent
            if found == HOLDS:
                continue
            if here:
                point = (cell[0], cell[1], cell[2], cell[3], cell[4], 0.0, 0.0, 0.0)
                found, spent = shifted(
                    beams, group, needed, common, still, lists[at], counts[at], point,
                    size, radius, INNER if small > leaf else 64 * INNER, met, shift,
                )
                cells += spent
                if found == FAILS:
                    return FAILS, cell[0], cell[1], cell[2], cells, stood
                if small <= leaf and found == LIMIT:
                    return LIMIT, 0.0, 0.0, 0.0, cells, stood
        if small <= leaf and (here or small <= leaf / DEEPER):
            state = max(state, UNDECIDED if here or extra == 0.0 else LIMIT)
            if not here and extra == 0.0:
                top += 1
            extra = reach
            continue
        top = halve(stack, top, cell, radius, at, pull)
    return state, 0.0, 0.0, 0.0, cells, stood
