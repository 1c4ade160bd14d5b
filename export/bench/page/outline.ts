// Outlines of a figure as points, few enough to be carried over the skin in every frame.
import type { Point } from './vec.ts';

/** A closed line of points about the anchor, y up. */
export type Ring = Point[];

/** Reads M, L, C and Z with absolute numbers, as the engine writes them. */
export function commands(d: string): { op: string; at: number[] }[] {
  const out: { op: string; at: number[] }[] = [];
  const need: Record<string, number> = { M: 2, L: 2, C: 6, Z: 0 };
  for (const part of d.match(/[MLCZ][^MLCZ]*/g) ?? []) {
    const op = part[0], at = (part.slice(1).match(/-?(?:\d+\.?\d*|\.\d+)(?:e-?\d+)?/g) ?? []).map(Number);
    if (op === 'Z') { out.push({ op, at: [] }); continue; }
    for (let i = 0; i + need[op] <= at.length; i += need[op]) out.push({ op: op === 'M' && i ? 'L' : op, at: at.slice(i, i + need[op]) });
  }
  return out;
}

/**
 * The rings of a path. Curves are cut until chords are within `tolerance`, straight runs
 * where they are longer than `longest`: a straight line of a drawing bends with its skin.
 */
export function rings(d: string, tolerance = 0.02, longest = 3): Ring[] {
  const out: Ring[] = [];
  let ring: Ring = [];
  const close = () => { if (ring.length > 2) out.push(ring); ring = []; };
  const lineTo = (to: Point) => {
    const [x, y] = ring[ring.length - 1], far = Math.hypot(to[0] - x, to[1] - y), parts = Math.max(1, Math.ceil(far / longest));
    if (far < 1e-9) return;
    for (let i = 1; i <= parts; i++) ring.push([x + (to[0] - x) * i / parts, y + (to[1] - y) * i / parts]);
  };
  for (const { op, at } of commands(d)) {
    if (op === 'M') { close(); ring = [[at[0], at[1]]]; }
    if (op === 'L' && ring.length) lineTo([at[0], at[1]]);
    if (op === 'C' && ring.length) curveTo(ring, at, tolerance, longest);
    if (op === 'Z' && ring.length) {
      const first = ring[0], last = ring[ring.length - 1];
      if (Math.hypot(first[0] - last[0], first[1] - last[1]) > 1e-9) { lineTo(first); ring.pop(); }
      else if (ring.length > 1) ring.pop();
      close();
    }
  }
  close();
  return out;
}

function curveTo(ring: Ring, at: number[], tolerance: number, longest: number): void {
  const p = ring[ring.length - 1], [a, b, c, d, e, f] = at;
  // second differences bound how far a chord is off: n pieces leave 1/n2 of an eighth of them
  const bend = Math.max(Math.hypot(p[0] - 2 * a + c, p[1] - 2 * b + d), Math.hypot(a - 2 * c + e, b - 2 * d + f)) * 6;
  const span = Math.hypot(a - p[0], b - p[1]) + Math.hypot(c - a, d - b) + Math.hypot(e - c, f - d);
  const parts = Math.max(1, Math.ceil(Math.sqrt(bend / 8 / tolerance)), Math.ceil(span / longest));
  for (let i = 1; i <= parts; i++) {
    const t = i / parts, s = 1 - t;
    const w = [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t];
    ring.push([w[0] * p[0] + w[1] * a + w[2] * c + w[3] * e, w[0] * p[1] + w[1] * b + w[2] * d + w[3] * f]);
  }
}

/** Rings as coarse as they must be to hold at most `most` points together. */
export function ringsWithin(paths: string[], most = 240): Ring[][] {
  for (let tolerance = 0.02, longest = 3; ; tolerance *= 2, longest *= 1.5) {
    const all = paths.map(d => rings(d, tolerance, longest));
    if (tolerance > 1 || all.flat().reduce((n, r) => n + r.length, 0) <= most) return all;
  }
}

/** The box round points: [x0, y0, x1, y1]. */
export function boxOf(points: Iterable<readonly number[]>): [number, number, number, number] {
  const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of points) {
    box[0] = Math.min(box[0], x); box[1] = Math.min(box[1], y); box[2] = Math.max(box[2], x); box[3] = Math.max(box[3], y);
  }
  return box;
}

/** Whether a point lies in the even-odd region of closed lines. */
export function inside(lines: readonly (readonly (readonly number[])[])[], x: number, y: number): boolean {
  let odd = false;
  for (const line of lines) for (let i = 0, j = line.length - 1; i < line.length; j = i++) {
    const a = line[i], b = line[j];
    if (a[1] > y !== b[1] > y && x < (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) + a[0]) odd = !odd;
  }
  return odd;
}
