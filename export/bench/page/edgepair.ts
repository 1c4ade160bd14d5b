// What two fitted edges say together, in the picture: where they cross, or how far they lie
// apart. Pixels; deviations are carried to first order.
import { normalOf, type Edge } from './edge.ts';

type Pixel = [number, number];
export interface Crossing { at: Pixel; off: number } // off: the larger standard deviation of the place
export interface Apart { pixels: number; off: number; askew: number } // askew: radians between both

const cross = (a: Pixel, b: Pixel): number => a[0] * b[1] - a[1] * b[0];
const dot = (a: Pixel, b: Pixel): number => a[0] * b[0] + a[1] * b[1];

/** The least angle at which two edges are taken to cross, and the largest at which they are a pair, radians. */
export const leastCrossing = Math.PI / 9;

/** The angle between two edges, 0 to a right angle. */
export const angleOf = (a: Edge, b: Edge): number => Math.atan2(Math.abs(cross(a.along, b.along)), Math.abs(dot(a.along, b.along)));

/** Where two straight edges cross; null where they hardly do, or one is round. */
export function crossing(a: Edge, b: Edge): Crossing | null {
  if (a.round || b.round || angleOf(a, b) < leastCrossing) return null;
  const d: Pixel = [b.at[0] - a.at[0], b.at[1] - a.at[1]], turn = cross(a.along, b.along), p = cross(d, b.along) / turn, q = cross(d, a.along) / turn;
  // moved across by e, an edge moves the place along the other by e over the sine of their angle
  const one = Math.hypot(a.off, p * a.turn) / turn, two = Math.hypot(b.off, q * b.turn) / turn;
  // the larger axis of the sum of both, one along b and one along a
  const xx = (one * b.along[0]) ** 2 + (two * a.along[0]) ** 2, yy = (one * b.along[1]) ** 2 + (two * a.along[1]) ** 2, xy = one * one * b.along[0] * b.along[1] + two * two * a.along[0] * a.along[1];
  return { at: [a.at[0] + p * a.along[0], a.at[1] + p * a.along[1]], off: Math.sqrt((xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy)) };
}

/** How far two edges lie apart in the picture, square to both, or the diameter of a disc there
 * seen square on: as the engine reckons it on the skin. Null where they are no pair. */
export function apart(a: Edge, b: Edge): Apart | null {
  if (a.round !== b.round || angleOf(a, b) >= leastCrossing) return null;
  const read = (moveA: number, turnA: number, moveB: number, turnB: number): [number, number] => {
    const place = (e: Edge, by: number): Pixel => { const n = normalOf(e.along); return [e.at[0] + by * n[0], e.at[1] + by * n[1]]; };
    const p = place(a, moveA), q = place(b, moveB), line: Pixel = [q[0] - p[0], q[1] - p[1]];
    const flip = dot(a.along, b.along) < 0 ? -1 : 1;
    const one = Math.atan2(cross(a.along, line), dot(a.along, line)) - turnA, two = Math.atan2(flip * cross(b.along, line), flip * dot(b.along, line)) - turnB;
    const askew = Math.atan2(Math.sin(one - two), Math.cos(one - two));
    return [Math.hypot(...line) * (a.round ? 1 / Math.cos(askew / 2) : Math.abs(Math.sin(one - askew / 2))), askew];
  };
  const [pixels, askew] = read(0, 0, 0, 0);
  let sum = 0;
  for (const moved of [read(a.off, 0, 0, 0), read(0, a.turn, 0, 0), read(0, 0, b.off, 0), read(0, 0, 0, b.turn)]) sum += (moved[0] - pixels) ** 2;
  return { pixels, off: Math.sqrt(sum), askew: Math.abs(askew) };
}
