// A picture in the sky covers nothing of what is drawn.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { roomFor, type Sky } from './room.ts';

const sky = (rings: number[][][], taken: [number, number, number, number][] = []): Sky => ({ x: 0, y: 0, width: 400, height: 300, rings, taken });

test('it stands nearest to the place asked for, clear of bodies and of what is taken', () => {
  const body = [[0, 150], [400, 150], [400, 300], [0, 300]];
  const at = roomFor([sky([body])], 100, 60, [200, 150])!;
  assert.deepEqual([at.width, at.height], [100, 60]);
  assert.ok(at.y + at.height <= 150 && at.y + at.height > 150 - 13, 'just above the body');
  const moved = roomFor([sky([body], [[0, 0, 400, 60]])], 100, 60, [200, 0])!;
  assert.ok(moved.y >= 60);
});

test('where there is little room it is smaller, where there is none there is none', () => {
  const low = roomFor([sky([[[0, 70], [400, 70], [400, 300], [0, 300]]])], 100, 90, [0, 0])!;
  assert.deepEqual([low.width, low.height], [60, 54]);
  assert.equal(roomFor([sky([[[0, 0], [400, 0], [400, 300], [0, 300]]])], 100, 60, [0, 0]), null);
});
