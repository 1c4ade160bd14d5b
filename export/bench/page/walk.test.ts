import assert from 'node:assert/strict';
import { test } from 'node:test';
import { boxSkin, roundSkin, skinOf } from './sampleskins.ts';
import { hold, locate, outOf, refine } from './skin.ts';
import { distance, type Vec } from './vec.ts';
import { angleOf, carry, frameAt, walk } from './walk.ts';

const close = (a: Vec, b: Vec, within: number) => assert.ok(distance(a, b) <= within, `${a} is ${distance(a, b)} from ${b}`);

test('on a cylinder a straight line is a helix', () => {
  const m = refine(roundSkin([0, 50, 100], () => 20));
  const start = locate(m, 'right', 50, 0)!;
  for (const turns of [0, 0.4, 1, 2, 3, 4.7]) {
    const got = walk(m, start, [Math.cos(turns), 0, Math.sin(turns)], 30).point;
    const arc = 30 * Math.sin(turns) / 20; // an angle of the circle: arc by radius
    close(got, [50 + 30 * Math.cos(turns), 20 * Math.cos(arc), 20 * Math.sin(arc)], 0.03);
  }
});

test('on a cone a straight line is one of its sector', () => {
  // the cone z2 + y2 = (x tan a)2 unrolls to a sector: an angle p round it is p sin a there
  const a = 0.2, m = refine(roundSkin([40, 200], x => x * Math.tan(a)));
  const start = locate(m, 'right', 100, 0)!, slant = 100 / Math.cos(a);
  for (const [along, round] of [[12, 9], [-15, 6], [3, -18]]) {
    const far = Math.hypot(along, round);
    const got = walk(m, start, [along * Math.cos(a), along * Math.sin(a), round], far).point;
    const s = Math.hypot(slant + along, round), p = Math.atan2(round, slant + along) / Math.sin(a);
    close(got, [s * Math.cos(a), s * Math.sin(a) * Math.cos(p), s * Math.sin(a) * Math.sin(p)], 0.03);
  }
});

test('over the corner of a box distances are kept', () => {
  const m = refine(boxSkin(10, 60));
  const start = locate(m, 'right', 30, 6)!;
  // 4 in up to the corner, then 5 in along the top: 12 in aft on the way
  close(walk(m, start, [12, 0, 9], 15).point, [42, 5, 10], 1e-9);
  // over the crown to the left side
  close(walk(m, start, [0, 0, 1], 4 + 20 + 3).point, [30, -10, 7], 1e-9);
});

test('past the border it goes on in the plane and says so', () => {
  const m = refine(boxSkin(10, 60));
  const end = walk(m, locate(m, 'left', 55, 0)!, [1, 0, 0], 12);
  assert.ok(end.off);
  close(end.point, [67, -10, 0], 1e-9);
});

test('both sides are outward and upright drawings read left to right from outside', () => {
  const m = refine(roundSkin([0, 100], () => 20));
  for (const [sight, y, aft] of [['right', 1, -1], ['left', -1, 1]] as const) {
    const at = locate(m, sight, 40, 5)!;
    assert.ok(outOf(m, at.triangle)[1] * y > 0.9);
    const f = frameAt(m, at, 'level');
    assert.ok(f.right[0] * aft > 0.99, `${sight}: ${f.right}`); // nose left on the left side: reading goes aft
    assert.ok(f.up[2] > 0.9);
    const turned = frameAt(m, at, 'level', 0.3);
    assert.ok(Math.abs(angleOf(m, at, 'level', turned) - 0.3) < 1e-9);
  }
});

test('an R is carried the right way round, on both sides', () => {
  const m = refine(roundSkin([0, 100], () => 400));
  for (const [sight, aft] of [['left', 1], ['right', -1]] as const) {
    const at = locate(m, sight, 50, 0)!;
    const [foot] = carry(m, at, frameAt(m, at, 'level'), [[3, -4]]);
    assert.ok(Math.abs(foot[0] - (50 + 3 * aft)) < 0.01 && Math.abs(foot[2] + 4) < 0.01, `${foot}`);
  }
});

test('a curved skin is refined by cubics: a sphere sent with 13 rows', () => {
  const at = Array.from({ length: 13 }, (_, i) => i);
  const points = at.flatMap(i => at.map((j): Vec => {
    const x = -20 + 40 * i / 12, r = Math.sqrt(50 * 50 - x * x), p = Math.PI * j / 12;
    return [x, r * Math.sin(p), r * Math.cos(p)];
  }));
  const m = refine(skinOf(at.map(i => -20 + 40 * i / 12), at, points), 2);
  for (let i = 0; i < m.points.length; i += 3) {
    const r = Math.hypot(m.points[i], m.points[i + 1], m.points[i + 2]);
    assert.ok(Math.abs(r - 50) < 0.06, `${r}`);
  }
  const top = hold(m, [0, 0, 50]);
  assert.ok(outOf(m, top.triangle)[2] > 0.99);
});
