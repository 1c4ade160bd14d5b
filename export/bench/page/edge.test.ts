// Edges fitted to pictures that are drawn here: the share of a half plane or a disc under a
// blur, gathered on 4 by 4 points of every pixel, stored by the curve of sRGB in 8 bits with grain.
// SciPy's blur and SciPy's fit of other pictures: .ci/outside/edges.py, whose file stands in MASKLOFT_EDGES.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import { test } from 'node:test';
import { fitEdge, leastLine, lightOf, normalOf, student95, type Edge, type Light } from './edge.ts';
import { normal, share } from './edgeshape.ts';

type Pixel = [number, number];
/** Numbers from 0 to 1 that are the same at every run (Park and Miller's minimal standard). */
const dice = (seed: number) => { let x = seed; return () => (x = x * 48271 % 2147483647) / 2147483647; };
const gauss = (r: () => number) => Math.sqrt(-2 * Math.log(r())) * Math.cos(2 * Math.PI * r());
const encode = (l: number) => l <= 0.0031308 ? 12.92 * l : 1.055 * l ** (1 / 2.4) - 0.055;

/** A picture whose light is `of` a point of the plane, and one value of grain a pixel in stored values. */
function drawn(width: number, height: number, of: (x: number, y: number) => number, grain: () => number): Light {
  const light = new Float64Array(width * height), stored = new Float64Array(width * height), fine = 4;
  for (let j = 0; j < height; j++) for (let i = 0; i < width; i++) {
    let sum = 0;
    for (let b = 0; b < fine; b++) for (let a = 0; a < fine; a++) sum += of(i - 0.5 + (a + 0.5) / fine, j - 0.5 + (b + 0.5) / fine);
    const v = Math.max(0, Math.min(255, Math.round(255 * encode(sum / fine ** 2) + grain()))) / 255;
    stored[j * width + i] = v; light[j * width + i] = lightOf(v);
  }
  return { x0: 0, y0: 0, width, height, light, stored };
}
/** By how much a place lies off a fitted edge, along its normal. */
const offBy = (e: Edge, p: Pixel): number => { const n = normalOf(e.along); return (p[0] - e.at[0]) * n[0] + (p[1] - e.at[1]) * n[1]; };
const fitted = (picture: Light, a: Pixel, b: Pixel, round = false, reach = 8): Edge => { const f = fitEdge(picture, a, b, round, reach); assert.ok(f.ok, f.ok ? '' : `${f.why}: ${a} to ${b}`); return f.edge; };

test('the normal distribution, Student\'s t and the curve of sRGB are those of the tables', () => {
  for (const [x, p] of [[0, 0.5], [1, 0.8413447], [-2, 0.0227501], [3, 0.9986501]]) assert.ok(Math.abs(normal(x) - p) < 1e-7, `${x}`); // Abramowitz and Stegun, table 26.1
  for (const [v, t] of [[3, 3.182], [5, 2.571], [10, 2.228], [30, 2.042]]) assert.ok(Math.abs(student95(v) - t) < 0.025, `${v}: ${student95(v)}`); // table 26.10
  assert.ok(Math.abs(lightOf(0.5) - 0.2140) < 1e-4); // IEC 61966-2-1
  for (const [s, b] of [[0.3, 0.5], [-1.2, 2], [0, 0.15]]) { // the slopes by differences
    const [, ds, db] = share(s, b), h = 1e-4;
    assert.ok(Math.abs((share(s + h, b)[0] - share(s - h, b)[0]) / (2 * h) - ds) < 2e-3);
    assert.ok(Math.abs((share(s, b + h)[0] - share(s, b - h)[0]) / (2 * h) - db) < 2e-3);
  }
});

test('without grain a straight edge is found to 0.03 px at every slant, place and blur', () => {
  const r = dice(1);
  let worst = 0;
  for (let n = 0; n < 120; n++) {
    const angle = n % 8 === 0 ? 0 : 2 * Math.PI * r(), blur = [0.2, 0.5, 1, 2.5][n % 4], at: Pixel = [40 + r(), 40 + r()], u: Pixel = [Math.cos(angle), Math.sin(angle)], o = normalOf(u), low = 0.05 + 0.3 * r(), high = low + 0.2 + 0.4 * r();
    const p = drawn(80, 80, (x, y) => low + (high - low) * normal(((x - at[0]) * o[0] + (y - at[1]) * o[1]) / blur), () => 0), aside = 4 * r() - 2, skew = 0.1 * (r() - 0.5);
    const end = (t: number): Pixel => [at[0] + t * u[0] + (aside + skew * t) * o[0], at[1] + t * u[1] + (aside + skew * t) * o[1]];
    const e = fitted(p, end(-22), end(22));
    worst = Math.max(worst, Math.abs(offBy(e, at)));
    assert.ok(Math.abs(Math.asin(e.along[0] * u[1] - e.along[1] * u[0])) < 0.002, `turned at ${n}`);
    if (blur >= 0.5) assert.ok(Math.abs(e.blur - blur) < 0.1 * blur + 0.05, `blur ${e.blur} for ${blur}`);
  }
  assert.ok(worst < 0.03, `${worst} px`);
});

