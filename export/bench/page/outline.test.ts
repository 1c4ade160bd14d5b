import assert from 'node:assert/strict';
import { test } from 'node:test';
import { nearest } from './clear.ts';
import { inside, rings, ringsWithin } from './outline.ts';
import { choose, lineCandidates, stationCandidates, wholeCandidate } from './snap.ts';

// a circle of radius 10 in four cubics, k = 4/3 (sqrt 2 - 1): within 0.0273 % of the radius
const k = 10 * 0.5522847498;
const circle = `M10 0C10 ${k} ${k} 10 0 10C${-k} 10-10 ${k}-10 0C-10 ${-k} ${-k}-10 0-10C${k}-10 10 ${-k} 10 0Z`;

test('a circle of cubics keeps its radius and its area', () => {
  const [ring] = rings(circle, 0.005);
  let area = 0;
  ring.forEach(([x, y], i) => {
    assert.ok(Math.abs(Math.hypot(x, y) - 10) < 0.003);
    const [u, v] = ring[(i + 1) % ring.length];
    area += (x * v - u * y) / 2;
  });
  assert.ok(Math.abs(area - Math.PI * 100) < 0.4, `${area}`);
});

test('long straight runs are cut, and rings close once', () => {
  const [square] = rings('M0 0L9 0 9 9 0 9Z', 0.01, 3);
  assert.equal(square.length, 12);
  assert.ok(ringsWithin([circle, circle], 60).flat(2).length <= 80);
});

test('a point in a region with a hole', () => {
  const region = rings('M-5-5L5-5 5 5-5 5ZM-2-2L-2 2 2 2 2-2Z');
  assert.equal(inside(region, 0, 0), false);
  assert.equal(inside(region, 3, 3), true);
  assert.equal(inside(region, 6, 0), false);
});

test('clearance of a square from a ring: a corner to a circle, less its half width', () => {
  const paint = [[[0, 0, 0], [4, 0, 0], [4, 0, 4], [0, 0, 4]] as [number, number, number][]];
  const near = nearest(paint, [[7, 0, 8]], false, 2, 20)!; // 3-4-5: 5 in to the middle
  assert.ok(Math.abs(near.distance - 3) < 1e-12);
  assert.deepEqual(near.from, [4, 0, 4]);
  assert.equal(nearest(paint, [[40, 0, 0]], false, 0, 12), null);
});

test('what a marking is drawn to: the nearest, then the order of reasons', () => {
  const lines = lineCandidates([{ name: 'S3', height: 60 }, { name: 'S5', height: 50 }]);
  assert.equal(choose(lines, 'height', 55.1, 0.5)?.why, 'midway S3 S5');
  assert.equal(choose(lines, 'height', 57, 0.5), null);
  const all = [...lines, ...stationCandidates([120.2]), wholeCandidate('height', 55.1, 'in'), wholeCandidate('fs', 120.1, 'in')];
  assert.equal(choose(all, 'height', 55.1, 0.5)?.why, 'midway S3 S5');
  assert.equal(choose(all, 'fs', 120.05, 0.5)?.why, 'station 120.2');
  assert.equal(choose([wholeCandidate('fs', 120.1, 'in')], 'fs', 120.1, 0.5)?.at, 120);
});
