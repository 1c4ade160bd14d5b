// Points and directions of space: [x aft, y to the pilot's right, z up], inches.

export type Vec = [number, number, number];
export type Point = [number, number];

export const add = (a: Vec, b: Vec): Vec => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const sub = (a: Vec, b: Vec): Vec => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vec, k: number): Vec => [a[0] * k, a[1] * k, a[2] * k];
export const dot = (a: Vec, b: Vec): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const length = (a: Vec): number => Math.sqrt(dot(a, a));
export const cross = (a: Vec, b: Vec): Vec => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
export const distance = (a: Vec, b: Vec): number => length(sub(a, b));

/** A direction of length one; of nothing, nothing. */
export function unit(a: Vec): Vec {
  const l = length(a);
  return l ? scale(a, 1 / l) : [0, 0, 0];
}

/** a moved towards b by the part t. */
export const mix = (a: Vec, b: Vec, t: number): Vec => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, a[2] + (b[2] - a[2]) * t];
