// A camera that the engine found, in the page: the aircraft as it is seen in the picture.
import type { CameraSeen } from './protocol.ts';
import type { Point, Vec } from './vec.ts';

/** The pixel at which a position is seen; null behind the camera. */
export function project(c: CameraSeen, p: Vec): Point | null {
  const d: Vec = [p[0] - c.at[0], p[1] - c.at[1], p[2] - c.at[2]];
  const on = (a: readonly number[]) => a[0] * d[0] + a[1] * d[1] + a[2] * d[2];
  const z = on(c.ahead);
  if (z <= 1e-3) return null;
  const x = on(c.right) / z, y = on(c.down) / z, r2 = x * x + y * y;
  if (1 + 3 * c.k1 * r2 <= 0) return null;
  const k = c.focal * (1 + c.k1 * r2);
  return [c.principal[0] + (c.mirrored ? -1 : 1) * k * x, c.principal[1] + k * y];
}

/** A line of space in the picture; where it goes out of sight it is parted. */
export function dSeen(c: CameraSeen, points: readonly (readonly number[])[], closed = false): string {
  let d = '', pen = false;
  for (const p of closed ? [...points, points[0]] : points) {
    const q = p && project(c, p as Vec);
    d += q ? `${pen ? 'L' : 'M'}${q[0].toFixed(1)} ${q[1].toFixed(1)}` : '';
    pen = !!q;
  }
  return d;
}
