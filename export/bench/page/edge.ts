// An edge of a picture near a line that was drawn along it, fitted to a small part of a pixel.
// The line is cut into stretches; in each the place of the step across is found by itself
// (edgeshape.ts), and through the places goes a straight line or, of a round edge, a parabola,
// by least squares. Their scatter is the plus or minus, by Student's t: grain that goes together over some
// pixels and an edge that was brushed by hand are then in it, which the residuals of pixels would hide.
import { fitStep, leastBlur, share, type Sample, type Step } from './edgeshape.ts';

/** Light of a part of a picture: x0, y0 is its first pixel; rows from above. */
export interface Light { x0: number; y0: number; width: number; height: number; light: ArrayLike<number>; stored: ArrayLike<number> }
type Pixel = [number, number];

export interface Edge {
  at: Pixel; // on the edge, at the middle of the drawn line
  along: Pixel; // unit vector along the edge there; x right, y down
  off: number; // standard deviation of the place across, pixels: 1.96 of it on either side hold it in 95 of 100 cases
  turn: number; // likewise of the direction, radians
  bend: number; // of a round edge: across = bend times the square of along
  bendOff: number;
  round: boolean;
  half: number; // the edge was followed so far to either side, pixels
  blur: number; // standard deviation of the blur, pixels
  contrast: number; // light across it, of full white
  noise: number; // standard deviation of what is left at a pixel, of full white
  stretches: number; // that were used
  leftOut: number; // that lay far off the others
  curved: number; // of a straight edge: by how much its middle stands off its ends, pixels, where that is sure; else 0
  tone: number; // by how much across, to `normalOf(along)`, it lies elsewhere if the stored values are taken as they are
}
export type Fitted = { ok: true; edge: Edge } | { ok: false; why: string };

/** Across an edge: its direction turned from right to down. */
export const normalOf = (along: Pixel): Pixel => [-along[1], along[0]];

/** Light of a stored value, 0 to 1, by the curve of sRGB (IEC 61966-2-1): where light is added up
 * by a lens a step has its middle; ISO 12233 asks for the same before an edge is measured. */
export const lightOf = (stored: number): number => stored <= 0.04045 ? stored / 12.92 : ((stored + 0.055) / 1.055) ** 2.4;

/** The least length of a line that is drawn along an edge, pixels. */
export const leastLine = 10;

/** How many deviations of Student's t hold a value in 95 of 100 cases (Abramowitz and Stegun, 26.7.5). */
export function student95(freedom: number): number {
  const z = 1.959964, z2 = z * z, v = freedom;
  return z + z * (z2 + 1) / (4 * v) + z * (5 * z2 * z2 + 16 * z2 + 3) / (96 * v * v) + z * (3 * z2 ** 3 + 19 * z2 * z2 + 17 * z2 - 15) / (384 * v ** 3);
}

/**
 * Fits the edge near the line from `from` to `to`, pixels. It is looked for within `reach`
 * pixels of the line; of several the one nearest and strongest is taken.
 */