test('in grain a straight edge is within 0.1 px in 995 of 1000, and its plus or minus holds 93 to 97 of 100', () => {
  const r = dice(2), trials = 700;
  let held = 0, heldTurn = 0, far = 0, sharp = 0;
  for (let n = 0; n < trials; n++) {
    const angle = 2 * Math.PI * r(), blur = 0.4 + 1.4 * r(), half = 10 + 16 * r(), at: Pixel = [40 + r(), 40 + r()], u: Pixel = [Math.cos(angle), Math.sin(angle)], o = normalOf(u), low = 0.1 + 0.3 * r(), high = low + 0.2 + 0.3 * r(), grain = 1 + 4 * r();
    const p = drawn(80, 80, (x, y) => low + (high - low) * normal(((x - at[0]) * o[0] + (y - at[1]) * o[1]) / blur), () => grain * gauss(r)), aside = 3 * r() - 1.5;
    const e = fitted(p, [at[0] - half * u[0] + aside * o[0], at[1] - half * u[1] + aside * o[1]], [at[0] + half * u[0] + aside * o[0], at[1] + half * u[1] + aside * o[1]]);
    const off = offBy(e, at);
    if (Math.abs(off) <= 1.96 * e.off) held++;
    if (Math.abs(Math.asin(e.along[0] * u[1] - e.along[1] * u[0])) <= 1.96 * e.turn) heldTurn++;
    if (1.96 * e.off < 0.1) { sharp++; if (Math.abs(off) > 0.1) far++; }
  }
  assert.ok(sharp > 0.85 * trials, `${sharp} of ${trials} to 0.1 px`);
  assert.ok(far <= 0.005 * trials, `${far} of ${sharp} off by more than 0.1 px`);
  for (const [name, n] of [['place', held], ['direction', heldTurn]] as const) assert.ok(n >= 0.93 * trials && n <= 0.97 * trials, `${name}: ${(100 * n / trials).toFixed(1)} % are held`);
});

test('grain that goes together over three pixels, and an edge brushed by hand, are in the plus or minus', () => {
  const r = dice(3), trials = 200;
  for (const kind of ['grain', 'brushed'] as const) {
    let held = 0;
    for (let n = 0; n < trials; n++) {
      const w = 80, raw = Float64Array.from({ length: w * w }, () => gauss(r)), at: Pixel = [40 + r(), 40 + r()], waves = [0, 1, 2, 3, 4, 5].map(() => [0.1 * gauss(r), 1 + 1.2 * r(), 2 * Math.PI * r()]);
      let k = 0;
      // the mean of 3 by 3 values: grain as large as it is in an enlargement
      const coarse = () => { const i = k % w, j = Math.floor(k++ / w); let sum = 0; for (let b = -1; b <= 1; b++) for (let a = -1; a <= 1; a++) sum += raw[(j + b + w) % w * w + (i + a + w) % w]; return 4 * sum / 3; };
      const rough = (x: number) => kind === 'brushed' ? waves.reduce((sum, [h, f, p]) => sum + h * Math.sin(f * x + p), 0) : 0;
      const p = drawn(w, w, (x, y) => 0.1 + 0.5 * normal((y - at[1] - rough(x)) / 0.9), kind === 'grain' ? coarse : () => 2 * gauss(r));
      const e = fitted(p, [12, at[1] + 1], [68, at[1] - 1]);
      if (Math.abs(offBy(e, at)) <= 1.96 * e.off) held++;
    }
    assert.ok(held >= 0.92 * trials, `${kind}: ${(100 * held / trials).toFixed(1)} % are held`);
  }
});

test('the edge of a disc: its place, its bend, and what a straight line says of it', () => {
  const r = dice(4), trials = 340;
  let held = 0, worst = 0;
  for (let n = 0; n < trials; n++) {
    const radius = 40 + 80 * r(), angle = 2 * Math.PI * r(), centre: Pixel = [40 - radius * Math.cos(angle), 40 - radius * Math.sin(angle)], clean = n < 40;
    const p = drawn(80, 80, (x, y) => 0.6 - 0.5 * normal((radius - Math.hypot(x - centre[0], y - centre[1])) / 0.8), () => clean ? 0 : 3 * gauss(r)), out: Pixel = [Math.cos(angle), Math.sin(angle)], u: Pixel = [-out[1], out[0]], half = 16;
    const e = fitted(p, [40 - half * u[0] - 2 * out[0], 40 - half * u[1] - 2 * out[1]], [40 + half * u[0] - 2 * out[0], 40 + half * u[1] - 2 * out[1]], true);
    const off = Math.hypot(e.at[0] - centre[0], e.at[1] - centre[1]) - radius;
    if (clean) { worst = Math.max(worst, Math.abs(off)); assert.ok(Math.abs(2 * Math.abs(e.bend) * radius - 1) < 0.12, `bend ${e.bend} for radius ${radius}`); } else if (Math.abs(off) <= 1.96 * e.off) held++;
    if (n < 5) { const straight = fitted(p, [40 - half * u[0], 40 - half * u[1]], [40 + half * u[0], 40 + half * u[1]]); assert.ok(Math.abs(straight.curved - half * half / (2 * radius)) < 0.35 * half * half / (2 * radius), `${straight.curved}`); }
  }
  assert.ok(worst < 0.05, `${worst} px`);
  assert.ok(held >= 0.93 * 300 && held <= 0.97 * 300, `${(100 * held / 300).toFixed(1)} % are held`);
});

