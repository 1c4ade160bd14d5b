// Path data in stations and heights of a view, in inches: the group's transform draws them.
import { axesOf, pointAt, type Mesh, type Sight } from './skin.ts';
import type { Point, Vec } from './vec.ts';

const n = (x: number): string => String(Math.round(x * 1000) / 1000);

/** A line of points of space as a view sees it. */
export function dOf(sight: Sight, points: readonly Vec[] | readonly (readonly number[])[], closed = false): string {
  const height = axesOf[sight].height;
  return points.map((p, i) => `${i ? 'L' : 'M'}${n(p[0])} ${n(p[height])}`).join('') + (closed ? 'Z' : '');
}

/** A line of [station, height]. */
export const dFlat = (points: readonly (readonly number[])[], closed = false): string =>
  points.map((p, i) => `${i ? 'L' : 'M'}${n(p[0])} ${n(p[1])}`).join('') + (closed ? 'Z' : '');

/** What a body covers in a view: its uppermost and lowest point at each row. */
export function silhouette(m: Mesh, sight: Sight): Point[] {
  const height = axesOf[sight].height, high: Point[] = [], low: Point[] = [];
  for (let r = 0; r < m.rows; r++) {
    let top = -Infinity, bottom = Infinity, x = 0;
    for (let c = 0; c < m.cols; c++) { const p = pointAt(m, r, c); x = p[0]; top = Math.max(top, p[height]); bottom = Math.min(bottom, p[height]); }
    high.push([x, top]); low.push([x, bottom]);
  }
  return [...high, ...low.reverse()];
}

/** The border of a face: its four edges. */
export function borderOf(m: Mesh, sight: Sight): Point[] {
  const height = axesOf[sight].height, out: Point[] = [];
  const put = (r: number, c: number) => { const p = pointAt(m, r, c); out.push([p[0], p[height]]); };
  for (let c = 0; c < m.cols; c++) put(0, c);
  for (let r = 1; r < m.rows; r++) put(r, m.cols - 1);
  for (let c = m.cols - 2; c >= 0; c--) put(m.rows - 1, c);
  for (let r = m.rows - 2; r > 0; r--) put(r, 0);
  return out;
}

/** A line of the skin moved by `by` inches to either side in a view, square to it there. */
export function offsets(sight: Sight, points: readonly Vec[], by: number): [Point[], Point[]] {
  const h = axesOf[sight].height, a: Point[] = [], b: Point[] = [];
  for (let i = 0; i < points.length; i++) {
    const p = points[Math.max(0, i - 1)], q = points[Math.min(points.length - 1, i + 1)];
    const dx = q[0] - p[0], dy = q[h] - p[h], l = Math.hypot(dx, dy) || 1;
    a.push([points[i][0] - dy / l * by, points[i][h] + dx / l * by]);
    b.push([points[i][0] + dy / l * by, points[i][h] - dx / l * by]);
  }
  return [a, b];
}
