import assert from 'node:assert/strict';
import { test } from 'node:test';
import { normalOf, type Edge } from './edge.ts';
import { apart, crossing } from './edgepair.ts';

type Pixel = [number, number];
const edge = (at: Pixel, degrees: number, round = false, off = 0.1, turn = 0.002): Edge => ({ at, along: [Math.cos(degrees * Math.PI / 180), Math.sin(degrees * Math.PI / 180)], off, turn, bend: 0, bendOff: 0, round, half: 20, blur: 1, contrast: 0.5, noise: 0.01, stretches: 10, leftOut: 0, curved: 0, tone: 0 });
const dice = (seed: number) => { let x = seed; return () => (x = x * 48271 % 2147483647) / 2147483647; };
const gauss = (r: () => number) => Math.sqrt(-2 * Math.log(r())) * Math.cos(2 * Math.PI * r());
const shaken = (e: Edge, r: () => number): Edge => { const n = normalOf(e.along), by = e.off * gauss(r), a = Math.atan2(e.along[1], e.along[0]) + e.turn * gauss(r); return { ...e, at: [e.at[0] + by * n[0], e.at[1] + by * n[1]], along: [Math.cos(a), Math.sin(a)] }; };

test('a level and an upright edge cross where they stand', () => {
  const c = crossing(edge([10, 30], 0), edge([55, 80], 90))!;
  assert.ok(Math.hypot(c.at[0] - 55, c.at[1] - 30) < 1e-9);
  // each moves it by itself: off, and its turn at 45 or 50 px
  assert.ok(Math.abs(c.off - Math.hypot(0.1, 50 * 0.002)) < 1e-9, `${c.off}`);
  assert.equal(crossing(edge([0, 0], 0), edge([0, 9], 15)), null);
  assert.equal(crossing(edge([0, 0], 0), edge([0, 9], 80, true)), null);
});

test('a crossing and a width scatter as they say', () => {
  const r = dice(8), a = edge([10, 30], 10), b = edge([40, 70], 65), c = crossing(a, b)!, p = edge([10, 30], 10), q = edge([14, 60], 190), w = apart(p, q)!;
  let xx = 0, yy = 0, xy = 0, ww = 0;
  const n = 4000;
  for (let i = 0; i < n; i++) {
    const d = crossing(shaken(a, r), shaken(b, r))!.at, x = d[0] - c.at[0], y = d[1] - c.at[1];
    xx += x * x / n; yy += y * y / n; xy += x * y / n;
    ww += (apart(shaken(p, r), shaken(q, r))!.pixels - w.pixels) ** 2 / n;
  }
  const most = Math.sqrt((xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy));
  assert.ok(Math.abs(c.off / most - 1) < 0.05, `${c.off} for ${most}`);
  assert.ok(Math.abs(w.off / Math.sqrt(ww) - 1) < 0.05, `${w.off} for ${Math.sqrt(ww)}`);
});

test('the distance of parallel lines drawn aside from each other, and the diameter of a circle touched out of opposite', () => {
  const angle = 20 * Math.PI / 180, n: Pixel = [-Math.sin(angle), Math.cos(angle)], u: Pixel = [Math.cos(angle), Math.sin(angle)];
  for (const aside of [-10, 0, 15]) assert.ok(Math.abs(apart(edge([5, 5], 20), edge([5 + 40 * n[0] + aside * u[0], 5 + 40 * n[1] + aside * u[1]], 200))!.pixels - 40) < 1e-9);
  for (const off of [-12, 0, 8]) {
    const at = (d: number): Edge => edge([100 + 60 * Math.cos(d * Math.PI / 180), 100 + 60 * Math.sin(d * Math.PI / 180)], d + 90, true);
    const got = apart(at(33), at(213 + off))!;
    assert.ok(Math.abs(got.pixels - 120) < 1e-9 && Math.abs(got.askew - Math.abs(off) * Math.PI / 180) < 1e-9, `${got.pixels}`);
  }
  assert.equal(apart(edge([0, 0], 0), edge([0, 9], 60)), null);
  assert.equal(apart(edge([0, 0], 0), edge([0, 9], 0, true)), null);
});
