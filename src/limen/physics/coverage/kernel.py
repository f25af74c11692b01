"""Branch and bound over poses, compiled.

A cell is a box of poses: middle (x, y, yaw), half-sizes rx, ry, ra. Write W, D for the
half sides of the body, H for the half vector of a beam's segment, m for its middle.

*Surely met.* Write t for sin ra. A point (u, v) of the body's frame with |u| + t |v| <=
W and |v| + t |u| <= D stays in the body however it turns within the cell. These points
form an octagon O with corners (W', 0), (kw, kd), (0, D') in the first quadrant. A beam
meets every body of the cell if m lies in O + H eroded by the box rx, ry, and by the box
of its own error: half-planes with the normals (1, t), (1, -t), (t, 1), (-t, 1) and the
segment's own, each lowered by the boxes' support (proof in docs/method/coverage.md).
Certificates keep a further 1e-9 m.

*May be met.* Conversely every body of the cell lies in the rectangle W + D sin ra by D
+ W sin ra, and in the square of its half diagonal, moved over the same box.

*Order.* The largest of rx, ry and 0.7 R ra is halved (R: half diagonal).

*Undecided.* With rx, ry and R ra at most the resolution r, an undecided cell is decided
for the body grown by 2.5 r, as (sqrt 2 + 1) r + 3e-9 < 2.5 r: its middle is no witness,
so enough beams meet there. Once one cell is undecided, the others are certified for the
body grown by 2.5 r, and only witnesses are still looked for.

*Shared shifts.* A shift of all beams of a unit by s is a shift of the body by -s. A
unit covers a cell for every shift if it covers the cell enlarged by the shift's box
with only the beams' own errors left: an inner search over that box with this unit
alone, tried in cells no larger than the largest shift; to r / 2 outside and inside.
"""

from math import ceil, cos, log2, sin, sqrt

import numpy as np

from limen.physics.coverage.kernel_types import (
    F8,
    FOUND,
    I8,
    PAIR,
    ROWS,
    SCENE,
    TABLE,
    Cell,
    Marks,
    Octagon,
    Pair,
    Place,
    Room,
    Scene,
    Size,
    Units,
    compiled,
    inner,
)
from limen.physics.coverage.problem import Floats, Ints

GUARD = 1e-9
HOLDS, FAILS, UNDECIDED, LIMIT = 0, 1, 2, 3
TURN_WEIGHT = 0.7
DEEPER = 16.0
INNER = 512
LEAST_REST = 1e-3


@inner
def kept_rectangle(w: float, d: float, turn: float) -> Pair:
    """The corner kw, kd of O: kw + kd sin ra = W, kd + kw sin ra = D."""
    rest = 1.0 - turn * turn
    if rest < LEAST_REST:
        return -1.0, -1.0
    return (w - d * turn) / rest, (d - w * turn) / rest


@inner
def swept_rectangle(w: float, d: float, turn: float) -> Pair:
    """Half sides of a rectangle that holds the body throughout a cell's turn."""
    far = sqrt(w * w + d * d)
    return min(far, w + d * turn), min(far, d + w * turn)


@inner
def blocked_throughout(place: Place, cell: Cell) -> bool:
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


@inner
def meets_some(place: Place, cell: Cell, spare: float) -> bool:
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


@inner
def middle(cell: Cell) -> Cell:
    """The middle pose of a cell, as a cell of no size."""
    return (*cell[:5], 0.0, 0.0, 0.0, 0.0)


@inner
def stands(place: Place, cell: Cell) -> bool:
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


@inner
def octagon(w: float, d: float, cell: Cell) -> Octagon:
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


@inner
def surely(
    m: Pair, h: Pair, n: float, nx: float, ny: float, e: Pair, kept: Octagon
) -> bool:
    """Whether a beam meets an octagon wherever the box ex, ey moves it.

    m: its middle, h: its half vector, in the body's frame; n: their cross product;
    nx, ny: the half vector's normal in the doorway's frame; both unsigned.
    """
    u, v = m
    hu, hv = h
    ex, ey = e
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


