// Where the picture in three dimensions stands: in empty sky, smaller where there is little.
import { inside } from './outline.ts';

type Point = readonly number[];

/** A part of the drawing in which something may stand: its box, and what must not be covered. */
export interface Sky { x: number; y: number; width: number; height: number; rings: Point[][]; taken: [number, number, number, number][] }

/** The box of a size, or of six tenths of it, that covers least of what is drawn, the nearest to a place; null where all would cover some. */
export function roomFor(skies: Sky[], width: number, height: number, near: Point): { x: number; y: number; width: number; height: number } | null {
  for (const k of [1, 0.8, 0.6]) {
    const w = width * k, high = height * k;
    let best: { x: number; y: number; width: number; height: number } | null = null, least = Infinity;
    for (const s of skies) for (let y = 6; y + high <= s.height - 6; y += 12) for (let x = 6; x + w <= s.width - 6; x += 20) {
      const far = Math.hypot(s.x + x + w / 2 - near[0], s.y + y + high / 2 - near[1]);
      if (far >= least || s.taken.some(t => x < t[2] && x + w > t[0] && y < t[3] && y + high > t[1]) || covers(s.rings, x, y, w, high)) continue;
      least = far;
      best = { x: s.x + x, y: s.y + y, width: w, height: high };
    }
    if (best) return best;
  }
  return null;
}

/** Whether a box meets a ring: a corner or a place along its sides within one, or a corner of one within it. */
function covers(rings: Point[][], x: number, y: number, w: number, high: number): boolean {
  if (rings.some(r => r.some(p => p[0] > x && p[0] < x + w && p[1] > y && p[1] < y + high))) return true;
  for (let i = 0; i <= 6; i++) for (const at of [0, 0.5, 1]) if (inside(rings, x + w * i / 6, y + high * at)) return true;
  return false;
}