test('of two edges of a stroke that one is taken along which the line was drawn, and both give its width', () => {
  const r = dice(5);
  for (const width of [5, 7, 12]) for (let n = 0; n < 10; n++) {
    const y0 = 38 + r(), p = drawn(90, 90, (_, y) => 0.7 - 0.6 * (normal((y - y0) / 0.7) - normal((y - y0 - width) / 0.7)), () => 2 * gauss(r));
    const top = fitted(p, [20, y0 - 1], [70, y0 - 1.2], false, 8), bottom = fitted(p, [20, y0 + width + 1], [70, y0 + width + 0.8], false, 8);
    assert.ok(Math.abs(offBy(top, [45, y0])) < 0.1 && Math.abs(offBy(bottom, [45, y0 + width])) < 0.1, `${width}: ${offBy(top, [45, y0])} ${offBy(bottom, [45, y0 + width])}`);
  }
});

test('a rivet on the edge is left out and told', () => {
  const r = dice(6), p = drawn(90, 90, (x, y) => (x - 50) ** 2 + (y - 41) ** 2 < 20 ? 0.9 : 0.1 + 0.5 * normal((y - 40.3) / 0.8), () => 2 * gauss(r)), e = fitted(p, [15, 40], [75, 41]);
  assert.ok(e.leftOut >= 1 && Math.abs(offBy(e, [45, 40.3])) < 0.1, `${e.leftOut} left out, off by ${offBy(e, [45, 40.3])}`);
});

test('what is no edge is refused in words', () => {
  const r = dice(7), flat = drawn(80, 80, () => 0.4, () => 3 * gauss(r));
  let taken = 0;
  for (let n = 0; n < 60; n++) { const f = fitEdge(flat, [20, 15 + n / 2], [60, 25 + n / 2], false, 8); if (f.ok) taken++; else assert.match(f.why, /edge|picture/); }
  assert.equal(taken, 0, 'grain alone');
  const short = fitEdge(flat, [20, 20], [20 + leastLine - 1, 20], false, 8);
  assert.ok(!short.ok && /draw it along the edge/.test(short.why));
  const out = fitEdge(flat, [-60, -20], [-20, -20], false, 8);
  assert.ok(!out.ok);
});

test('how far an edge moves where stored values are taken for light: towards the dark side', () => {
  const p = drawn(80, 80, (_, y) => 0.03 + 0.8 * normal((y - 40) / 1), () => 0), e = fitted(p, [15, 40], [65, 40]);
  // stored values are midway at light lightOf((encode(0.03) + encode(0.83)) / 2), a normal quantile of the step, of a blur with a pixel's own width in it
  const middle = lightOf((encode(0.03) + encode(0.83)) / 2), quantile = [...Array(4000).keys()].map(k => -2 + k / 1000).find(x => 0.03 + 0.8 * normal(x / Math.hypot(1, 1 / Math.sqrt(12))) > middle)!;
  assert.ok(Math.abs(e.tone * normalOf(e.along)[1] - quantile) < 0.25 * Math.abs(quantile), `${e.tone} for ${quantile}`);
});

const file = process.env.MASKLOFT_EDGES;
test('SciPy\'s pictures and SciPy\'s fits', { skip: file ? false : 'MASKLOFT_EDGES names no file' }, () => {
  interface Case { jpeg: boolean; width: number; height: number; stored: number[]; from: Pixel; to: Pixel; at: Pixel; fit: Pixel; fitOff: number }
  let held = 0, apart = 0, plain = 0;
  const cases = JSON.parse(fs.readFileSync(file!, 'utf8')) as Case[];
  for (const c of cases) {
    const stored = c.stored.map(v => v / 255), e = fitted({ x0: 0, y0: 0, width: c.width, height: c.height, light: stored.map(lightOf), stored }, c.from, c.to);
    assert.ok(Math.abs(offBy(e, c.at)) < 0.1, `${offBy(e, c.at)} px off${c.jpeg ? ', as JPEG' : ''}`);
    if (c.jpeg) continue;
    plain++;
    if (Math.abs(offBy(e, c.at)) <= 1.96 * e.off) held++;
    apart = Math.max(apart, Math.abs(offBy(e, c.fit)) / (0.02 + 2 * c.fitOff));
  }
  assert.ok(plain >= 100 && apart < 1, `${apart} of what the plus or minus of SciPy's fit allows`);
  assert.ok(held >= 0.88 * plain, `${held} of ${plain}`);
});
