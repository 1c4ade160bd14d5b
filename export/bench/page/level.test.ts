import assert from 'node:assert/strict';
import { test } from 'node:test';
import { carryLevel } from './level.ts';
import { roundSkin } from './sampleskins.ts';
import { locate, refine } from './skin.ts';
import { distance, type Point, type Vec } from './vec.ts';
import { carry, frameAt } from './walk.ts';

test('on a cylinder the waterline is straight: both ways of carrying agree', () => {
  const m = refine(roundSkin([0, 50, 100], () => 20)), at = locate(m, 'left', 50, 8)!, f = frameAt(m, at, 'level');
  const points: Point[] = [[12, 3], [-15, -4], [0, 6], [20, 0]];
  const straight = carry(m, at, f, points);
  carryLevel(m, at, f, points).forEach((p, i) => assert.ok(distance(p, straight[i]) < 0.03, `${points[i]}: ${distance(p, straight[i])}`));
});

test('on a cone it is the hyperbola of the level plane, by its length, and square to it in the sector', () => {
  // the cone z2 + y2 = (x tan a)2 unrolls to a sector: slant s = x / cos a, an angle p round it is p sin a there
  const a = 0.25, z0 = 14, tan = Math.tan(a), m = refine(roundSkin(Array.from({ length: 33 }, (_, i) => 60 + 5 * i), x => x * tan), 1);
  const on = (x: number): Vec => [x, Math.sqrt((x * tan) ** 2 - z0 * z0), z0];
  const sector = (p: Vec): Point => { const s = Math.hypot(...p), q = Math.atan2(p[2], p[1]) * Math.sin(a); return [s * Math.cos(q), s * Math.sin(q)]; };
  const skin = ([u, v]: Point): Vec => { const s = Math.hypot(u, v), q = Math.atan2(v, u) / Math.sin(a); return [s * Math.cos(a), s * Math.sin(a) * Math.cos(q), s * Math.sin(a) * Math.sin(q)]; };
  // on the right side reading goes forward: x of the drawing is minus the station
  const wanted = (x: number, y: number): Vec => {
    let at = 100, left = Math.abs(x);
    const h = 1e-3 * -Math.sign(x || 1);
    while (left > 0) { const step = distance(on(at), on(at + h)); if (step > left) { at += h * left / step; break; } left -= step; at += h; }
    const p = sector(on(at)), q = sector(on(at - 1e-4)), d = [(q[0] - p[0]), (q[1] - p[1])], l = Math.hypot(...d);
    return skin([p[0] + d[1] / l * y, p[1] - d[0] / l * y]); // forward is towards the apex: up is the sector's v
  };
  const at = locate(m, 'right', 100, z0)!, f = frameAt(m, at, 'level');
  const points: Point[] = [[24, 0], [-30, 0], [24, 5], [-30, 5], [24, -5], [0, 6]];
  const got = carryLevel(m, at, f, points), straight = carry(m, at, f, points);
  points.forEach((p, i) => assert.ok(distance(got[i], wanted(...p)) < 0.05, `${p}: ${got[i]} for ${wanted(...p)}`));
  assert.ok(distance(straight[1], wanted(-30, 0)) > 0.15, `a straight line leaves it: ${distance(straight[1], wanted(-30, 0))}`);
});