@inner
def examine(
    units: Units, listed: Ints, kept: Ints, cell: Cell, size: Size, marks: Marks
) -> tuple[int, int]:
    """Count, unit by unit, the beams that surely meet all bodies of a cell.

    Fills `kept` with the beams that may meet some body, `sure` with the counts of
    those that meet all, `met` with the counts at the middle pose (body grown by the
    guard, errors against it), `pull` with where these lie. They move to the front.

    Returns:
        The number kept, and the unit that covers the cell or -1. With a unit counting
        ended early, unless the body is grown by `extra`.
    """
    beams, group, needed, common = units
    cx, cy, _, c, s, rx, ry, _, turn = cell
    w, d, extra, reach, _, _ = size
    sure, met, pull, _ = marks
    ac, sc = abs(c), abs(s)
    kept_points = octagon(w + extra, d + extra, cell)
    gw, gd = swept_rectangle(w + reach, d + reach, turn)
    for unit in range(sure.size):  # loops: quicker than slices of so few
        sure[unit], met[unit] = 0, 0
    pull[0], pull[1], some, first, front, by = 0.0, 0.0, 0, 0, 0, -1
    for i in range(listed.size):
        j = listed[i]
        beam = beams[j]
        x, y, hx, hy = beam[0] - cx, beam[1] - cy, beam[2], beam[3]
        unit = int(group[j])
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
        tx, ty = beam[4] - GUARD, beam[5] - GUARD
        a, b, e = ac * tx + sc * ty, sc * tx + ac * ty, nx * tx + ny * ty
        if au <= w + bu - a and av <= d + bv - b and n <= w * bv + d * bu - e:
            met[unit] += 1
            kept[some - 1], kept[first] = kept[first], j
            first += 1
            pull[0], pull[1] = pull[0] + x, pull[1] + y
        elif extra == 0.0:
            continue
        ex, ey = ex + beam[4], ey + beam[5]
        if surely((u, v), (hu, hv), n, nx, ny, (ex, ey), kept_points):
            sure[unit] += 1
            listed[i], listed[front] = listed[front], j
            front += 1
            if sure[unit] >= needed[unit]:
                by = unit
                if extra == 0.0:
                    break
    return some, by


@inner
def room(root: Cell, radius: float, least: float, beams: int) -> Room:
    """Space for a search of a cell down to half-sizes of at most `least`."""
    depth = 4
    for extent in (root[5], root[6], root[7] * radius):
        if extent > least:
            depth += ceil(log2(extent / least)) + 1
    stack = np.empty((depth + 3, 10))
    for k in range(9):
        stack[0, k] = root[k]
    stack[0, 9] = 1.0
    lists = np.empty((depth + 1, max(1, beams)), np.int64)
    return lists, np.zeros(depth + 1, np.int64), stack


@inner
def unpack(row: Floats) -> tuple[Cell, int]:
    """The cell and the depth in a row of the stack."""
    cell = (row[0], row[1], row[2], row[3], row[4], row[5], row[6], row[7], row[8])
    return cell, int(row[9])


@inner
def halve(
    stack: Floats, top: int, cell: Cell, radius: float, depth: int, pull: Floats
) -> int:
    """Push both halves of a cell; on top the one farther from the beams that met."""
    x, y, yaw, _, _, rx, ry, ra, _ = cell
    turned = TURN_WEIGHT * ra * radius
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


@inner
def covers(
    scene: Scene,
    unit: int,
    listed: Ints,
    root: Cell,
    size: Size,
    marks: Marks,
    most: int,
) -> tuple[int, float, float, int]:
    """Whether one unit covers every pose of a box, with its beams' own errors only.

    A box of one yaw is searched for a failure to the end, else the first undecided
    cell ends the search. `most`: cells after which it ends anyway.

    Returns:
        (HOLDS, ., ., cells) if it does; (FAILS, x, y, cells) if it fails at a pose with
        that centre; (UNDECIDED or LIMIT, ., ., cells) otherwise.
    """
    beams, group, needed, common = scene[0]
    still = (beams, group, needed, np.zeros(common.shape))
    met, radius, leaf = marks[1], size[4], size[5]
    lists, counts, stack = room(root, radius, leaf, listed.size)
    for j in listed:
        if group[j] == unit:
            lists[0, counts[0]] = j
            counts[0] += 1
    top, cells, state = 1, 0, HOLDS
    while top > 0:
        if cells >= most:
            return LIMIT, 0.0, 0.0, cells
        top -= 1
        cells += 1
        cell, at = unpack(stack[top])
        near = lists[at - 1][: counts[at - 1]]
        counts[at], by = examine(still, near, lists[at], cell, size, marks)
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


@inner
def each_unit(
    scene: Scene,
    listed: Ints,
    cell: Cell,
    size: Size,
    marks: Marks,
    most: int,
    met: Ints,
) -> tuple[int, int]:
    """Search, for each unit, the cell enlarged by the unit's shared shifts.

    `met`: the counts at the middle of the cell.

    Returns:
        (HOLDS, cells) if one unit covers the cell for all its shifts; (FAILS, cells) if
        each unit fails somewhere in its enlarged cell, the way there left in `shift`;
        else (UNDECIDED or LIMIT, cells).
    """
    needed, common, shift = scene[0][2], scene[0][3], marks[3]
    state, spent = FAILS, 0
    x, y, yaw, c, s, rx, ry, ra, turn = cell
    for unit in range(needed.size):
        shift[unit, 0], shift[unit, 1] = 0.0, 0.0
        if met[unit] < needed[unit]:
            continue
        ex, ey = rx + common[unit, 0], ry + common[unit, 1]
        wide = (x, y, yaw, c, s, ex, ey, ra, turn)
        found, px, py, cells = covers(scene, unit, listed, wide, size, marks, most)
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