export function fitEdge(picture: Light, from: Pixel, to: Pixel, round: boolean, reach: number): Fitted {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]), refuse = (why: string): Fitted => ({ ok: false, why });
  if (!(length >= leastLine)) return refuse(`the line is ${length.toFixed(0)} px long: draw it along the edge over ${leastLine} px or more`);
  const along: Pixel = [(to[0] - from[0]) / length, (to[1] - from[1]) / length], out = normalOf(along), middle: Pixel = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  const count = Math.max(round ? 6 : 5, Math.min(60, Math.round(length / 6))), stretch = length / count, wide = reach + 14;
  // the pixels of each stretch
  const parts: Sample[][] = Array.from({ length: count }, () => []);
  const x = [from[0], to[0]], y = [from[1], to[1]], far = wide + 1;
  for (let j = Math.max(0, Math.floor(Math.min(...y) - far) - picture.y0); j <= Math.min(picture.height - 1, Math.ceil(Math.max(...y) + far) - picture.y0); j++) {
    for (let i = Math.max(0, Math.floor(Math.min(...x) - far) - picture.x0); i <= Math.min(picture.width - 1, Math.ceil(Math.max(...x) + far) - picture.x0); i++) {
      const dx = picture.x0 + i - middle[0], dy = picture.y0 + j - middle[1], t = dx * along[0] + dy * along[1], s = dx * out[0] + dy * out[1];
      const k = Math.floor((t + length / 2) / stretch);
      if (k >= 0 && k < count && Math.abs(s) <= wide) { const n = j * picture.width + i; parts[k].push({ t, s, v: picture.light[n], stored: picture.stored[n] }); }
    }
  }
  const centre = (k: number) => (k + 0.5) * stretch - length / 2;
  let curve = start(parts, centre, length, round, reach);
  if (!curve) return refuse('no edge is seen there: the picture is all one tone');
  let step: Step | null = null, places: Place[] = [], used: readonly Place[] = [], best: Through | null = null, ahead = 6, behind = 6, settled = false;
  for (let turn = 0; turn < 12 && !settled; turn++) {
    const c = curve, moved = parts.map(list => { const out: Sample[] = []; for (const q of list) { const s = q.s - value(c, q.t); if (Math.abs(s) < 14) out.push({ t: q.t, s, v: q.v, stored: q.stored }); } return out; });
    const spread = step ? Math.hypot(step.blur, 0.29) : 2;
    [behind, ahead] = room(moved.flat(), Math.max(3, Math.min(12, 3 * spread + 1.5)));
    if (Math.min(behind, ahead) < 1.5) return refuse('no edge is seen there, or another lies within 1.5 px of it');
    const inside = moved.map(list => list.filter(q => q.s >= -behind && q.s <= ahead)), near = inside.flat();
    if (near.length < 30) return refuse('too little of the picture lies along the line');
    step = fitStep(near, step ?? guess(near), true);
    if (!step || Math.abs(step.at) > reach) return refuse('no edge is seen there: light does not step across the line');
    places = [];
    for (let k = 0; k < count; k++) {
      const list = inside[k];
      if (list.length < 8 || !list.some(q => q.s > 1) || !list.some(q => q.s < -1)) continue;
      const own = fitStep(list, step, false);
      if (own) places.push({ t: centre(k), c: value(c, centre(k)) + Math.max(-3, Math.min(3, own.at)) });
    }
    if (places.length < (round ? 6 : 5)) return refuse('too little of the edge lies in the picture: draw the line along more of it');
    used = sound(places, round);
    best = through(used, round);
    if (!best) return refuse('the line is too short');
    curve = best.curve;
    settled = [-0.5, 0, 0.5].every(f => Math.abs(value(curve!, f * length) - value(c, f * length)) < 1e-3);
  }
  if (!best || !step) return refuse('no edge is seen there');
  const bent = round ? null : through(used, true);
  const near = parts.flat().map(q => ({ ...q, s: q.s - value(best.curve, q.t) })).filter(q => q.s >= -behind && q.s <= ahead);
  const last = fitStep(near, step, true) ?? step, contrast = Math.abs(last.high - last.low);
  const noise = Math.sqrt(near.reduce((sum, q) => sum + (q.v - last.low - (last.high - last.low) * share(q.s - last.at, last.blur)[0]) ** 2, 0) / Math.max(1, near.length - 4));
  const student = student95(best.freedom) / 1.959964;
  if (contrast < 0.004 || contrast < 16 * noise / Math.sqrt(near.length)) return refuse(`no edge is seen there: light steps by ${(100 * contrast).toFixed(1)} %, and the grain is ${(100 * noise).toFixed(1)} %`);
  if (best.sigma[0] * student > 1) return refuse(`the edge is too rough: its place is known to ${(1.96 * best.sigma[0] * student).toFixed(1)} px only`);
  const stored = fitStep(near, { ...last, low: mean(near.filter(q => q.s < last.at), 'stored'), high: mean(near.filter(q => q.s >= last.at), 'stored') }, true, 'stored');
  // blurred, the border of a disc lies nearer to its middle by half its bend times the square of
  // the blur (P. Verbeek and L. van Vliet, On the location error of curved edges, IEEE PAMI 16, 1994, from memory)
  const c = best.curve, slope = Math.atan(c[1]), cos = Math.cos(slope), sin = Math.sin(slope), place = c[0] - (round ? c[2] * (last.blur ** 2 + 1 / 12) : 0);
  const curved = !round && bent && Math.abs(bent.curve[2]) > 4 * bent.sigma[2] ? Math.abs(bent.curve[2]) * length * length / 4 : 0;
  return { ok: true, edge: {
    at: [middle[0] + place * out[0], middle[1] + place * out[1]], along: [along[0] * cos + out[0] * sin, along[1] * cos + out[1] * sin],
    off: best.sigma[0] * student * cos, turn: best.sigma[1] * student * cos * cos, bend: c[2] * cos ** 3, bendOff: best.sigma[2] * student, round, half: length / 2,
    blur: last.blur <= leastBlur ? 0 : last.blur, contrast, noise, stretches: used.length, leftOut: places.length - used.length, curved: curved > 0.25 ? curved : 0,
    tone: stored ? stored.at - last.at : 0,
  } };
}

