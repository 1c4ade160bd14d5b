// A skin as the engine sends it, refined once to small triangles.
import type { Skin } from './protocol.ts';
import { cross, dot, sub, unit, type Vec } from './vec.ts';

/**
 * A surface as rows and columns of points, two triangles to a cell. A body goes once
 * round, crown, right side, keel, left side; its last column is then followed by its
 * first. `outward` is 1 where u x v points out of the aircraft, else -1.
 */
export interface Mesh { id: string; rows: number; cols: number; wraps: boolean; points: Float64Array; outward: 1 | -1 }

/** A place on a mesh: a triangle and a point of it. */
export interface Hit { triangle: number; point: Vec }

/** From which side a surface is looked at, and the side of a body that is then seen. */
export type Sight = 'left' | 'right' | 'above' | 'below';

/** The points of the net itself, in inches, row by row. */
export function unpack(skin: Skin): Vec[] {
  const points: Vec[] = [];
  let x = 0, y = 0, z = 0;
  for (let i = 0; i + 2 < skin.xyz.length; i += 3) {
    x += skin.xyz[i]; y += skin.xyz[i + 1]; z += skin.xyz[i + 2];
    points.push([x / 1000, y / 1000, z / 1000]);
  }
  return points;
}

/** Weights of nodes of one direction: value at a parameter = sum of weight times node. */
type Weights = { node: number; weight: number }[];

/** The polynomial through the four nodes nearest to cell k within its panel, or as many as it has. */
function weightsIn(at: number[], panels: number[], k: number, x: number): Weights {
  let low = 0, high = at.length - 1;
  for (let i = 0; i + 1 < panels.length; i++) if (panels[i] <= k && k < panels[i + 1]) { low = panels[i]; high = panels[i + 1]; }
  const many = Math.min(4, high - low + 1);
  const first = Math.max(low, Math.min(k - (many >> 1) + 1, high - many + 1));
  const out: Weights = [];
  for (let i = first; i < first + many; i++) {
    let weight = 1;
    for (let j = first; j < first + many; j++) if (j !== i) weight *= (x - at[j]) / (at[i] - at[j]);
    out.push({ node: i, weight });
  }
  return out;
}

/** Where the refined rows stand: every node, and between two of them as many as keep to the step. */
function refinedRows(at: number[], panels: number[], longest: (k: number) => number, step: number, most: number): Weights[] {
  const rows: Weights[] = [[{ node: 0, weight: 1 }]];
  for (let k = 0; k + 1 < at.length; k++) {
    const parts = Math.max(1, Math.min(most, Math.ceil(longest(k) / step)));
    for (let i = 1; i < parts; i++) rows.push(weightsIn(at, panels, k, at[k] + (at[k + 1] - at[k]) * i / parts));
    rows.push([{ node: k + 1, weight: 1 }]);
  }
  return rows;
}

/** Refines a skin until its cells are no longer than step, in inches. */
export function refine(skin: Skin, step = 2): Mesh {
  const net = unpack(skin), nu = skin.u.length, nv = skin.v.length;
  const gap = (a: number, b: number) => Math.hypot(net[a][0] - net[b][0], net[a][1] - net[b][1], net[a][2] - net[b][2]);
  const rows = refinedRows(skin.u, skin.panelsU, k => {
    let most = 0;
    for (let c = 0; c < nv; c++) most = Math.max(most, gap(k * nv + c, (k + 1) * nv + c));
    return most;
  }, step, 200);
  const columns = refinedRows(skin.v, skin.panelsV, k => {
    let most = 0;
    for (let r = 0; r < nu; r++) most = Math.max(most, gap(r * nv + k, r * nv + k + 1));
    return most;
  }, step, 200);
  if (skin.closed && !skin.mirror) columns.pop();
  const half = columns.length;
  const cols = skin.mirror ? 2 * half - 2 : half;
  const points = new Float64Array(rows.length * cols * 3);
  rows.forEach((row, r) => {
    for (let c = 0; c < cols; c++) {
      const left = c >= half; // the mirrored half runs from keel to crown
      const p: Vec = [0, 0, 0];
      for (const u of row) for (const v of columns[left ? cols - c : c]) {
        const q = net[u.node * nv + v.node], w = u.weight * v.weight;
        p[0] += q[0] * w; p[1] += q[1] * w; p[2] += q[2] * w;
      }
      if (left) p[1] = -p[1];
      points.set(p, (r * cols + c) * 3);
    }
  });
  const mesh: Mesh = { id: skin.id, rows: rows.length, cols, wraps: skin.mirror || skin.closed, points, outward: 1 };
  mesh.outward = outwardOf(mesh, skin);
  return mesh;
}

