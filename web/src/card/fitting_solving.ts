/** Least squares, singular values and the chi-squared, as small as a card needs them. */

export type Terms = (point: readonly number[]) => number[];
export type Rows = number[][];

const STEP = 1e-6;
const CLOSE = 1e-14;
const ROUNDS = 100;
const SWEEPS = 60;
const FLATTEST = 1e-10; // of the largest singular value: below it nothing is known
const SEEN = 1e-6;

/** Derivatives by differences to both sides, a row for each term. */
export function derivatives(terms: Terms, point: readonly number[], free: number): Rows {
  const columns = Array.from({ length: free }, (_, which) => {
    const moved = (by: number) => terms(point.map((value, k) => (k === which ? value + by : value)));
    const [up, down] = [moved(STEP), moved(-STEP)];
    return up.map((value, k) => (value - (down[k] as number)) / (2 * STEP));
  });
  return (columns[0] ?? []).map((_, k) => columns.map((column) => column[k] as number));
}

/**
 * Where the sum of the squares of some terms is least, near a point; only its first
 * `free` figures move. Levenberg and Marquardt's method.
 */
export function leastSquares(terms: Terms, start: readonly number[], free: number): number[] {
  let point = [...start];
  let [left, damping] = [terms(point), 1e-3];
  for (let round = 0; round < ROUNDS; round++) {
    const jacobian = derivatives(terms, point, free);
    const normal = product(jacobian, jacobian);
    const slope = Array.from({ length: free }, (_, k) => left.reduce((sum, value, i) => sum + value * (jacobian[i]?.[k] as number), 0));
    const { step, next, rest } = tried(terms, point, normal, slope, damping);
    const better = square(rest) < square(left);
    const settled = step.every((by, k) => Math.abs(by) <= CLOSE * (1 + Math.abs(point[k] as number)));
    if (better) [point, left, damping] = [next, rest, damping / 10];
    else damping *= 10;
    if (settled || damping > 1e12) break;
  }
  return point;
}

function tried(terms: Terms, point: readonly number[], normal: Rows, slope: readonly number[], damping: number) {
  const damped = normal.map((row, i) => row.map((value, k) => (i === k ? value * (1 + damping) : value)));
  const step = solved(damped, slope.map((value) => -value));
  const next = point.map((value, k) => value + (step[k] ?? 0));
  return { step, next, rest: terms(next) };
}

/** The inverse of J'J. */
export function covarianceOf(jacobian: Rows): Rows {
  const normal = product(jacobian, jacobian);
  const size = normal.length;
  const columns = normal.map((_, which) => solved(normal, Array.from({ length: size }, (__, k) => (k === which ? 1 : 0))));
  return normal.map((_, i) => columns.map((column) => column[i] as number));
}

/**
 * Standard uncertainty of each parameter: the root of the diagonal of (J'J)⁻¹, infinite
 * where the terms say nothing of it.
 */
export function looseness(jacobian: Rows, free: number): number[] {
  if (!jacobian.length) return Array<number>(free).fill(Infinity);
  const { sizes, ways } = singular(jacobian, free);
  const largest = Math.max(...sizes);
  const blind = sizes.map((size) => size <= FLATTEST * largest);
  return Array.from({ length: free }, (_, k) => {
    if (ways.some((way, n) => blind[n] && Math.abs(way[k] as number) > SEEN)) return Infinity;
    return Math.sqrt(ways.reduce((sum, way, n) => sum + (blind[n] ? 0 : ((way[k] as number) / (sizes[n] as number)) ** 2), 0));
  });
}

/** Singular values, and the direction of each, by Jacobi's rotations of the columns. */
function singular(rows: Rows, free: number): { sizes: number[]; ways: Rows } {
  const columns = Array.from({ length: free }, (_, k) => rows.map((row) => row[k] as number));
  const ways = columns.map((_, k) => columns.map((__, i) => (i === k ? 1 : 0)));
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    let turned = false;
    for (let p = 0; p < free; p++) {
      for (let q = p + 1; q < free; q++) turned = rotate(columns, ways, p, q) || turned;
    }
    if (!turned) break;
  }
  return { sizes: columns.map((column) => Math.sqrt(square(column))), ways };
}