interface Place { t: number; c: number }
/** Across, at a distance along the line. */
const value = (c: number[], t: number): number => c[0] + c[1] * t + c[2] * t * t + c[2] ** 3 * t ** 4;
const mean = (list: readonly Sample[], of: 'v' | 'stored'): number => list.reduce((sum, q) => sum + q[of], 0) / Math.max(1, list.length);

interface Through { curve: number[]; sigma: number[]; freedom: number }

/**
 * Least squares of a straight line, or of the arc that c0 + c1 t + c2 t2 + c2^3 t4 is to its
 * fourth order; the standard deviations of its terms by the scatter.
 */
function through(places: readonly Place[], round: boolean): Through | null {
  const n = round ? 3 : 2, sums = [0, 0, 0, 0, 0], freedom = places.length - n, unit = Math.max(...places.map(p => Math.abs(p.t)), 1e-9);
  if (freedom < 1) return null;
  for (const p of places) for (let k = 0; k < 5; k++) sums[k] += (p.t / unit) ** k;
  // the inverse of a symmetrical matrix of two or three rows, by its cofactors
  const [a, b, c, d, e] = sums;
  const inverse = round ? (() => {
    const m = [[c * e - d * d, c * d - b * e, b * d - c * c], [c * d - b * e, a * e - c * c, b * c - a * d], [b * d - c * c, b * c - a * d, a * c - b * b]], det = a * m[0][0] + b * m[0][1] + c * m[0][2];
    return m.map(row => row.map(x => x / det));
  })() : [[c, -b, 0], [-b, a, 0], [0, 0, 0]].map(row => row.map(x => x / (a * c - b * b)));
  let curve = [0, 0, 0];
  for (let turn = 0; turn < (round ? 4 : 1); turn++) {
    const right = [0, 0, 0];
    for (const p of places) for (let k = 0; k < 3; k++) right[k] += (p.c - curve[2] ** 3 * p.t ** 4) * (p.t / unit) ** k;
    curve = inverse.map((row, k) => row.reduce((sum, x, i) => sum + x * right[i], 0) / unit ** k);
  }
  if (!curve.every(Number.isFinite)) return null;
  const s2 = places.reduce((sum, p) => sum + (p.c - value(curve, p.t)) ** 2, 0) / freedom;
  return { curve, sigma: inverse.map((row, k) => Math.sqrt(Math.max(0, row[k] * s2)) / unit ** k), freedom };
}

/**
 * The places without those far off the others, a rivet or a scratch: beyond four deviations and
 * half a pixel of the line through two of them, or the arc through three, that has the least
 * median (P. Rousseeuw, Least median of squares regression, JASA 79, 1984). All where more
 * than a quarter would go.
 */