/** A body is outward away from its middle; a face by its side. */
function outwardOf(mesh: Mesh, skin: Skin): 1 | -1 {
  const r = mesh.rows >> 1, c = mesh.wraps ? mesh.cols >> 2 : mesh.cols >> 1;
  const n = normalOf(mesh, triangleOf(mesh, Math.min(r, mesh.rows - 2), Math.min(c, mesh.cols - 2)));
  let out: Vec = [0, skin.side === 'left' ? -1 : 1, 0];
  if (skin.face === 'upper') out = [0, 0, 1];
  if (skin.face === 'lower') out = [0, 0, -1];
  if (mesh.wraps) {
    const p = pointAt(mesh, r, c), q = pointAt(mesh, r, (c + (mesh.cols >> 1)) % mesh.cols);
    out = sub(p, q);
  }
  return dot(n, out) < 0 ? -1 : 1;
}

/** The node of a row and a column; a column past the last is the first again. */
export function pointAt(m: Mesh, r: number, c: number): Vec {
  const i = (r * m.cols + (c >= m.cols ? c - m.cols : c)) * 3;
  return [m.points[i], m.points[i + 1], m.points[i + 2]];
}

/** Cells in one row of the mesh. */
export const cellsOf = (m: Mesh): number => m.wraps ? m.cols : m.cols - 1;

/** The first of the two triangles of a cell. */
export const triangleOf = (m: Mesh, r: number, c: number): number => 2 * (r * cellsOf(m) + c);

/** The corners of a triangle: of the even one at its cell's first corner, of the odd one at the opposite corner. */
export function cornersOf(m: Mesh, t: number): [Vec, Vec, Vec] {
  const cell = t >> 1, cells = cellsOf(m), r = Math.floor(cell / cells), c = cell % cells;
  return t & 1
    ? [pointAt(m, r + 1, c + 1), pointAt(m, r + 1, c), pointAt(m, r, c + 1)]
    : [pointAt(m, r, c), pointAt(m, r, c + 1), pointAt(m, r + 1, c)];
}

/** The triangle beyond the edge from corner k to the next; -1 at the border. */
export function neighbourOf(m: Mesh, t: number, k: number): number {
  const cells = cellsOf(m), cell = t >> 1, r = Math.floor(cell / cells), c = cell % cells;
  if (k === 1) return t ^ 1;
  if (t & 1) {
    if (k === 0) return r + 2 < m.rows ? triangleOf(m, r + 1, c) : -1;
    return c + 1 < cells ? triangleOf(m, r, c + 1) : m.wraps ? triangleOf(m, r, 0) : -1;
  }
  if (k === 0) return r > 0 ? triangleOf(m, r - 1, c) + 1 : -1;
  return c > 0 ? triangleOf(m, r, c - 1) + 1 : m.wraps ? triangleOf(m, r, cells - 1) + 1 : -1;
}

/** u x v of a triangle, of length one; times `outward` it points out of the aircraft. */
export function normalOf(m: Mesh, t: number): Vec {
  const [a, b, c] = cornersOf(m, t);
  return unit(cross(sub(c, a), sub(b, a)));
}