function rotate(columns: Rows, ways: Rows, p: number, q: number): boolean {
  const [a, b] = [columns[p] as number[], columns[q] as number[]];
  const [alpha, beta, gamma] = [square(a), square(b), dot(a, b)];
  if (Math.abs(gamma) <= 1e-15 * Math.sqrt(alpha * beta) || gamma === 0) return false;
  const zeta = (beta - alpha) / (2 * gamma);
  const t = (zeta < 0 ? -1 : 1) / (Math.abs(zeta) + Math.sqrt(1 + zeta * zeta));
  const c = 1 / Math.sqrt(1 + t * t);
  const s = c * t;
  for (const set of [columns, ways]) {
    const [x, y] = [set[p] as number[], set[q] as number[]];
    set[p] = x.map((value, k) => c * value - s * (y[k] as number));
    set[q] = x.map((value, k) => s * value + c * (y[k] as number));
  }
  return true;
}

/** Columns against columns. */
function product(a: Rows, b: Rows): Rows {
  const size = a[0]?.length ?? 0;
  return Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (__, k) => a.reduce((sum, row, n) => sum + (row[i] as number) * (b[n]?.[k] as number), 0)),
  );
}

/** A x = b, by elimination with pivots. */
function solved(matrix: Rows, right: readonly number[]): number[] {
  const rows = matrix.map((row, k) => [...row, right[k] as number]);
  const size = rows.length;
  for (let k = 0; k < size; k++) {
    const below = rows.slice(k).map((row) => Math.abs(row[k] as number));
    const pivot = k + below.indexOf(Math.max(...below));
    [rows[k], rows[pivot]] = [rows[pivot] as number[], rows[k] as number[]];
    const top = rows[k] as number[];
    for (let i = k + 1; i < size; i++) {
      const row = rows[i] as number[];
      const by = (row[k] as number) / (top[k] as number);
      for (let n = k; n <= size; n++) row[n] = (row[n] as number) - by * (top[n] as number);
    }
  }
  const found = Array<number>(size).fill(0);
  for (let k = size - 1; k >= 0; k--) {
    const row = rows[k] as number[];
    const rest = found.reduce((sum, value, n) => (n > k ? sum + value * (row[n] as number) : sum), 0);
    found[k] = ((row[size] as number) - rest) / (row[k] as number);
  }
  return found;
}

export function square(values: readonly number[]): number {
  return dot(values, values);
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, k) => sum + value * (b[k] as number), 0);
}

/** How often a chi-squared with so many degrees of freedom is larger. */
export function chanceAbove(misfit: number, spare: number): number {
  const [a, x] = [spare / 2, misfit / 2];
  if (x <= 0) return 1;
  return x < a + 1 ? 1 - lowerSeries(a, x) : upperFraction(a, x);
}

/** The regularised incomplete gamma function: a series below, a fraction above. */
function lowerSeries(a: number, x: number): number {
  let [term, sum] = [1 / a, 1 / a];
  for (let n = 1; n < 500 && Math.abs(term) > 1e-17 * sum; n++) {
    term *= x / (a + n);
    sum += term;
  }
  return sum * Math.exp(-x + a * Math.log(x) - logGamma(a));
}

function upperFraction(a: number, x: number): number {
  const tiny = 1e-300;
  let b = x + 1 - a;
  let c = 1 / tiny;
  let d = 1 / b;
  let h = d;
  for (let n = 1; n < 500; n++) {
    const by = -n * (n - a);
    b += 2;
    d = 1 / (nonzero(by * d + b, tiny));
    c = nonzero(b + by / c, tiny);
    h *= d * c;
    if (Math.abs(d * c - 1) < 1e-16) break;
  }
  return Math.exp(-x + a * Math.log(x) - logGamma(a)) * h;
}

function nonzero(value: number, tiny: number): number {
  return Math.abs(value) < tiny ? tiny : value;
}

/** Of whole and half numbers: all that half a count can be. */
function logGamma(a: number): number {
  let [value, at] = a % 1 === 0 ? [0, 1] : [Math.log(Math.PI) / 2, 0.5];
  for (; at < a; at++) value += Math.log(at);
  return value;
}
