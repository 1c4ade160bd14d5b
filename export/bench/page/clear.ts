// The distance from paint to what it must keep clear of, straight through space.
import { add, dot, scale, sub, type Vec } from './vec.ts';

/** The nearest place between two sets of lines. */
export interface Near { distance: number; from: Vec; to: Vec }

/** The point of the segment a b nearest to p. */
export function foot(p: Vec, a: Vec, b: Vec): Vec {
  const d = sub(b, a), l = dot(d, d);
  return add(a, scale(d, l ? Math.max(0, Math.min(1, dot(sub(p, a), d) / l)) : 0));
}

/**
 * The nearest place of closed outlines to a line that stands `half` its width to either
 * side, corner against edge and edge against corner. Null beyond `within`.
 */
export function nearest(outlines: Vec[][], line: Vec[], closed: boolean, half: number, within: number): Near | null {
  let best: Near | null = null;
  const reach = within + half, box = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];
  for (const p of line) for (let k = 0; k < 3; k++) { box[k] = Math.min(box[k], p[k]); box[k + 3] = Math.max(box[k + 3], p[k]); }
  const take = (from: Vec, to: Vec) => {
    const d = sub(to, from), far = Math.sqrt(dot(d, d));
    if (far > reach || best && far - half >= best.distance) return;
    best = { distance: far - half, from, to: far ? sub(to, scale(d, half / far)) : to };
  };
  const far = (p: Vec) => p[0] < box[0] - reach || p[0] > box[3] + reach || p[1] < box[1] - reach || p[1] > box[4] + reach || p[2] < box[2] - reach || p[2] > box[5] + reach;
  for (const ring of outlines) for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const a = ring[j], b = ring[i];
    if (far(a) && far(b)) continue;
    for (let k = closed ? 0 : 1, l = closed ? line.length - 1 : 0; k < line.length; l = k++) take(b, foot(b, line[l], line[k]));
    for (const q of line) take(foot(q, a, b), q);
  }
  return best;
}