export const outOf = (m: Mesh, t: number): Vec => {
  const n = normalOf(m, t);
  return [n[0] * m.outward, n[1] * m.outward, n[2] * m.outward];
};

/** The two axes of a sight, and the axis towards the eye with its sign. */
export const axesOf: Record<Sight, { across: 0 | 1 | 2; height: 0 | 1 | 2; depth: 0 | 1 | 2; towards: 1 | -1 }> = {
  left: { across: 0, height: 2, depth: 1, towards: -1 },
  right: { across: 0, height: 2, depth: 1, towards: 1 },
  above: { across: 0, height: 1, depth: 2, towards: 1 },
  below: { across: 0, height: 1, depth: 2, towards: -1 },
};

/**
 * The outermost place of a mesh that is seen at a station and a height: a waterline
 * from the side, a buttock line from above or below. Null: the mesh is not seen there.
 */
export function locate(m: Mesh, sight: Sight, station: number, height: number): Hit | null {
  const { height: h, depth, towards } = axesOf[sight];
  const many = 2 * cellsOf(m) * (m.rows - 1);
  let best: Hit | null = null, nearest = -Infinity;
  for (let t = 0; t < many; t++) {
    const [a, b, c] = cornersOf(m, t);
    if (a[0] > station && b[0] > station && c[0] > station || a[0] < station && b[0] < station && c[0] < station) continue;
    const area = (b[0] - a[0]) * (c[h] - a[h]) - (c[0] - a[0]) * (b[h] - a[h]);
    if (Math.abs(area) < 1e-12) continue;
    const s = ((station - a[0]) * (c[h] - a[h]) - (c[0] - a[0]) * (height - a[h])) / area;
    const q = ((b[0] - a[0]) * (height - a[h]) - (station - a[0]) * (b[h] - a[h])) / area;
    if (s < -1e-9 || q < -1e-9 || s + q > 1 + 1e-9) continue;
    const d = (a[depth] + s * (b[depth] - a[depth]) + q * (c[depth] - a[depth])) * towards;
    if (d <= nearest) continue;
    nearest = d;
    const point: Vec = [station, 0, 0];
    point[h] = height;
    point[depth] = d * towards;
    best = { triangle: t, point };
  }
  return best;
}

/** The triangle that a point of the skin lies on or nearest to, of all by their distance. */
export function hold(m: Mesh, p: Vec): Hit {
  const many = 2 * cellsOf(m) * (m.rows - 1);
  let best = 0, least = Infinity;
  for (let t = 0; t < many; t++) {
    const [a, b, c] = cornersOf(m, t);
    const dx = (a[0] + b[0] + c[0]) / 3 - p[0], dy = (a[1] + b[1] + c[1]) / 3 - p[1], dz = (a[2] + b[2] + c[2]) / 3 - p[2];
    const near = dx * dx + dy * dy + dz * dz;
    if (near < least + 16) { // centres tell which could be; the distance to the triangle decides
      const d = farFrom(p, a, b, c);
      if (d < least) { least = d; best = t; }
    }
  }
  return { triangle: best, point: p };
}

/** Square of the distance of a point to a triangle, by its plane and its edges. */
export function farFrom(p: Vec, a: Vec, b: Vec, c: Vec): number {
  const n = unit(cross(sub(b, a), sub(c, a)));
  const inside = [[a, b], [b, c], [c, a]].every(([s, e]) => dot(cross(sub(e, s), sub(p, s)), n) >= -1e-12);
  if (inside && dot(n, n) > 0) return dot(sub(p, a), n) ** 2;
  let least = Infinity;
  for (const [s, e] of [[a, b], [b, c], [c, a]]) {
    const d = sub(e, s), l = dot(d, d), t = l ? Math.max(0, Math.min(1, dot(sub(p, s), d) / l)) : 0;
    const q = sub(p, [s[0] + d[0] * t, s[1] + d[1] * t, s[2] + d[2] * t]);
    least = Math.min(least, dot(q, q));
  }
  return least;
}
