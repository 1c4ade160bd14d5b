// Straight lines on a triangulated skin, and a drawing carried along them.
import { cornersOf, neighbourOf, outOf, type Hit, type Mesh } from './skin.ts';
import { add, cross, dot, length, scale, sub, unit, type Point, type Vec } from './vec.ts';

/** Directions of a drawing at its anchor: to the reader's right, up, and out of the skin. */
export interface Frame { right: Vec; up: Vec; out: Vec }

/**
 * Goes straight ahead over the triangles: where a line crosses an edge it keeps its angle
 * to it, as on the two triangles laid flat. Past the border it goes on in the plane of the
 * last triangle, and `off` says so. `ahead` is a direction of the first triangle's plane.
 */
export function walk(m: Mesh, from: Hit, ahead: Vec, far: number): { point: Vec; triangle: number; off: boolean } {
  let t = from.triangle, p = from.point, d = unit(ahead), left = far;
  for (let step = 0; step < 4000; step++) {
    const corners = cornersOf(m, t);
    const n = cross(sub(corners[1], corners[0]), sub(corners[2], corners[0]));
    let reach = Infinity, exit = -1;
    for (let k = 0; k < 3; k++) {
      const a = corners[k], e = sub(corners[(k + 1) % 3], a);
      const away = unit(cross(e, n)); // in the plane, out over the edge
      const speed = dot(d, away);
      if (speed <= 1e-12) continue;
      const there = Math.max(0, -dot(sub(p, a), away) / speed);
      if (there < reach) { reach = there; exit = k; }
    }
    if (reach >= left || exit < 0) return { point: add(p, scale(d, left)), triangle: t, off: false };
    const next = neighbourOf(m, t, exit);
    p = add(p, scale(d, reach));
    left -= reach;
    const turned = next < 0 ? null : across(m, next, corners[exit], corners[(exit + 1) % 3], d);
    if (!turned) return { point: add(p, scale(d, left)), triangle: t, off: true };
    t = next;
    d = turned;
  }
  return { point: p, triangle: t, off: true };
}

/** A direction over the edge from a to b into another triangle; null where that has no area. */
function across(m: Mesh, t: number, a: Vec, b: Vec, d: Vec): Vec | null {
  const e = unit(sub(b, a)), along = dot(d, e);
  const corners = cornersOf(m, t);
  let inward: Vec = [0, 0, 0];
  for (const c of corners) {
    const r = sub(c, a), square = sub(r, scale(e, dot(r, e)));
    if (length(square) > length(inward)) inward = square;
  }
  if (length(inward) < 1e-9) return null;
  return unit(add(scale(e, along), scale(unit(inward), Math.sqrt(Math.max(0, 1 - along * along)))));
}

/** The turn that carries the direction `from` on to `to`, applied to v. Directions of length one. */
export function turn(from: Vec, to: Vec, v: Vec): Vec {
  const axis = cross(from, to), s = length(axis), c = dot(from, to);
  if (s < 1e-12) return v;
  const k = scale(axis, 1 / s);
  return add(add(scale(v, c), scale(cross(k, v), s)), scale(k, dot(k, v) * (1 - c)));
}

/**
 * The directions of an upright drawing at a place: its right level on the skin, or on a
 * wing its up forward; then turned by `angle` radians anticlockwise as seen from outside.
 */
export function frameAt(m: Mesh, hit: Hit, upright: 'level' | 'forward', angle = 0): Frame {
  const out = outOf(m, hit.triangle);
  const up0: Vec = upright === 'level' ? [0, 0, 1] : [-1, 0, 0];
  let right = unit(cross(up0, out));
  if (length(right) < 0.5) right = unit(cross([-1, 0, 0], out)); // level skin: crown and keel
  const up = cross(out, right), c = Math.cos(angle), s = Math.sin(angle);
  return { right: add(scale(right, c), scale(up, s)), up: sub(scale(up, c), scale(right, s)), out };
}

/** The angle of a frame against the upright one of its place, radians. */
export function angleOf(m: Mesh, hit: Hit, upright: 'level' | 'forward', f: Frame): number {
  const plain = frameAt(m, hit, upright);
  const right = turn(f.out, plain.out, f.right);
  return Math.atan2(dot(right, plain.up), dot(right, plain.right));
}

/** Points of a drawing about its anchor, each at its angle and distance along the skin. */
export function carry(m: Mesh, hit: Hit, f: Frame, points: Point[]): Vec[] {
  const n = outOf(m, hit.triangle);
  const right = turn(f.out, n, f.right), up = turn(f.out, n, f.up);
  return points.map(([x, y]) => {
    const far = Math.hypot(x, y);
    return far ? walk(m, hit, add(scale(right, x), scale(up, y)), far).point : hit.point;
  });
}