@inner
def under_shifts(
    scene: Scene, listed: Ints, cell: Cell, size: Size, marks: Marks, most: int
) -> tuple[int, int]:
    """Decide a cell under shared shifts: HOLDS, FAILS, UNDECIDED or LIMIT; and cells.

    LIMIT only where the cell is too small to be halved and its middle is open.
    """
    sure, met, pull, shift = marks
    inner = (np.empty_like(sure), np.empty_like(met), np.empty_like(pull), shift)
    extent = max(cell[5], cell[6], cell[7] * size[4])
    small = extent <= size[5]
    if extent > max(size[5], scene[0][3].max()):
        return UNDECIDED, 0
    state, spent = each_unit(scene, listed, cell, size, inner, most, met)
    if state == HOLDS:
        return HOLDS, spent
    if not (small or state == FAILS) or not stands(scene[1], cell):
        return UNDECIDED, spent
    most = 64 * most if small else most
    state, cells = each_unit(scene, listed, middle(cell), size, inner, most, met)
    if state == FAILS or (state == LIMIT and small):
        return state, spent + cells
    return UNDECIDED, spent + cells


@inner
def judge(
    scene: Scene, listed: Ints, cell: Cell, size: Size, marks: Marks, most: int
) -> tuple[int, int]:
    """Decide a cell that counting alone has not; `most` 0: no shared shifts."""
    missed = True
    for unit in range(scene[0][2].size):
        missed = missed and marks[1][unit] < scene[0][2][unit]
    if missed and stands(scene[1], cell):
        marks[3][:] = 0.0
        return FAILS, 0
    if most > 0:
        return under_shifts(scene, listed, cell, size, marks, most)
    return UNDECIDED, 0


@compiled(FOUND(SCENE, TABLE, F8, PAIR, F8, I8, ROWS))
def search(
    scene: Scene,
    zone: Floats,
    span: float,
    grown: Pair,
    resolution: float,
    limit: int,
    shift: Floats,
) -> tuple[int, float, float, float, int, bool]:
    """Search all poses of a zone for one that the body, W, D `grown`, is missed at.

    Returns:
        (state, x, y, yaw, cells, stood): HOLDS, FAILS (with the pose, and the shifts in
        `shift`), UNDECIDED or LIMIT; whether a pose seen was admissible and asked.
    """
    w, d = grown
    reach, inner = 2.5 * resolution, INNER if scene[0][3].any() else 0
    radius = sqrt((w + reach) ** 2 + (d + reach) ** 2)
    leaf = resolution / 2 if inner > 0 else resolution
    rx, ry = (zone[0, 1] - zone[0, 0]) / 2, (zone[0, 3] - zone[0, 2]) / 2
    root = (zone[0, 0] + rx, zone[0, 2] + ry, 0.0, 1.0, 0.0, rx, ry, span, sin(span))
    beams, groups = scene[0][0].shape[0], scene[0][2].size
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
        if blocked_throughout(scene[1], cell):
            continue
        if scene[1][3].shape[0] > 0 and not meets_some(scene[1], cell, GUARD):
            continue
        size = (w, d, extra, reach, radius, leaf)
        near = lists[at - 1][: counts[at - 1]]
        counts[at], by = examine(scene[0], near, lists[at], cell, size, marks)
        stood = stood or stands(scene[1], cell)
        if by >= 0 and extra == 0.0:
            continue
        found, spent = judge(
            scene, lists[at][: counts[at]], cell, size, marks, inner if by < 0 else 0
        )
        cells += spent
        if found == HOLDS or (by >= 0 and found == UNDECIDED):
            continue
        if found != UNDECIDED:
            return found, cell[0], cell[1], cell[2], cells, stood
        extent = max(cell[5], cell[6], cell[7] * radius)
        here = extent <= leaf and stands(scene[1], cell)
        if extent > leaf or not (here or extent <= leaf / DEEPER):
            top = halve(stack, top, cell, radius, at, marks[2])
        elif here or extra == 0.0:
            top += 0 if here else 1
            state, extra = max(state, UNDECIDED), reach
        else:
            state = LIMIT
    return state, 0.0, 0.0, 0.0, cells, stood