function sound(places: readonly Place[], round: boolean): readonly Place[] {
  const m = places.length, least = round ? 6 : 5, n = round ? 3 : 2, stride = Math.max(1, Math.ceil(m / (round ? 12 : 30)));
  let best: number[] = [], typical = Infinity;
  for (let i = 0; i < m; i += stride) for (let j = i + 1; j < m; j += stride) for (let k = round ? j + 1 : j; k < (round ? m : j + 1); k += stride) {
    const three = [places[i], places[j], places[k]], slope = (three[1].c - three[0].c) / (three[1].t - three[0].t);
    const bend = round ? ((three[2].c - three[0].c) / (three[2].t - three[0].t) - slope) / (three[2].t - three[1].t) : 0;
    const off = places.map(p => Math.abs(p.c - three[0].c - (p.t - three[0].t) * (slope + bend * (p.t - three[1].t)))), middle = [...off].sort((a, b) => a - b)[Math.floor(m / 2)];
    if (middle < typical) { typical = middle; best = off; }
  }
  const limit = Math.max(0.5, 4 * 1.4826 * (1 + 5 / (m - n)) * typical), kept = places.filter((_, i) => !(best[i] > limit));
  return kept.length >= least && kept.length >= 0.75 * m ? kept : places;
}

/** The two lights on either side of 0, and a blur of a pixel. */
const guess = (near: readonly Sample[]): Step => ({ low: mean(near.filter(q => q.s < -1), 'v'), high: mean(near.filter(q => q.s > 1), 'v'), at: 0, blur: 1 });

/**
 * How far to either side the light goes on as it does at the edge: to where it turns back by
 * more than an eighth of what it steps by there, at most `most`.
 */
function room(all: readonly Sample[], most: number): [number, number] {
  const n = Math.ceil(most) + 1, sum = new Array<number>(2 * n + 1).fill(0), count = new Array<number>(2 * n + 1).fill(0);
  for (const q of all) { const k = Math.floor(q.s) + n, f = q.s + n - k; for (const [i, w] of [[k, 1 - f], [k + 1, f]]) if (w > 0 && i >= 0 && i <= 2 * n) { sum[i] += w * q.v; count[i] += w; } }
  const light = sum.map((x, k) => count[k] ? x / count[k] : NaN), known = light.filter(x => !Number.isNaN(x)), sign = Math.sign(light[n + 2] - light[n - 2]) || 1;
  const back = 0.12 * (Math.max(...known) - Math.min(...known));
  const side = (d: 1 | -1): number => {
    let top = sign * d * light[n], at = 0;
    for (let k = 1; k <= n; k++) {
      const here = sign * d * light[n + k * d];
      if (Number.isNaN(here)) return Math.min(most, k - 1);
      if (here > top) { top = here; at = k; } else if (top - here > back) return Math.min(most, at + 0.5);
    }
    return most;
  };
  return [side(-1), side(1)];
}

/** The straight line, or the arc, along which light steps most, nearest to the line drawn: all are tried, a pixel apart. */
function start(parts: readonly Sample[][], centre: (k: number) => number, length: number, round: boolean, reach: number): number[] | null {
  const n = Math.ceil(reach) + 2, steps = parts.map(list => {
    const sum = new Array<number>(2 * n + 3).fill(0), count = new Array<number>(2 * n + 3).fill(0);
    for (const q of list) { const k = Math.floor(q.s + n + 1), f = q.s + n + 1 - k; for (const [i, w] of [[k, 1 - f], [k + 1, f]]) if (i >= 0 && i < sum.length) { sum[i] += w * q.v; count[i] += w; } }
    const light = sum.map((x, i) => count[i] > 0.2 ? x / count[i] : NaN);
    return light.map((_, i) => { const d = (light[i + 1] - light[i - 1]) / 2; return Number.isFinite(d) ? d : 0; });
  });
  const most = Math.max(1, Math.ceil(reach)), bends = round ? Math.min(12, Math.ceil(length / 6)) : 0;
  let best: number[] | null = null, high = 0;
  for (let b = -bends; b <= bends; b++) for (let e = -most; e <= most; e++) for (let o = -most; o <= most; o++) {
    // o across at the middle, e more at the end, b the height of the arc over its chord
    const curve = [o, 2 * e / length, -4 * b / (length * length)];
    let sum = 0;
    for (let k = 0; k < steps.length; k++) { const s = value(curve, centre(k)) + n + 1, i = Math.floor(s), f = s - i; if (i >= 0 && i + 1 < steps[k].length) sum += (1 - f) * steps[k][i] + f * steps[k][i + 1]; }
    const score = Math.abs(sum) * Math.exp(-(o * o + e * e / 4) / (reach * reach / 2) - b * b / 400);
    if (score > high + 1e-12) { high = score; best = curve; }
  }
  return best;
}
